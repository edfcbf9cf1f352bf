// The sums are those of engine/trend/advice; here stand what it costs and what may be offered at all.

#include "drills/palate_next.hpp"

#include "drills/plans.hpp"
#include "drills/programme.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace sipladder::drills {

namespace {

constexpr double ms_a_week = 7.0 * 24.0 * 3600.0 * 1000.0;
constexpr std::array<std::size_t, 5> counts{12, 10, 9, 8, 6};  // below it a threshold tells little

/// One drill that could be done next, with what it costs.
struct Candidate {
    NextDrill next;
    trend::Standing standing;
    safety::Intake worst;
};

/// The shipped first ladder, narrower than usual where a cap wants it so.
std::optional<solution::Ladder> first_ladder(const content::Content& content, const std::string& substance) {
    for (const solution::Ladder& ladder : content.ladders)
        if (ladder.id() == substance + "_first") return ladder;
    return std::nullopt;
}

/// Around the own estimate, as Prepare sets it; nothing where the strongest rung would be too strong a cup.
std::optional<solution::Ladder> own_ladder(const solution::Substance& substance, double centre) {
    solution::Ladder ladder =
        solution::ladder_around(substance.id + "_mine", substance.id, substance.scale, centre, 5, 2.0);
    if (ladder.targets().back() > substance.strongest_cup) return std::nullopt;
    return ladder;
}

/// Fills in what the drill costs. @return whether any number of presentations fits into a sitting
bool cost(Candidate& one, const solution::Ladder& ladder, const content::Content& content,
          std::span<const std::string> no_ethanol_reasons) {
    for (const std::size_t count : counts) {
        WantedSitting sitting{.name = "next",
                              .drills = {{Kind::detection, Order::adaptive, one.next.blinding, count, {0}}},
                              .ladders = {ladder},
                              .base = one.next.base};
        const std::vector<Plan> plans = plans_of(sitting, content, on_target(sitting));
        if (!problems_of(sitting, content, plans, no_ethanol_reasons).empty()) continue;
        const Budget budget = budget_of(plans);
        one.next.presentations = one.standing.presentations = count;
        one.standing.cups = budget.cups;
        one.standing.minutes = static_cast<double>(budget.minutes);
        one.worst = budget.worst;
        return true;
    }
    return false;
}

std::string intake_text(const safety::Intake& worst) {
    std::string text;
    for (const std::string& amount : safety::amounts(worst))
        text.append(text.empty() ? "" : ", ").append(amount);
    return text.empty() ? text : " At most " + text + ", were all of it swallowed.";
}

/// What has the estimate of a detection threshold, however it was found.
const PalateFit* own_fit(const PalateRow& row) {
    const auto found = std::find_if(row.fits.begin(), row.fits.end(), [](const PalateFit& fit) {
        return fit.name == "detection" || fit.name == "quick look" || fit.name == "nose open";
    });
    return found == row.fits.end() ? nullptr : &*found;
}

std::string capital(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

/// Those that were measured.
std::vector<Candidate> known_ones(const Palate& palate, std::span<const Tasted> done,
                                  const content::Content& content, const Instant& now,
                                  std::span<const std::string> no_ethanol_reasons,
                                  std::span<const record::Goal> goals) {
    std::vector<Candidate> all;
    for (const PalateRow& row : palate.of(PalateQuestion::how_little)) {
        const PalateFit* fit = own_fit(row);
        if (fit == nullptr) continue;
        const Tasted& last = done[fit->drill];
        const Plan& plan = last.state->plan;
        Candidate one;
        one.next.substance = plan.substance.id;
        one.next.base = plan.ladder.base;
        one.next.blinding =
            plan.blinding == Blinding::shuffled_tray ? Blinding::shuffled_tray : Blinding::served;
        one.next.has_own = fit->name == "detection";
        one.standing.name = capital(row.title);
        one.standing.log10 = fit->threshold.log10;
        one.standing.sd_log10 = fit->threshold.sd_log10;
        one.standing.weeks_since =
            std::max(0.0, static_cast<double>(now.utc_ms - last.last.utc_ms) / ms_a_week);
        if (const auto goal = goal_of(goals, plan.substance.id, plan.base_name))
            one.standing.goal_log10 = std::log10(*goal);
        one.standing.width_log10 = fit->threshold.width_log10;
        one.standing.lapse = std::clamp(fit->threshold.lapse, 0.0, 0.5);
        const auto ladder = one.next.has_own ? own_ladder(plan.substance, fit->threshold.value())
                                             : first_ladder(content, plan.substance.id);
        const bool is_base_known =
            std::any_of(content.bases.begin(), content.bases.end(),
                        [&](const solution::Base& base) { return base.id == one.next.base; });
        if (ladder && is_base_known && cost(one, *ladder, content, no_ethanol_reasons))
            all.push_back(std::move(one));
    }
    return all;
}

/// Those that never were, in the base that content names first.
std::vector<Candidate> new_ones(std::span<const Candidate> known, const content::Content& content,
                                std::span<const std::string> no_ethanol_reasons) {
    std::vector<Candidate> all;
    for (const solution::Substance& substance : content.substances) {
        const auto is_same = [&](const Candidate& one) { return one.next.substance == substance.id; };
        if (std::any_of(known.begin(), known.end(), is_same)) continue;
        Candidate one;
        one.next.substance = substance.id;
        one.next.base = known.empty() ? content.bases.front().id : known.front().next.base;
        one.next.blinding = known.empty() ? Blinding::shuffled_tray : known.front().next.blinding;
        one.standing.name = capital(substance.name);
        one.standing.sd_log10 = substance.prior.sd_log10;
        const auto ladder = first_ladder(content, substance.id);
        if (ladder && cost(one, *ladder, content, no_ethanol_reasons)) all.push_back(std::move(one));
    }
    return all;
}

std::string sentence_of(const Candidate& one, const trend::Advice& advice) {
    constexpr double worth_saying = 0.3;
    std::string sentence = advice.words;
    if (advice.stale_share > worth_saying)
        sentence += " " + percent(advice.stale_share) + " of what is uncertain came with the weeks since.";
    return sentence + intake_text(one.worst);
}

}  // namespace

std::optional<double> goal_of(std::span<const record::Goal> goals, const std::string& substance,
                              const std::string& base_name) {
    for (const record::Goal& goal : goals)
        if (goal.substance == substance && goal.base_name == base_name) return goal.value;
    return std::nullopt;
}

std::vector<NextDrill> next_drills(const Palate& palate, std::span<const Tasted> done,
                                   const content::Content& content, const Instant& now,
                                   std::span<const std::string> no_ethanol_reasons,
                                   std::span<const record::Goal> goals) {
    std::vector<Candidate> all = known_ones(palate, done, content, now, no_ethanol_reasons, goals);
    if (all.empty()) return {};
    for (Candidate& one : new_ones(all, content, no_ethanol_reasons)) all.push_back(std::move(one));
    std::vector<trend::Standing> standings;
    standings.reserve(all.size());
    for (const Candidate& one : all) standings.push_back(one.standing);
    // What was never measured is known so little that it would always lead; it has the last place.
    std::vector<NextDrill> next;
    std::optional<NextDrill> newcomer;
    for (const trend::Advice& advice : trend::what_next(standings)) {
        Candidate& one = all[advice.standing];
        one.next.advice = advice;
        one.next.sentence = sentence_of(one, advice);
        if (one.standing.log10 && next.size() < most_next_drills)
            next.push_back(one.next);
        else if (!one.standing.log10 && !newcomer)
            newcomer = one.next;
    }
    if (!newcomer) return next;
    if (next.size() == most_next_drills) next.pop_back();
    next.push_back(*std::move(newcomer));
    return next;
}

}  // namespace sipladder::drills
