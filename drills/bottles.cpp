#include "drills/bottles.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

std::string poured_from(const Plan& plan, std::size_t line, const solution::MixedLevel& level) {
    if (line == 0 || !plan.others[line - 1].same_bottles) return level.bottle;
    return level.bottle.substr(0, level.bottle.size() - plan.others[line - 1].condition.size() - 2);
}

bool is_from(const Plan& plan, std::size_t line, const solution::MixedLadder& mix) {
    const solution::MixedLadder& ladder = ladder_of(plan, line);
    if (ladder.substance != mix.substance || ladder.base != mix.base || ladder.scale != mix.scale)
        return false;
    const double beneath = plan.pedestal && !plan.pedestal->bottle.empty() ? plan.pedestal->mixed : 0.0;
    return std::ranges::all_of(ladder.levels, [&](const solution::MixedLevel& level) {
        const auto same =
            std::ranges::find(mix.levels, poured_from(plan, line, level), &solution::MixedLevel::bottle);
        constexpr double rounding = 1e-9;
        return same != mix.levels.end() &&
               std::abs(same->mixed - level.mixed - beneath) <= rounding * same->mixed;
    });
}

}  // namespace sipladder::drills
