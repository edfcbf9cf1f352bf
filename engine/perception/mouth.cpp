#include "engine/perception/mouth.hpp"

#include "engine/problem.hpp"

#include <map>

namespace sipladder::perception {

double krippendorff_nominal(const std::vector<std::vector<std::optional<int>>>& coders_by_units) {
    if (coders_by_units.empty()) throw Refused("agreement", "has no coders", "two or more");
    std::map<int, double> totals;
    double all = 0.0;
    double disagreeing = 0.0;  // pairs within units, each weighed by 1 over (values of the unit - 1)
    for (std::size_t unit = 0; unit < coders_by_units.front().size(); ++unit) {
        std::map<int, double> values;
        double count = 0.0;
        for (const auto& coder : coders_by_units) {
            if (coder.size() != coders_by_units.front().size())
                throw Refused("agreement", "has rows of unequal length", "one value or gap for every unit");
            if (!coder[unit]) continue;
            values[*coder[unit]] += 1.0;
            count += 1.0;
        }
        if (count < 2.0) continue;
        all += count;
        for (const auto& [value, times] : values) {
            totals[value] += times;
            disagreeing += times * (count - times) / (count - 1.0);
        }
    }
    double expected = 0.0;
    for (const auto& [value, times] : totals) expected += times * (all - times) / (all - 1.0);
    if (!(expected > 0.0))
        throw Refused("agreement", "has only one value, or no unit with two", "something to agree about");
    return 1.0 - disagreeing / expected;
}

double two_alike_of(const std::vector<double>& probabilities) {
    SIPLADDER_EXPECT(!probabilities.empty());
    double sum = 0.0;
    for (const double p : probabilities) sum += p * p + (1.0 - p) * (1.0 - p);
    return sum / static_cast<double>(probabilities.size());
}

Estimate two_alike(const std::vector<Named>& named, const PlacePrior& prior, Seed seed) {
    if (named.empty()) throw Refused("places", "are missing", "at least one");
    for (const Named& one : named)
        if (one.times > one.cups)
            throw Refused("places", "are named more often than there were cups", "once a cup at most");
    constexpr std::size_t draws = 1000;
    Random random{seed};
    std::vector<std::vector<double>> found;
    for (std::size_t d = 0; d < draws; ++d) {
        std::vector<double> probabilities;
        probabilities.reserve(named.size());
        for (const Named& one : named)
            probabilities.push_back(beta_draw(random, prior.yes + static_cast<double>(one.times),
                                              prior.no + static_cast<double>(one.cups - one.times)));
        found.push_back({two_alike_of(probabilities)});
    }
    return equal_draws(std::move(found)).of([](std::span<const double> one) { return one[0]; });
}

}  // namespace sipladder::perception
