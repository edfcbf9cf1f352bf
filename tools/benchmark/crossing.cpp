#include "tools/benchmark/crossing.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace sipladder::benchmark {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double mean_square(std::span<const double> errors) {
    return std::inner_product(errors.begin(), errors.end(), errors.begin(), 0.0) /
           static_cast<double>(errors.size());
}

/// A line through some of the points, and where it reaches a height.
struct Line {
    double mean_x{};
    double slope{};
    double spread{};  // sum of squares of x
    double reaches{};
    std::vector<std::size_t> points;
};

Line line_through(std::span<const double> x, std::span<const double> y, double centre, double height) {
    constexpr double around = 0.3;  // of ln cups: a third less to a third more
    Line line;
    double mean_y = 0.0;
    for (std::size_t k = 0; k < x.size(); ++k)
        if (std::abs(x[k] - centre) < around) line.points.push_back(k);
    const auto count = static_cast<double>(line.points.size());
    for (const std::size_t k : line.points) {
        line.mean_x += x[k] / count;
        mean_y += y[k] / count;
    }
    double products = 0.0;
    for (const std::size_t k : line.points) {
        line.spread += (x[k] - line.mean_x) * (x[k] - line.mean_x);
        products += (x[k] - line.mean_x) * (y[k] - mean_y);
    }
    line.slope = products / line.spread;
    line.reaches = line.mean_x + (height - mean_y) / line.slope;
    return line;
}

}  // namespace

Crossing crossing(const Outcome& outcome, std::span<const std::size_t> checkpoints, double cups_a_checkpoint,
                  double wanted) {
    constexpr std::size_t fewest = 3;  // points of a line that says anything
    std::vector<double> x;
    std::vector<double> y;
    for (std::size_t k = 0; k < checkpoints.size(); ++k) {
        x.push_back(std::log(cups_a_checkpoint * static_cast<double>(checkpoints[k])));
        y.push_back(std::log(mean_square(outcome.errors[k])));
    }
    const double height = 2.0 * std::log(wanted);
    const auto first = std::find_if(y.begin(), y.end(), [&](double value) { return value <= height; });
    if (first == y.end() || first == y.begin()) return {{nan, nan}, {}};
    double centre = x[static_cast<std::size_t>(first - y.begin())];
    Line line;
    for (int turn = 0; turn < 5; ++turn) {  // the band follows the crossing
        line = line_through(x, y, centre, height);
        if (line.points.size() < fewest || !(line.slope < 0.0)) return {{nan, nan}, {}};
        centre = line.reaches;
    }
    Crossing found{{std::exp(line.reaches), 0.0}, std::vector<double>(outcome.errors.front().size(), 0.0)};
    for (const std::size_t k : line.points) {
        const double weight = 1.0 / static_cast<double>(line.points.size()) +
                              (x[k] - line.mean_x) * (line.reaches - line.mean_x) / line.spread;
        const double by_y = -found.cups.value / line.slope * weight;
        const double square = std::exp(y[k]);
        for (std::size_t i = 0; i < found.influence.size(); ++i)
            found.influence[i] += by_y * (outcome.errors[k][i] * outcome.errors[k][i] / square - 1.0);
    }
    found.cups.standard_error = simulate::mean_of(found.influence).standard_error;
    return found;
}

simulate::Figure cups_more(const Crossing& one, const Crossing& other) {
    if (one.influence.empty() || other.influence.empty()) return {nan, nan};
    std::vector<double> differences;
    for (std::size_t i = 0; i < one.influence.size(); ++i)
        differences.push_back(one.influence[i] - other.influence[i]);
    return {one.cups.value - other.cups.value, simulate::mean_of(differences).standard_error};
}

std::vector<std::size_t> every(std::size_t first, std::size_t last, std::size_t step) {
    std::vector<std::size_t> numbers;
    for (std::size_t n = first; n <= last; n += step) numbers.push_back(n);
    return numbers;
}

Goal at_most(std::string what, simulate::Figure measured, double limit) {
    return {std::move(what), "at most " + significant(limit, 3), measured, measured.value <= limit};
}

Goal at_least(std::string what, simulate::Figure measured, double limit) {
    return {std::move(what), "at least " + significant(limit, 3), measured, measured.value >= limit};
}

}  // namespace sipladder::benchmark
