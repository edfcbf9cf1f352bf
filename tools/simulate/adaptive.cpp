#include "tools/simulate/adaptive.hpp"

#include "engine/problem.hpp"

#include <cmath>

namespace sipladder::simulate {

namespace {

constexpr int endless = 1'000'000;

Estimate estimate_of(const threshold::Posterior& posterior) {
    return {posterior.mean(), posterior.quantile(0.025), posterior.quantile(0.975), posterior.sd()};
}

}  // namespace

std::vector<double> centred_ladder(std::size_t rungs, double ratio) {
    std::vector<double> levels;
    const double middle = 0.5 * (static_cast<double>(rungs) - 1.0);
    for (std::size_t i = 0; i < rungs; ++i)
        levels.push_back((static_cast<double>(i) - middle) * std::log10(ratio));
    return levels;
}

Adaptive::Adaptive(threshold::Prior prior, std::vector<double> levels_log10, const threshold::Grid& choosing,
                   const threshold::Grid& reporting)
    : levels_log10_(std::move(levels_log10)),
      choosing_(prior, threshold::three_afc, choosing),
      reporting_(std::move(prior), threshold::three_afc, reporting),
      chooser_(choosing_, levels_log10_),
      report_tables_(reporting_, levels_log10_) {}

Sitting sitting(const Adaptive& method, const Person& person, const SittingRules& rules) {
    SIPLADDER_EXPECT(!rules.checkpoints.empty());
    threshold::Posterior choosing = method.choosing();
    threshold::Posterior reporting = method.reporting();
    std::vector<int> portions = rules.portions;
    if (portions.empty()) portions.assign(method.levels_log10().size(), endless);
    std::vector<std::size_t> served;
    Sitting result;
    std::optional<double> before;
    for (std::size_t number = 0; number < rules.checkpoints.back(); ++number) {
        const auto level = rules.varied ? next_level_varied(choosing, method.chooser(), portions, served)
                                        : next_level(choosing, method.chooser(), portions);
        if (!level) break;
        --portions[*level];
        served.push_back(*level);
        const double x = method.levels_log10()[*level] +
                         (rules.bottle_errors_log10.empty() ? 0.0 : rules.bottle_errors_log10[*level]);
        const Response given = response(person, number, x, before);
        before = x;
        choosing.update(method.chooser().table(*level), given.correct);
        reporting.update(method.report_tables().table(*level), given.correct);
        result.tasted.push_back({*level, person.luck[number].spiked, given.picked, given.correct});
        if (number + 1 == rules.checkpoints[result.estimates.size()])
            result.estimates.push_back(estimate_of(reporting));
        else if (rules.stop_sd > 0.0 && reporting.sd() <= rules.stop_sd)
            break;
    }
    // Stopped, or out of stock: what was found holds for every checkpoint that was not reached.
    while (result.estimates.size() < rules.checkpoints.size())
        result.estimates.push_back(estimate_of(reporting));
    return result;
}

}  // namespace sipladder::simulate
