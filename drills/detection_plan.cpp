#include "drills/detection_plan.hpp"

#include "drills/blinding/served.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace sipladder::drills::detection {

namespace {

constexpr std::size_t most_presentations = 200;  // judgement: nobody's tongue lasts for more in 48 h
constexpr int most_minutes = 2880;               // 48 h: one measurement may span no more
constexpr double largest_cup_mL = 100.0;         // judgement: 10 to 15 mL is usual
constexpr double cup_cap_slack = 1.1;  // judgement: a rung at the cap may come out a little stronger as mixed

class Problems {
  public:
    void want(bool holds, std::string where, std::string what, std::string right) {
        if (!holds) found_.push_back({std::move(where), std::move(what), std::move(right)});
    }
    void refuse_if_any() {
        if (!found_.empty()) throw Refused(std::move(found_));
    }

  private:
    std::vector<Problem> found_;
};

void check_levels(const Plan& plan, Problems& problems) {
    const auto& levels = plan.ladder.levels;
    std::set<std::string> bottles;
    double weaker = 0.0;
    for (std::size_t i = 0; i < levels.size(); ++i) {
        const auto& level = levels[i];
        const std::string where = "level " + std::to_string(i + 1);
        problems.want(std::isfinite(level.mixed) && level.mixed > weaker, where, "is " + exact(level.mixed),
                      "levels are positive and ascend");
        problems.want(level.u_own_rel >= 0.0 && level.u_shared_rel >= 0.0 && std::isfinite(level.u_own_rel) &&
                          std::isfinite(level.u_shared_rel),
                      where, "has no usable uncertainty", "0 or more, relative");
        problems.want(level.portions >= 0, where, "has " + std::to_string(level.portions) + " portions",
                      "0 or more");
        problems.want(!level.bottle.empty() && bottles.insert(level.bottle).second, where,
                      "has the bottle \"" + level.bottle + "\"", "each bottle has a letter of its own");
        problems.want(
            plan.substance.strongest_cup <= 0.0 ||
                level.mixed <= cup_cap_slack * plan.substance.strongest_cup,
            where, "holds " + significant(level.mixed, 3) + " " + unit_text(plan.ladder.scale),
            "a cup of " + plan.substance.name + " holds at most " + exact(plan.substance.strongest_cup));
        weaker = level.mixed;
    }
}

safety::Intake cup_intake(const Plan& plan, std::size_t level) {
    return safety::in_one_cup(
        plan.blank, safety::intake_of_cup(plan.substance, plan.ladder.levels[level].mixed, plan.cup));
}

/// The strongest cups that there are, as many as there are presentations, and the known one.
safety::Intake worst_intake(const Plan& plan, const std::vector<int>& portions) {
    safety::Intake sum = known_clear_intake(plan);
    int left = static_cast<int>(plan.most_presentations);
    for (std::size_t i = portions.size(); i-- > 0;)
        for (int cup = std::min(portions[i], left); cup > 0; --cup, --left)
            sum += presentation_intake(plan, i);
    return sum;
}

}  // namespace

void check_shape(const Plan& plan) {
    Problems problems;
    problems.want(!plan.ladder.levels.empty() && plan.ladder.levels.size() <= 40, "ladder",
                  "has " + std::to_string(plan.ladder.levels.size()) + " levels", "1 to 40");
    check_levels(plan, problems);
    problems.want(plan.ladder.substance == plan.substance.id && plan.ladder.scale == plan.substance.scale,
                  "ladder", "is of " + plan.ladder.substance + " in " + unit_text(plan.ladder.scale),
                  "a ladder of " + plan.substance.id + " in " + unit_text(plan.substance.scale));
    problems.want(plan.most_presentations >= 1 && plan.most_presentations <= most_presentations,
                  "presentations", "are " + std::to_string(plan.most_presentations),
                  "1 to " + std::to_string(most_presentations));
    problems.want(plan.cup.value > 0.0 && plan.cup.value <= largest_cup_mL, "cup",
                  "is " + exact(plan.cup.value) + " mL",
                  "more than 0, up to " + exact(largest_cup_mL) + " mL");
    problems.want(plan.stop_sd_log10 >= 0.0 && std::isfinite(plan.stop_sd_log10), "stop SD",
                  "is " + exact(plan.stop_sd_log10), "0 (never stop early) or more, log10 units");
    problems.want(plan.rest_s >= plan.substance.rest_s && plan.rest_s <= 3600, "rest",
                  "is " + std::to_string(plan.rest_s) + " s",
                  plan.substance.name + " needs at least " + std::to_string(plan.substance.rest_s) + " s");
    problems.want(plan.most_minutes >= 0 && plan.most_minutes <= most_minutes, "time",
                  "is " + std::to_string(plan.most_minutes) + " minutes",
                  "0 (no limit) to " + std::to_string(most_minutes));
    problems.want(plan.rule_version >= 1 && plan.rule_version <= current_rule, "rule version",
                  "is " + std::to_string(plan.rule_version),
                  "this program knows 1 to " + std::to_string(current_rule));
    problems.refuse_if_any();
}

void check_caps(const Plan& plan) {
    const std::vector<int> portions = portions_to_serve(plan);
    if (std::all_of(portions.begin(), portions.end(), [](int left) { return left == 0; }))
        throw Refused("ladder", "has no portions left", "mix some more, or pour smaller cups");
    safety::Intake sitting = plan.taken_this_sitting;
    safety::Intake today = plan.taken_today;
    const safety::Intake worst = worst_intake(plan, portions);
    sitting += worst;
    today += worst;
    if (const auto crossed = safety::crossed(plan.caps, sitting, today))
        throw Refused("caps", crossed->text, "fewer presentations, smaller cups, or another day");
}

std::optional<std::size_t> known_clear(const Plan& plan) {
    constexpr int with_one_to_spare = 2;
    for (std::size_t i = plan.ladder.levels.size(); i-- > 0;)
        if (plan.ladder.levels[i].portions >= with_one_to_spare) return i;
    return std::nullopt;
}

std::vector<int> portions_to_serve(const Plan& plan) {
    const auto& levels = plan.ladder.levels;
    std::size_t most = plan.most_presentations;
    if (plan.blinding == Blinding::served) most = std::min(most, served::most_cards / levels.size());
    const auto known = known_clear(plan);
    std::vector<int> portions;
    for (std::size_t i = 0; i < levels.size(); ++i)
        portions.push_back(std::min(levels[i].portions - (known == i ? 1 : 0), static_cast<int>(most)));
    return portions;
}

safety::Intake known_clear_intake(const Plan& plan) {
    const auto known = known_clear(plan);
    if (!known) return {};
    safety::Intake intake = cup_intake(plan, *known);
    intake += plan.blank;
    return intake;
}

safety::Intake presentation_intake(const Plan& plan, std::size_t level) {
    safety::Intake intake = cup_intake(plan, level);
    for (std::size_t blank = 1; blank < places; ++blank) intake += plan.blank;
    return intake;
}

}  // namespace sipladder::drills::detection
