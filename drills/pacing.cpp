#include "drills/pacing.hpp"

#include "drills/rules.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills::pacing {

namespace {

constexpr int step_s = 5;

bool builds_up(solution::Component component) {
    return component == solution::Component::sour || component == solution::Component::astringent ||
           component == solution::Component::bitter;
}

}  // namespace

std::chrono::seconds rest_for(const Plan& plan, std::size_t level, std::size_t line) {
    if (!rules_of(plan.kind).tastes) return std::chrono::seconds{0};
    const solution::Substance& substance = substance_of(plan, line);
    const double centre = substance.prior.centre;
    if (plan.rest_strong_s <= plan.rest_s || centre <= 0.0 || substance.strongest_cup <= centre)
        return std::chrono::seconds{plan.rest_s};
    const double beneath = plan.pedestal ? plan.pedestal->mixed : 0.0;
    const double held = beneath + ladder_of(plan, line).levels.at(level).mixed;
    const double share =
        std::clamp(std::log(held / centre) / std::log(substance.strongest_cup / centre), 0.0, 1.0);
    const double more = share * (plan.rest_strong_s - plan.rest_s);
    return std::chrono::seconds{plan.rest_s + step_s * static_cast<int>(std::ceil(more / step_s - 1e-9))};
}

std::chrono::seconds rest_after(const Plan& plan, std::size_t level, std::size_t line) {
    if (plan.blinding == Blinding::shuffled_tray) return rest_for(plan, level, line);
    std::chrono::seconds longest{0};
    for (std::size_t of = 0; of < line_count(plan); ++of)
        longest = std::max(longest, rest_for(plan, ladder_of(plan, of).levels.size() - 1, of));
    return longest;
}

std::string why_rest(const Plan& plan) {
    for (std::size_t line = 0; line < line_count(plan); ++line)
        if (builds_up(substance_of(plan, line).component))
            return "Then wait: this feeling builds up from cup to cup.";
    return "Then wait, so that the next cup meets a fresh mouth.";
}

std::optional<std::string> too_old(const Instant& first, const Instant& now) {
    // The monotonic part starts anew with the program, so this goes by the calendar.
    const std::int64_t passed = now.utc_ms - first.utc_ms;
    if (passed <= std::chrono::milliseconds{longest_span}.count()) return std::nullopt;
    return "it began more than " + std::to_string(longest_span.count()) +
           " hours ago; a palate moves from day to day, so what was done is kept as it is";
}

}  // namespace sipladder::drills::pacing
