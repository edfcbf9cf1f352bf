#include "tools/benchmark/joint_entropy.hpp"

#include "engine/threshold/psychometric.hpp"

#include <cmath>
#include <limits>

namespace sipladder::benchmark {

namespace {

double binary_entropy(double p) {
    const double q = 1.0 - p;
    return (p > 0.0 ? -p * std::log(p) : 0.0) + (q > 0.0 ? -q * std::log(q) : 0.0);
}

}  // namespace

std::vector<std::vector<double>> right_probabilities(const JointGrid& grid,
                                                     std::span<const double> levels_log10) {
    std::vector<std::vector<double>> right;
    for (const double x : levels_log10) {
        std::vector<double>& level = right.emplace_back();
        level.reserve(grid.cells.size());
        for (const double theta : grid.thetas)
            for (const double width : grid.widths)
                for (const double lapse : grid.lapses)
                    level.push_back(threshold::right_probability({theta, width, lapse}, {grid.guess}, x));
    }
    return right;
}

std::size_t textbook_choice(const JointGrid& grid, const std::vector<std::vector<double>>& right) {
    std::size_t best = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t level = 0; level < right.size(); ++level) {
        double expected = 0.0;
        for (const bool correct : {true, false}) {
            double total = 0.0;
            for (std::size_t i = 0; i < grid.cells.size(); ++i)
                total += grid.cells[i] * (correct ? right[level][i] : 1.0 - right[level][i]);
            double entropy = 0.0;
            for (std::size_t i = 0; i < grid.cells.size(); ++i) {
                const double posterior =
                    grid.cells[i] * (correct ? right[level][i] : 1.0 - right[level][i]) / total;
                if (posterior > 0.0) entropy -= posterior * std::log(posterior);
            }
            expected += total * entropy;
        }
        constexpr double tie = 1e-12;
        if (expected < least - tie) {
            least = expected;
            best = level;
        }
    }
    return best;
}

JointChooser::JointChooser(const JointGrid& grid, std::span<const double> levels_log10)
    : right_(right_probabilities(grid, levels_log10)) {
    for (const std::vector<double>& level : right_) {
        std::vector<double>& entropy = entropy_.emplace_back();
        for (const double p : level) entropy.push_back(binary_entropy(p));
    }
}

std::size_t JointChooser::choose(std::span<const double> cells) const {
    std::size_t best = 0;
    double most = -1.0;
    for (std::size_t level = 0; level < right_.size(); ++level) {
        double right = 0.0;
        double within = 0.0;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            right += cells[i] * right_[level][i];
            within += cells[i] * entropy_[level][i];
        }
        const double told = binary_entropy(right) - within;
        constexpr double tie = 1e-12;
        if (told > most + tie) {
            most = told;
            best = level;
        }
    }
    return best;
}

void answer(std::vector<double>& cells, const std::vector<double>& right_of_level, bool correct) {
    double total = 0.0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        cells[i] *= correct ? right_of_level[i] : 1.0 - right_of_level[i];
        total += cells[i];
    }
    for (double& cell : cells) cell /= total;
}

}  // namespace sipladder::benchmark
