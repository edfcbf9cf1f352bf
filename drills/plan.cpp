// What follows from a plan alone, before any answer: whether it can be carried out, what it may pour and what
// that adds up to. A plan has one line of bottles or several; nose closed and open draw from the same.

#include "drills/plan.hpp"

#include "drills/beforehand.hpp"
#include "drills/blinding/sealed_key.hpp"
#include "drills/blinding/served.hpp"
#include "drills/recognition.hpp"
#include "drills/rules.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace sipladder::drills {

namespace {

constexpr std::size_t most_presentations = 200;  // judgement: nobody's tongue lasts for more in 48 h
constexpr int most_minutes = 2880;               // 48 h: one measurement may span no more
constexpr double largest_cup_mL = 100.0;         // judgement: 10 to 15 mL is usual
constexpr double cup_cap_slack = 1.1;  // judgement: a rung at the cap may come out a little stronger as mixed

/// What the base of a line gives in one cup.
safety::Intake base_intake(const Plan& plan, std::size_t line) {
    return line > 0 && has_conditions(plan) ? plan.others.at(line - 1).beside : blank_intake(plan);
}

/// What a cup of this level holds in all, on the scale of its substance.
double held_in_cup(const Plan& plan, std::size_t line, std::size_t level) {
    const double beneath = plan.pedestal ? plan.pedestal->mixed : 0.0;
    return beneath + ladder_of(plan, line).levels[level].mixed;
}

void check_bottles(const Plan& plan, Problems& problems) {
    std::set<std::string> bottles;
    const auto want_own_letter = [&](const std::string& bottle, const std::string& where) {
        problems.want(!bottle.empty() && bottles.insert(bottle).second, where,
                      "has the bottle \"" + bottle + "\"", "each bottle has a letter of its own");
    };
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        const auto& levels = ladder_of(plan, line).levels;
        for (std::size_t i = 0; i < levels.size(); ++i)
            want_own_letter(levels[i].bottle, "level " + std::to_string(i + 1));
    }
    if (!beside_bottle(plan).empty()) want_own_letter(beside_bottle(plan), "pedestal");
}

void check_levels(const Plan& plan, std::size_t line, Problems& problems) {
    const auto& levels = ladder_of(plan, line).levels;
    const solution::Substance& substance = substance_of(plan, line);
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
        const double held = held_in_cup(plan, line, i);
        problems.want(substance.strongest_cup <= 0.0 || held <= cup_cap_slack * substance.strongest_cup,
                      where, "holds " + significant(held, 3) + " " + unit_text(substance.scale),
                      "a cup of " + substance.name + " holds at most " + exact(substance.strongest_cup));
        weaker = level.mixed;
    }
}

void check_line(const Plan& plan, std::size_t line, Problems& problems) {
    const solution::MixedLadder& ladder = ladder_of(plan, line);
    const solution::Substance& substance = substance_of(plan, line);
    problems.want(!ladder.levels.empty() && ladder.levels.size() <= 40, "ladder",
                  "has " + std::to_string(ladder.levels.size()) + " levels", "1 to 40");
    check_levels(plan, line, problems);
    problems.want(ladder.substance == substance.id && ladder.scale == substance.scale, "ladder",
                  "is of " + ladder.substance + " in " + unit_text(ladder.scale),
                  "a ladder of " + substance.id + " in " + unit_text(substance.scale));
    problems.want(plan.rest_s >= substance.rest_s || !rules_of(plan.kind).tastes, "rest",
                  "is " + std::to_string(plan.rest_s) + " s",
                  substance.name + " needs at least " + std::to_string(substance.rest_s) + " s");
}

void check_numbers(const Plan& plan, Problems& problems) {
    problems.want(plan.most_presentations >= 1 && plan.most_presentations <= most_presentations,
                  "presentations", "are " + std::to_string(plan.most_presentations),
                  "1 to " + std::to_string(most_presentations));
    problems.want(plan.cup.value > 0.0 && plan.cup.value <= largest_cup_mL, "cup",
                  "is " + exact(plan.cup.value) + " mL",
                  "more than 0, up to " + exact(largest_cup_mL) + " mL");
    problems.want(plan.stop_sd_log10 >= 0.0 && std::isfinite(plan.stop_sd_log10), "stop SD",
                  "is " + exact(plan.stop_sd_log10), "0 (never stop early) or more, log10 units");
    problems.want(plan.rest_s >= 0 && plan.rest_s <= 3600, "rest", "is " + std::to_string(plan.rest_s) + " s",
                  "0 to 3600 s");
    problems.want(
        plan.rest_strong_s == 0 || (plan.rest_strong_s >= plan.rest_s && plan.rest_strong_s <= 3600), "rest",
        "is " + std::to_string(plan.rest_strong_s) + " s after the strongest cup",
        "at least the " + std::to_string(plan.rest_s) + " s after the weakest, up to 3600 s");
    problems.want(plan.most_minutes >= 0 && plan.most_minutes <= most_minutes, "time",
                  "is " + std::to_string(plan.most_minutes) + " minutes",
                  "0 (no limit) to " + std::to_string(most_minutes));
    problems.want(plan.rule_version >= 1 && plan.rule_version <= current_rule, "rule version",
                  "is " + std::to_string(plan.rule_version),
                  "this program knows 1 to " + std::to_string(current_rule));
}

void check_seat(const Plan& plan, Problems& problems) {
    const auto& settings = plan.seat->settings;
    problems.want(settings.size() >= plan.most_presentations, "seat",
                  "has " + std::to_string(settings.size()) + " presentations",
                  "one for each of " + std::to_string(plan.most_presentations));
    const std::size_t together = cups_together(plan);
    const auto is_there = [&plan](const Held& held) {
        return held.is_blank
                   ? rules_of(plan.kind).has_blanks
                   : held.series < series_count(plan) &&
                         held.level < ladder_of(plan, line_of_series(plan, held.series)).levels.size();
    };
    const bool fits = std::all_of(settings.begin(), settings.end(), [&](const Setting& one) {
        return one.place < together && one.codes.size() == together &&
               one.held.size() == (is_fixed(plan) ? together : 0) &&
               std::all_of(one.held.begin(), one.held.end(), is_there);
    });
    problems.want(fits, "seat", "has a presentation of another number of cups",
                  std::to_string(together) + " codes each, and the place of one of them");
}

void check_kind(const Plan& plan, Problems& problems) {
    const bool takes_others = plan.kind == Kind::recognition || plan.kind == Kind::naming ||
                              plan.kind == Kind::mouth_map || has_conditions(plan);
    problems.want(plan.others.empty() || takes_others, "substances", "are several",
                  "recognition, naming and the mouth map take several, the other drills one");
    problems.want(plan.pedestal.has_value() == (plan.kind == Kind::difference), "pedestal",
                  plan.pedestal ? "stands beneath every cup" : "is missing",
                  "difference has one, other drills have none");
    problems.want(plan.seat.has_value() == (plan.blinding == Blinding::class_service), "seat",
                  plan.seat ? "is given" : "is missing", "class service has one for each person");
    problems.want(
        plan.blinding != Blinding::class_service || plan.order == Order::ascending || is_fixed(plan), "order",
        "is adaptive", "a class is served in a fixed order");
    if (plan.seat) check_seat(plan, problems);
    rules_of(plan.kind).check(plan, problems);
}

safety::Intake cup_intake(const Plan& plan, std::size_t line, std::size_t level) {
    const double beyond = ladder_of(plan, line).levels[level].mixed;
    return safety::in_one_cup(base_intake(plan, line),
                              safety::intake_of_cup(substance_of(plan, line), beyond, plan.cup));
}

/// Sealed key, and what is drawn beforehand: every cup is known before the first is tasted.
void check_pours(const Plan& plan) {
    Problems problems;
    const auto pours = plan.blinding == Blinding::sealed_key
                           ? sealed_key::pour_list(plan)
                           : beforehand::shares(plan, plan.most_presentations);
    for (const sealed_key::Identity& one : pours) {
        if (one.is_blank) continue;
        const std::size_t line = line_of_series(plan, one.series);
        const int kept_back = known_clear(plan, line) == one.level ? 1 : 0;
        const int there = ladder_of(plan, line).levels[one.level].portions - kept_back;
        problems.want(there >= one.poured, "bottle " + one.mark,
                      "has " + std::to_string(there) + " portions to pour",
                      std::to_string(one.poured) + " are poured beforehand");
    }
    problems.refuse_if_any();
}

/// The most presentations that a line can get, and of them one rung.
std::size_t most_of_line(const Plan& plan) {
    return plan.kind == Kind::recognition ? recognition::most_of_each(plan) : plan.most_presentations;
}
std::size_t most_of_rung(const Plan& plan, std::size_t line) {
    const std::size_t rungs = ladder_of(plan, line).levels.size();
    if (plan.order == Order::ascending) return (plan.most_presentations + rungs - 1) / rungs;
    return most_of_line(plan);
}

/// One cup of what stands beside the level: the base, or the pedestal in it.
safety::Intake beside_intake(const Plan& plan) {
    if (beside_bottle(plan).empty()) return plan.blank;
    return safety::in_one_cup(plan.blank,
                              safety::intake_of_cup(plan.substance, plan.pedestal->mixed, plan.cup));
}

safety::Intake strongest_of_line(const Plan& plan, std::vector<sealed_key::Identity> poured,
                                 std::size_t cups) {
    // Blanks come first in this order, then rungs from the weakest; taken from the end.
    std::sort(poured.begin(), poured.end(), [](const auto& a, const auto& b) {
        return std::pair(!a.is_blank, a.level) < std::pair(!b.is_blank, b.level);
    });
    safety::Intake sum;
    for (std::size_t i = poured.size(); i-- > 0 && cups > 0;)
        for (int cup = poured[i].poured; cup > 0 && cups > 0; --cup, --cups)
            sum += poured[i].is_blank
                       ? blank_intake(plan)
                       : presentation_intake(plan, poured[i].level, line_of_series(plan, poured[i].series));
    return sum;
}

}  // namespace

safety::Intake strongest_of(const Plan& plan, std::vector<sealed_key::Identity> poured, std::size_t cups) {
    safety::Intake sum;
    // Of several substances any might have come up most often, so each counts as if it had.
    if (line_count(plan) > 1) {
        std::vector<std::vector<sealed_key::Identity>> of_line(line_count(plan) + 1);
        for (sealed_key::Identity& one : poured)
            of_line[one.is_blank ? line_count(plan) : line_of_series(plan, one.series)].push_back(
                std::move(one));
        for (const auto& one : of_line) sum += strongest_of_line(plan, one, cups);
        return sum;
    }
    return strongest_of_line(plan, std::move(poured), cups);
}

std::size_t series_count(const Plan& plan) {
    return plan.kind == Kind::nose ? 2 : 1 + plan.others.size();
}
std::size_t line_of_series(const Plan& plan, std::size_t series) {
    return plan.kind == Kind::nose ? 0 : series;
}
std::size_t line_count(const Plan& plan) {
    return 1 + plan.others.size();
}
const solution::Substance& substance_of(const Plan& plan, std::size_t line) {
    return line == 0 ? plan.substance : plan.others.at(line - 1).substance;
}
const solution::MixedLadder& ladder_of(const Plan& plan, std::size_t line) {
    return line == 0 ? plan.ladder : plan.others.at(line - 1).ladder;
}
const threshold::Prior& prior_of(const Plan& plan, std::size_t line) {
    return line == 0 ? plan.prior : plan.others.at(line - 1).prior;
}

bool is_fixed(const Plan& plan) {
    return is_fixed(plan.kind);
}
bool is_fixed(Kind kind) {
    return rules_of(kind).is_fixed;
}
bool has_conditions(const Plan& plan) {
    return !plan.others.empty() && (plan.kind == Kind::balance || plan.kind == Kind::persistence);
}
bool is_set(const Plan& plan) {
    return rules_of(plan.kind).cups_together == 0;
}
std::size_t cups_together(const Plan& plan) {
    return is_set(plan) ? plan.ladder.levels.size() : rules_of(plan.kind).cups_together;
}
std::string beside_bottle(const Plan& plan) {
    return plan.pedestal ? plan.pedestal->bottle : std::string();
}
threshold::Task task_of(const Plan& plan) {
    const std::size_t choices = cups_together(plan) > 1 ? cups_together(plan) : line_count(plan);
    return threshold::Task{choices > 1 ? 1.0 / static_cast<double>(choices) : 0.0};
}

void check_shape(const Plan& plan) {
    Problems problems;
    for (std::size_t line = 0; line < line_count(plan); ++line) check_line(plan, line, problems);
    check_bottles(plan, problems);
    check_numbers(plan, problems);
    check_kind(plan, problems);
    problems.refuse_if_any();
}

void check_caps(const Plan& plan) {
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        const std::vector<int> portions = portions_to_serve(plan, line);
        if (std::all_of(portions.begin(), portions.end(), [](int left) { return left <= 0; }))
            throw Refused("ladder", "has no portions left", "mix some more, or pour smaller cups");
    }
    if (plan.blinding == Blinding::sealed_key || (is_fixed(plan) && !plan.seat)) check_pours(plan);
    safety::Intake sitting = plan.taken_this_sitting;
    safety::Intake today = plan.taken_today;
    const safety::Intake worst = worst_intake(plan);
    sitting += worst;
    today += worst;
    if (const auto crossed = safety::crossed(plan.caps, sitting, today))
        throw Refused("caps", crossed->text, "fewer presentations, smaller cups, or another day");
}

bool holds_ethanol(const Plan& plan) {
    if (plan.blank.ethanol.value > 0.0) return true;
    for (const Line& other : plan.others)
        if (other.beside.ethanol.value > 0.0) return true;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        if (substance_of(plan, line).component == solution::Component::alcohol) return true;
    return false;
}

std::optional<std::size_t> known_clear(const Plan& plan, std::size_t line) {
    constexpr int with_one_to_spare = 2;
    if (!rules_of(plan.kind).tastes || !rules_of(plan.kind).knows_first) return std::nullopt;
    if (line > 0 && has_conditions(plan)) return std::nullopt;  // what is looked for is known from the first
    const auto& levels = ladder_of(plan, line).levels;
    for (std::size_t i = levels.size(); i-- > 0;)
        if (levels[i].portions >= with_one_to_spare) return i;
    return std::nullopt;
}

std::size_t known_cups(const Plan& plan) {
    if (!rules_of(plan.kind).tastes || !rules_of(plan.kind).knows_first) return 0;
    std::size_t clear = 0;
    for (std::size_t line = 0; line < line_count(plan); ++line) clear += known_clear(plan, line) ? 1U : 0U;
    return clear + 1;
}

std::vector<Held> every_cup(const Plan& plan) {
    std::vector<Held> cups;
    for (std::size_t series = 0; series < series_count(plan); ++series)
        for (std::size_t level = 0; level < ladder_of(plan, line_of_series(plan, series)).levels.size();
             ++level)
            cups.push_back({series, level, false});
    if (rules_of(plan.kind).has_blanks) cups.push_back({0, 0, true});
    return cups;
}

std::string bottle_of(const Plan& plan, const Held& held) {
    if (held.is_blank) return "base";
    return ladder_of(plan, line_of_series(plan, held.series)).levels.at(held.level).bottle;
}

std::vector<int> portions_to_serve(const Plan& plan, std::size_t line) {
    const auto& levels = ladder_of(plan, line).levels;
    std::size_t most = most_of_rung(plan, line);
    if (plan.blinding == Blinding::served) {
        std::size_t kinds = rules_of(plan.kind).has_blanks ? 1 : 0;
        for (std::size_t i = 0; i < line_count(plan); ++i) kinds += ladder_of(plan, i).levels.size();
        most = std::min(most, served::most_cards(cups_together(plan), plan.codes_before.size()) / kinds);
    }
    const auto known = known_clear(plan, line);
    std::vector<int> portions;
    for (std::size_t i = 0; i < levels.size(); ++i)
        portions.push_back(std::min(levels[i].portions - (known == i ? 1 : 0), static_cast<int>(most)));
    return portions;
}

safety::Intake blank_intake(const Plan& plan) {
    return rules_of(plan.kind).tastes ? beside_intake(plan) : safety::Intake{};
}

safety::Intake known_intake(const Plan& plan) {
    safety::Intake sum;
    if (known_cups(plan) == 0) return sum;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        if (const auto known = known_clear(plan, line)) sum += cup_intake(plan, line, *known);
    if (known_clear(plan)) sum += blank_intake(plan);
    return sum;
}

safety::Intake set_intake(const Plan& plan) {
    safety::Intake sum;
    for (std::size_t level = 0; level < plan.ladder.levels.size(); ++level) sum += cup_intake(plan, 0, level);
    return sum;
}

safety::Intake presentation_intake(const Plan& plan, std::size_t level, std::size_t line) {
    if (!rules_of(plan.kind).tastes) return {};
    safety::Intake intake = cup_intake(plan, line, level);
    for (std::size_t beside = 1; beside < cups_together(plan); ++beside) intake += blank_intake(plan);
    return intake;
}

safety::Intake worst_intake(const Plan& plan) {
    safety::Intake sum = known_intake(plan);
    if (is_set(plan)) {
        for (std::size_t set = 0; set < plan.most_presentations; ++set) sum += set_intake(plan);
        return sum;
    }
    if (is_fixed(plan) && plan.seat) {
        for (const Setting& one : plan.seat->settings)
            sum += one.held.front().is_blank
                       ? blank_intake(plan)
                       : presentation_intake(plan, one.held.front().level,
                                             line_of_series(plan, one.held.front().series));
        return sum;
    }
    if (is_fixed(plan) && plan.blinding != Blinding::sealed_key) {
        sum += strongest_of(plan, beforehand::shares(plan, plan.most_presentations), plan.most_presentations);
        return sum;
    }
    if (plan.blinding == Blinding::sealed_key) {
        sum += strongest_of(plan, sealed_key::pour_list(plan), plan.most_presentations);
        return sum;
    }
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        const std::vector<int> portions = portions_to_serve(plan, line);
        int left = static_cast<int>(most_of_line(plan));
        for (std::size_t i = portions.size(); i-- > 0;)
            for (int cup = std::min(portions[i], left); cup > 0; --cup, --left)
                sum += presentation_intake(plan, i, line);
    }
    return sum;
}

}  // namespace sipladder::drills
