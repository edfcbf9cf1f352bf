#include "drills/plans.hpp"

#include "drills/difference.hpp"
#include "drills/mouth_map.hpp"
#include "drills/persistence.hpp"
#include "drills/recognition.hpp"
#include "drills/rules.hpp"
#include "drills/scaling.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills {

namespace {

constexpr double drift_per_root_week_log10 = 0.05;  // judgement
constexpr double between_sittings_log10 = 0.1;      // judgement

threshold::Prior chosen_prior(const Plan& plan, const solution::Substance& substance,
                              const solution::MixedLadder& ladder, const DrillOptions& options) {
    switch (options.prior) {
        case PriorChoice::assumed:
            if (plan.kind == Kind::recognition) return recognition::assumed_prior(substance);
            if (plan.kind == Kind::difference)
                return difference::assumed_prior(plan.pedestal->mixed, ladder.scale);
            return assumed_prior(substance);
        case PriorChoice::flat:
            return flat_prior(ladder);
        case PriorChoice::own_history:
            if (!options.history)
                throw Refused("prior", "own history was chosen and there is none for " + substance.name,
                              "the assumed or the flat prior");
            return own_prior(*options.history);
    }
    SIPLADDER_EXPECT(false);
    return {};
}

/// A mix may be in a base that content no longer holds; its id is then the best name there is.
std::string base_name(const content::Content& content, const std::string& id) {
    const auto base = std::find_if(content.bases.begin(), content.bases.end(),
                                   [&](const solution::Base& one) { return one.id == id; });
    return base == content.bases.end() ? id : base->name;
}

/// Nothing where the base is not known any more: it was then a water of one's own.
safety::Intake blank_of(const content::Content& content, const std::string& id, Millilitres cup) {
    const auto base = std::find_if(content.bases.begin(), content.bases.end(),
                                   [&](const solution::Base& one) { return one.id == id; });
    return base == content.bases.end() ? safety::Intake{} : safety::intake_of_base(*base, cup);
}

/// The base holds the pedestal, or else the weakest rung is it.
void set_pedestal(const content::Content& content, Plan& plan) {
    constexpr double u_of_a_base = 0.02;  // judgement: weighed on a kitchen scale into a litre
    const auto base = std::find_if(content.bases.begin(), content.bases.end(),
                                   [&](const solution::Base& one) { return one.id == plan.ladder.base; });
    const double held =
        base == content.bases.end() ? 0.0 : solution::held_in_base(*base, plan.substance.id).value;
    if (held > 0.0) {
        plan.pedestal = solution::MixedLevel{held, held, u_of_a_base, 0.0, "", 0};
        return;
    }
    if (plan.ladder.levels.size() < 2)
        throw Refused("ladder", "has no rung above the pedestal", "the pedestal and at least one more");
    plan.pedestal = plan.ladder.levels.front();
    plan.ladder.levels.erase(plan.ladder.levels.begin());
    plan.ladder = difference::added_ladder(plan.ladder, *plan.pedestal);
}

void set_bottles(const content::Content& content, const std::vector<solution::MixedLadder>& ladders,
                 const DrillOptions& options, Plan& plan) {
    plan.substance = content.substance(ladders.front().substance);
    plan.ladder = ladders.front();
    if (plan.kind == Kind::difference) set_pedestal(content, plan);
    plan.prior = chosen_prior(plan, plan.substance, plan.ladder, options);
    for (std::size_t i = 1; i < ladders.size(); ++i) {
        const solution::Substance& substance = content.substance(ladders[i].substance);
        DrillOptions own = options;
        if (own.prior == PriorChoice::own_history) own.prior = PriorChoice::assumed;  // is of the first
        plan.others.push_back({substance, ladders[i], chosen_prior(plan, substance, ladders[i], own)});
    }
    if (!has_conditions(plan)) return;
    Line& other = plan.others.front();
    other.condition =
        options.condition.empty() ? "in " + base_name(content, other.ladder.base) : options.condition;
    other.same_bottles = options.same_bottles;
    other.beside = blank_of(content, other.ladder.base, options.cup);
}

void set_rests(Plan& plan) {
    plan.rest_s = 0;
    for (std::size_t line = 0; line < line_count(plan); ++line) {
        plan.rest_s = std::max(plan.rest_s, substance_of(plan, line).rest_s);
        plan.rest_strong_s = std::max(plan.rest_strong_s, substance_of(plan, line).rest_strong_s);
    }
    if (plan.rest_strong_s < plan.rest_s) plan.rest_strong_s = 0;
}

std::vector<std::string> usual_words(const Plan& plan) {
    if (plan.kind == Kind::scaling) return scaling::usual_words(plan.substance.component);
    if (plan.kind == Kind::mouth_map) return mouth_map::usual_feelings();
    if (plan.kind == Kind::persistence) return persistence::usual_words();
    return {};
}

/// What no bottle has a part in.
void set_the_rest(const content::Content& content, const DrillOptions& options, Plan& plan) {
    plan.blinding = options.blinding;
    plan.order = options.order;
    plan.seat = options.seat;
    plan.cup = options.cup;
    plan.spat = options.spat;
    plan.most_presentations = options.presentations;
    plan.stop_sd_log10 = options.stop_sd_log10;
    plan.words = options.words.empty() ? usual_words(plan) : options.words;
    plan.sensation = options.sensation;
    plan.caps = content.cautions.caps;
    set_rests(plan);
}

}  // namespace

threshold::Prior assumed_prior(const solution::Substance& substance) {
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::assumed;
    prior.mean_log10 = std::log10(substance.prior.centre);
    prior.sd_log10 = substance.prior.sd_log10;
    prior.name = "assumed for " + substance.name + ": centre " + significant(substance.prior.centre, 2) +
                 " " + unit_text(substance.scale) + ", factor " +
                 significant(std::pow(10.0, substance.prior.sd_log10), 2) + " (" + substance.prior.source +
                 ")";
    return prior;
}

threshold::Prior flat_prior(const solution::MixedLadder& ladder) {
    SIPLADDER_EXPECT(!ladder.levels.empty());
    constexpr double decades_beyond = 1.0;
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::flat;
    prior.lower_log10 = std::log10(ladder.levels.front().mixed) - decades_beyond;
    prior.upper_log10 = std::log10(ladder.levels.back().mixed) + decades_beyond;
    prior.name = "flat from " + significant(std::pow(10.0, prior.lower_log10), 2) + " to " +
                 significant(std::pow(10.0, prior.upper_log10), 2) + " " + unit_text(ladder.scale);
    return prior;
}

threshold::Prior own_prior(const OwnHistory& history) {
    const threshold::Threshold& last = history.last;
    const double counted_again = history.same_mix ? last.mixing_sd_log10 : 0.0;
    const double known_square = std::max(last.sd_log10 * last.sd_log10 - counted_again * counted_again, 0.0);
    const double weeks = std::max(history.weeks_ago, 0.0);
    threshold::Prior prior;
    prior.kind = threshold::Prior::Kind::normal;
    prior.mean_log10 = last.log10;
    prior.sd_log10 = std::sqrt(known_square + between_sittings_log10 * between_sittings_log10 +
                               weeks * drift_per_root_week_log10 * drift_per_root_week_log10);
    prior.name = "own history of " + history.date;
    return prior;
}

Seat seat_at(const classroom::Service& service, std::size_t drill, std::size_t seat, const Plan& plan) {
    const classroom::ClassDrill& served = service.plan.drills.at(drill);
    const std::vector<Held> cups = every_cup(plan);
    const auto held_in = [&](const std::string& bottle) {
        const auto found = std::find_if(cups.begin(), cups.end(),
                                        [&](const Held& one) { return bottle_of(plan, one) == bottle; });
        if (found == cups.end())
            throw Refused("class drill", "serves bottle " + bottle, "bottles of the drill's own plan");
        return *found;
    };
    const classroom::Seat& there = service.seats.at(seat);
    Seat found{there.number, {}};
    for (const classroom::Serving& serving : there.servings.at(drill)) {
        Setting setting;
        for (const classroom::Cup& cup : serving.cups) {
            setting.codes.push_back(cup.code);
            setting.held.push_back(
                held_in(cup.is_blank ? served.blank_bottle : served.samples.at(cup.sample).bottle));
        }
        found.settings.push_back(std::move(setting));
    }
    return found;
}

Seat seat_in(const classroom::Service& service, std::size_t drill, std::size_t seat) {
    const classroom::ClassDrill& served = service.plan.drills.at(drill);
    const bool comes_once = std::all_of(served.samples.begin(), served.samples.end(),
                                        [](const classroom::Sample& one) { return one.times == 1; });
    if (served.task != classroom::Task::which_of_three || !comes_once)
        throw Refused("class drill", served.name + " is no ascending series",
                      "presentations of three cups, every rung once, weakest first");
    const classroom::Seat& there = service.seats.at(seat);
    Seat found{there.number, {}};
    for (const classroom::Serving& serving : there.servings.at(drill)) {
        Setting setting;
        for (std::size_t place = 0; place < serving.cups.size(); ++place) {
            setting.codes.push_back(serving.cups[place].code);
            if (!serving.cups[place].is_blank) setting.place = place;
        }
        found.settings.push_back(std::move(setting));
    }
    return found;
}

int portions_needed(Kind kind, Blinding blinding, std::size_t presentations, std::size_t lines,
                    std::size_t rungs) {
    constexpr std::size_t known_and_one_to_spare = 2;
    const Rules& rules = rules_of(kind);
    SIPLADDER_EXPECT(rules.is_fixed && lines > 0 && rungs > 0);
    const auto parts_of = [](std::size_t whole, std::size_t parts) { return (whole + parts - 1) / parts; };
    std::size_t needed = presentations;
    if (rules.cups_together > 0) {
        const std::size_t blanks = rules.has_blanks ? 1 : 0;
        const std::size_t poured =
            blinding == Blinding::sealed_key ? (presentations * 7 + 4) / 5 : presentations;
        needed =
            lines > 1 ? parts_of(parts_of(poured, lines + blanks), rungs) : parts_of(poured, rungs + blanks);
    }
    return static_cast<int>(needed + known_and_one_to_spare);
}

Plan drill_plan(const content::Content& content, Kind kind, const std::vector<solution::MixedLadder>& ladders,
                const DrillOptions& options, const safety::Intake& taken_today,
                const safety::Intake& taken_this_sitting) {
    const bool takes_several = kind == Kind::recognition || kind == Kind::naming || kind == Kind::mouth_map;
    const bool takes_two = kind == Kind::balance || kind == Kind::persistence;
    if (ladders.empty() || (ladders.size() > (takes_two ? 2U : 1U) && !takes_several))
        throw Refused(
            "ladders", "are " + std::to_string(ladders.size()),
            takes_several ? "one for each substance" : (takes_two ? "one, or one in each condition" : "one"));
    Plan plan;
    plan.kind = kind;
    set_bottles(content, ladders, options, plan);
    plan.base_name = base_name(content, ladders.front().base);
    set_the_rest(content, options, plan);
    plan.blank = blank_of(content, ladders.front().base, options.cup);
    plan.taken_this_sitting = taken_this_sitting;
    plan.taken_today = taken_today;
    return plan;
}

Plan own_wine_plan(const content::Content& content, const std::string& name, PercentVol strength,
                   int portions, const DrillOptions& options, const safety::Intake& taken_today,
                   const safety::Intake& taken_this_sitting) {
    Plan plan;
    plan.kind = Kind::persistence;
    plan.substance = persistence::own_wine(name, strength);
    plan.base_name = "its bottle";
    plan.ladder = {plan.substance.id, plan.substance.id, Scale::pct_vol, {}};
    plan.ladder.levels.push_back({strength.value, strength.value, 0.0, 0.0, "W", portions});
    plan.prior = assumed_prior(plan.substance);
    set_the_rest(content, options, plan);
    plan.taken_this_sitting = taken_this_sitting;
    plan.taken_today = taken_today;
    return plan;
}

Plan detection_plan(const content::Content& content, const solution::MixedLadder& ladder,
                    const DetectionOptions& options, const safety::Intake& taken_today,
                    const safety::Intake& taken_this_sitting) {
    return drill_plan(content, Kind::detection, {ladder}, options, taken_today, taken_this_sitting);
}

}  // namespace sipladder::drills
