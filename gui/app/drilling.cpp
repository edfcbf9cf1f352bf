// What is chosen on the Taste screen becomes a closed plan here, or a list of what stands against it, so that
// the screen can say it before anything is started.

#include "gui/app/drilling.hpp"

#include "drills/bottles.hpp"
#include "drills/pacing.hpp"
#include "drills/plans.hpp"
#include "drills/programme.hpp"
#include "engine/chart/psychometric_curve.hpp"
#include "engine/text.hpp"
#include "gui/app/own_words.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

using drills::Blinding;
using drills::Kind;
using drills::Order;

constexpr double coldest_cup_degC = 0.0;
constexpr double warmest_cup_degC = 60.0;  // hotter burns

/// Portions that a drill poured: the known clear cup with the first presentation.
void pour_from(solution::MixedLadder& mix, const drills::State& state, std::size_t line) {
    const auto take = [&](const std::string& bottle) {
        const auto level = std::ranges::find(mix.levels, bottle, &solution::MixedLevel::bottle);
        if (level != mix.levels.end()) level->portions = std::max(0, level->portions - 1);
    };
    if (state.trials.empty()) return;
    const bool is_filled_once = state.plan.kind == Kind::tray_check;
    const auto& levels = drills::ladder_of(state.plan, line).levels;
    if (drills::is_set(state.plan)) {  // every rung stands in each set, unknown or not
        for (std::size_t sets = 0; sets < state.trials.size(); ++sets)
            for (const solution::MixedLevel& level : levels) take(level.bottle);
        return;
    }
    if (const auto known = drills::known_clear(state.plan, line))
        take(drills::poured_from(state.plan, line, levels[*known]));
    for (const drills::Trial& trial : state.trials) {
        if (trial.is_blank || drills::line_of_series(state.plan, trial.series) != line) continue;
        take(drills::poured_from(state.plan, line, levels[trial.level]));
        for (std::size_t beside = 1; beside < drills::cups_together(state.plan); ++beside)
            take(drills::beside_bottle(state.plan));
        if (is_filled_once) return;
    }
}

std::vector<Problem> problems_of_choice(const App& app) {
    std::vector<Problem> problems;
    const std::string& typed = app.spoilers.temperature;
    if (!trimmed(typed).empty()) {
        const std::optional<double> read = number_from_typed(typed);
        if (!read || *read < coldest_cup_degC || *read > warmest_cup_degC)
            problems.push_back({"Temperature", "\"" + typed + "\"", "of the cups, 0 to 60 degrees Celsius"});
    }
    return problems;
}

/// A sitting that was prepared serves the one mix twice: cool, and at room temperature.
bool is_of_the_same_bottles(const App& app) {
    const Kind kind = chosen_offer(app).kind;
    return !app.own_choice && !app.chosen_condition.empty() && app.chosen_others.empty() &&
           (kind == Kind::balance || kind == Kind::persistence);
}

/// Of the first substance, then of the others where the drill takes several, in the order in which they were
/// mixed: what was poured for was reckoned so.
std::vector<solution::MixedLadder> chosen_ladders(const App& app) {
    const History& history = *app.history;
    std::vector<solution::MixedLadder> ladders{left_of(history, history.mixes.at(*app.chosen_mix))};
    if (takes_several(chosen_offer(app).kind))
        for (auto other = app.chosen_others.rbegin(); other != app.chosen_others.rend(); ++other)
            if (*other != *app.chosen_mix && *other < history.mixes.size())
                ladders.push_back(left_of(history, history.mixes[*other]));
    if (ladders.size() == 1 && is_of_the_same_bottles(app))
        ladders.push_back(drills::otherwise_served(ladders.front(), app.chosen_condition));
    return ladders;
}

}  // namespace

const std::vector<Offer>& offers() {
    static const std::vector<Blinding> together{Blinding::shuffled_tray, Blinding::served};
    static const std::vector<Blinding> single{Blinding::sealed_key, Blinding::served};
    static const std::vector<Offer> all{
        {"detection",
         Kind::detection,
         Order::adaptive,
         "How little?",
         "three cups, one holds it",
         "Each presentation is chosen where your answers tell most. The usual way to a threshold.",
         together,
         {8, 12, 16, 20},
         12},
        {"ascending",
         Kind::detection,
         Order::ascending,
         "How little, weak to strong?",
         "three cups in a fixed order, for what lingers in the mouth",
         "Up the ladder from the weakest rung, then up again; to compare with panels that work so.",
         together,
         {6, 12, 18},
         12},
        {"quick_look",
         Kind::quick_look,
         Order::adaptive,
         "A quick look",
         "single cups and blanks, graded in four steps",
         "A third of the cups are blanks. Fewer cups than three at a time, and a wider answer.",
         single,
         {10, 15, 20},
         10},
        {"recognition",
         Kind::recognition,
         Order::adaptive,
         "Which one is it?",
         "how strong each must be to be known for what it is",
         "One cup at a time of two or more substances; you name it.",
         single,
         {12, 16, 20, 24},
         16},
        {"difference",
         Kind::difference,
         Order::adaptive,
         "Which is the stronger?",
         "the smallest step up that you notice",
         "Two cups, one holds a little more. The weakest rung (or what the base holds) is in both.",
         together,
         {8, 12, 16},
         8},
        {"nose",
         Kind::nose,
         Order::adaptive,
         "Nose closed against open",
         "how much of it you smell rather than taste; for alcohol and vinegar",
         "How little with the nose open and with it closed, in turn, from the same bottles.",
         together,
         {16, 20, 24},
         20},
        {"tray_check",
         Kind::tray_check,
         Order::adaptive,
         "Check my tray",
         "can the cup be told by look and smell alone?",
         "Twelve rounds, nothing is tasted. Do this once for each substance before you trust a tray.",
         {Blinding::shuffled_tray},
         {12},
         12},
        {"naming",
         Kind::naming,
         Order::adaptive,
         "What is it?",
         "clear cups and the base alone: what you take for what",
         "Single cups, none of them faint; you name each. Tick every substance that it may be.",
         single,
         {8, 12, 16, 24, 30},
         16},
        {"ranking",
         Kind::ranking,
         Order::adaptive,
         "Weak to strong",
         "every rung at once, put in order",
         "Sets of all the rungs; for steps that lie close.",
         single,
         {2, 3, 4, 6},
         3},
        {"scaling",
         Kind::scaling,
         Order::adaptive,
         "How strong?",
         "a mark on a line and one of your own words, against grams per litre",
         "Single cups, some of them twice without your knowing; where one word ends and the next begins.",
         single,
         {14, 18, 24, 30},
         24},
        {"balance",
         Kind::balance,
         Order::adaptive,
         "Just about right?",
         "is there enough of it, with and without something else in the cup",
         "Single cups of one ladder, or of the same ladder in two bases: how much one hides the other from "
         "you.",
         single,
         {10, 14, 16, 20},
         16},
        {"mouth_map",
         Kind::mouth_map,
         Order::adaptive,
         "Where?",
         "where in the mouth, what kind of feeling, how strong",
         "Several cups of each substance and of the base alone; your own map, and how well it repeats.",
         single,
         {8, 12, 16, 24},
         12},
        {"persistence",
         Kind::persistence,
         Order::adaptive,
         "How long?",
         "one key when you spit, one when it is gone",
         "Single cups; the seconds until it is gone, and what it was like.",
         single,
         {6, 10, 14, 18},
         10},
        {"weight",
         Kind::weight,
         Order::adaptive,
         "Light to heavy",
         "every rung at once, put in order of weight in the mouth",
         "Sets of all the rungs of a thickener or of glycerol. Alcohol is not scored: more of it makes the "
         "cup "
         "less dense, and its burn gives it away.",
         single,
         {2, 3, 4},
         2}};
    return all;
}

bool are_offered(const content::Programme& programme) {
    return std::ranges::all_of(programme.drills, [](const content::ProgrammeDrill& drill) {
        return std::ranges::any_of(
            offers(), [&](const Offer& offer) { return drills::name_of(offer.kind) == drill.kind; });
    });
}

bool takes_several(Kind kind) {
    return kind == Kind::recognition || kind == Kind::naming || kind == Kind::mouth_map ||
           kind == Kind::balance || kind == Kind::persistence;
}

bool is_prepared_alone(const Offer& offer) {
    return !drills::is_fixed(offer.kind);
}

const Offer& offer_named(const std::string& id) {
    const auto named = std::ranges::find(offers(), id, &Offer::id);
    return named == offers().end() ? offers().front() : *named;
}

const Offer& offer_of(drills::Kind kind, drills::Order order) {
    const auto same = std::ranges::find_if(
        offers(), [&](const Offer& one) { return one.kind == kind && one.order == order; });
    return same == offers().end() ? offers().front() : *same;
}

const Offer& chosen_offer(const App& app) {
    return offers().at(std::min(app.chosen_offer, offers().size() - 1));
}

drills::Blinding chosen_blinding(const App& app) {
    const std::vector<Blinding>& suit = chosen_offer(app).blindings;
    return std::ranges::find(suit, app.chosen_blinding) != suit.end() ? app.chosen_blinding : suit.front();
}

std::string text_of(drills::Blinding blinding) {
    switch (blinding) {
        case Blinding::served:
            return "a helper pours";
        case Blinding::shuffled_tray:
            return "me alone, shuffled tray";
        case Blinding::sealed_key:
            return "me alone, sealed key";
        case Blinding::class_service:
            break;
    }
    return "a class";
}

std::optional<drills::OwnHistory> own_history_for(const App& app, const drills::record::KeptMix& mix) {
    if (!app.history) return std::nullopt;
    const PalateEntry* entry = newest_detection(*app.history, mix.substance, mix.base_name);
    if (entry == nullptr) return std::nullopt;
    constexpr double ms_a_week = 7.0 * 24.0 * 3600.0 * 1000.0;
    return drills::OwnHistory{
        .last = entry->threshold,
        .date = to_date(entry->past.started),
        .weeks_ago = std::max(0.0, static_cast<double>(app.now.utc_ms - entry->past.last.utc_ms) / ms_a_week),
        .same_mix = drills::is_from(entry->past.state.plan, 0, mix.ladder)};
}

drills::PriorChoice prior_choice(const App& app, const drills::record::KeptMix& mix) {
    using drills::PriorChoice;
    if (chosen_offer(app).kind != Kind::detection)
        return app.chosen_prior == PriorChoice::flat ? PriorChoice::flat : PriorChoice::assumed;
    const bool has_history = own_history_for(app, mix).has_value();
    const PriorChoice chosen =
        app.chosen_prior.value_or(has_history ? PriorChoice::own_history : PriorChoice::assumed);
    return chosen == PriorChoice::own_history && !has_history ? PriorChoice::assumed : chosen;
}

solution::MixedLadder left_of(const History& history, const drills::record::KeptMix& mix) {
    solution::MixedLadder left = mix.ladder;
    const auto pour = [&](const PastDrill& past) {
        for (std::size_t line = 0; line < drills::line_count(past.state.plan); ++line)
            if (drills::is_from(past.state.plan, line, mix.ladder)) pour_from(left, past.state, line);
    };
    for (std::size_t i = 0; i < history.done.size(); ++i)
        if (history.done.lines()[i].started.utc_ms >= mix.at.utc_ms) pour(history.done[i]);
    for (const PastDrill& past : history.unfinished)
        if (past.started.utc_ms >= mix.at.utc_ms) pour(past);
    return left;
}

safety::Intake taken_in(const History& history, const Uuid& sitting) {
    safety::Intake taken;
    for (const PastDrill* past : drills_in(history, sitting)) taken += drills::intake(past->state);
    return taken;
}

std::vector<drills::BlindCode> codes_in(const History& history, const Uuid& sitting) {
    std::vector<drills::BlindCode> codes;
    for (const PastDrill* past : drills_in(history, sitting)) {
        const std::vector<drills::BlindCode> more = drills::codes_of(past->state);
        codes.insert(codes.end(), more.begin(), more.end());
    }
    return codes;
}

std::string name_of_drill(const drills::Plan& plan) {
    return name_of_drill(plan.kind, plan.order);
}

std::string name_of_drill(Kind kind, Order order) {
    switch (kind) {
        case Kind::detection:
            return order == Order::ascending ? "detection, weak to strong" : "detection";
        case Kind::quick_look:
            return "quick look";
        case Kind::recognition:
            return "recognition";
        case Kind::difference:
            return "difference";
        case Kind::nose:
            return "nose closed against open";
        case Kind::naming:
            return "naming";
        case Kind::ranking:
            return "ranking";
        case Kind::scaling:
            return "scaling";
        case Kind::balance:
            return "balance";
        case Kind::mouth_map:
            return "mouth map";
        case Kind::persistence:
            return "persistence";
        case Kind::weight:
            return "weight";
        case Kind::tray_check:
            break;
    }
    return "tray check";
}

std::string title_of(const drills::Plan& plan) {
    if (drills::has_conditions(plan))
        return plan.substance.name + " in " + plan.base_name + ", plain and " + plan.others.front().condition;
    std::string names;
    for (std::size_t line = 0; line < drills::line_count(plan); ++line) {
        const bool is_last = line + 1 == drills::line_count(plan);
        if (line > 0) names += is_last ? " and " : ", ";
        names += drills::substance_of(plan, line).name;
    }
    return names + " in " + plan.base_name;
}

std::variant<drills::Plan, std::vector<Problem>> drill_plan(const App& app) {
    if (!app.history || !app.chosen_mix || *app.chosen_mix >= app.history->mixes.size())
        return std::vector<Problem>{{"Taste", "no mix is chosen", "choose one, or prepare one first"}};
    std::vector<Problem> problems = problems_of_choice(app);
    const drills::record::KeptMix& mix = app.history->mixes[*app.chosen_mix];
    const Offer& offer = chosen_offer(app);
    const OpenSitting* sitting = sitting_to_join(app);
    try {
        drills::DrillOptions options;
        options.blinding = chosen_blinding(app);
        options.presentations = app.chosen_presentations;
        options.cup = app.chosen_cup;
        options.prior = prior_choice(app, mix);
        options.history = own_history_for(app, mix);
        options.order = offer.order;
        options.words = own_words(app, offer.kind, mix.substance);
        if (!app.own_choice) options.condition = app.chosen_condition;
        options.same_bottles = is_of_the_same_bottles(app);
        drills::Plan plan = drills::drill_plan(
            *app.content, offer.kind, chosen_ladders(app), options, app.history->taken_today,
            sitting ? taken_in(*app.history, sitting->id) : safety::Intake{});
        plan.base_name = mix.base_name;
        if (sitting != nullptr) plan.codes_before = codes_in(*app.history, sitting->id);
        drills::check_shape(plan);
        if (!app.history->no_ethanol_reasons.empty() && drills::holds_ethanol(plan))
            safety::refuse_ethanol(app.history->no_ethanol_reasons);
        drills::check_caps(plan);
        if (problems.empty()) return plan;
    } catch (const Refused& refused) {
        problems.insert(problems.end(), refused.problems().begin(), refused.problems().end());
    }
    return problems;
}

}  // namespace sipladder::gui
