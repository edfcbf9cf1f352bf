// The part of the Prepare form that all ladders of a sitting share: which drill or programme, who pours, and
// what all of it costs.

#include "engine/safety/costs.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/sitting.hpp"
#include "gui/views/prepare.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

/// Which drill, or which ready-made sitting of several.
void choose_drill(PrepareView& view, const App& app) {
    const bool is_one = view.setup.programme.empty();
    for (const Offer& offer : offers()) {
        if (!is_prepared_alone(offer)) continue;  // stand at the end, so that the places of the others hold
        const bool is_chosen = is_one && offer.id == view.setup.drill;
        view.drills.push_back(
            {.label = offer.label, .is_chosen = is_chosen, .note = offer.answers, .component = {}});
        if (is_chosen) view.drill_note = offer.note;
    }
    for (const content::Programme& programme : app.content->programmes) {
        if (!are_offered(programme)) continue;
        const bool is_chosen = programme.id == view.setup.programme;
        view.programmes.push_back(
            {.label = programme.name, .is_chosen = is_chosen, .note = programme.why, .component = {}});
        view.programme_ids.push_back(programme.id);
        if (!is_chosen) continue;
        view.drill_note = programme.why + ".";
        if (view.drill_note.front() >= 'a' && view.drill_note.front() <= 'z')
            view.drill_note.front() = static_cast<char>(view.drill_note.front() - 'a' + 'A');
    }
    view.is_written = !is_one;
    view.can_drag = is_one && view.setup.drill != "difference";
    view.title = is_one ? "Prepare a ladder" : "Prepare: " + sitting_name(app);
}

std::string state_of(const Bench& bench) {
    if (!bench.problems.empty()) return "to be mended";
    if (!bench.plan) return "being planned";
    const auto done =
        std::ranges::count_if(bench.notes.steps, [](const auto& note) { return note.second.ticked; });
    return std::to_string(done) + " of " + std::to_string(bench.plan->steps.size()) + " steps done";
}

/// The substance; with its base where another ladder of the sitting is of the same.
std::string name_of(const Bench& bench, const std::vector<const Bench*>& all,
                    const content::Content& content) {
    const Setup& setup = bench.setup;
    const auto is_same = [&](const Bench* one) { return one->setup.substance == setup.substance; };
    std::string name = content.substance(setup.substance).name;
    if (std::ranges::count_if(all, is_same) < 2) return name;
    return name + " in " +
           content.base(setup.base_of_its_own.empty() ? setup.base : setup.base_of_its_own).name;
}

/// The ladders of a sitting of several.
void show_ladders(PrepareView& view, const App& app) {
    const std::vector<const Bench*> all = benches(app);
    const bool tells_apart = view.setup.programme.empty() && view.setup.drill == "recognition";
    if (all.size() > 1)
        for (std::size_t i = 0; i < all.size(); ++i) {
            const solution::Substance& substance = app.content->substance(all[i]->setup.substance);
            view.ladders.push_back({.choice = {.label = name_of(*all[i], all, *app.content),
                                               .is_chosen = i == app.open_ladder,
                                               .note = {},
                                               .component = substance.component},
                                    .state = state_of(*all[i])});
        }
    constexpr std::size_t most_told_apart = 5;
    view.can_remove = tells_apart && all.size() > 2;
    if (!tells_apart || all.size() >= most_told_apart) return;
    for (const solution::Substance& substance : app.content->substances) {
        const auto holds = [&](const Bench* one) { return one->setup.substance == substance.id; };
        if (std::ranges::any_of(all, holds) || app.content->struck_out.contains(substance.id)) continue;
        view.more.push_back(
            {.label = substance.name, .is_chosen = false, .note = {}, .component = substance.component});
        view.more_ids.push_back(substance.id);
    }
}

std::string about_cups(drills::Blinding blinding) {
    switch (blinding) {
        case drills::Blinding::served:
            return "The helper has a printed card; you see codes and a letter, never which cup holds what.";
        case drills::Blinding::shuffled_tray:
            return "Draw a ring, a cross and a dot beneath opaque cups that look alike; you spin the tray "
                   "with your "
                   "eyes shut.";
        case drills::Blinding::sealed_key:
            return "What a cup holds is written beneath it, codes go on top once all are shuffled; you read "
                   "the key in at the end.";
        case drills::Blinding::class_service:
            break;
    }
    return {};
}

void choose_who_pours(PrepareView& view) {
    const auto add = [&](Pours pours, const std::string& label) {
        view.pours.push_back(
            {.label = label, .is_chosen = view.setup.pours == pours, .note = {}, .component = {}});
        view.pours_kinds.push_back(pours);
    };
    if (view.is_written) {
        add(Pours::as_written, "as the sitting is written");
        add(Pours::alone, "me alone throughout");
        add(Pours::helper, "a helper pours");
        view.blinding_note = view.setup.pours == Pours::alone
                                 ? "Cups that stand together on a shuffled tray, single ones by a sealed key."
                             : view.setup.pours == Pours::helper ? about_cups(drills::Blinding::served)
                                                                 : "Each drill as its line above says.";
        return;
    }
    const Offer& offer = offer_named(view.setup.drill);
    for (const drills::Blinding blinding : offer.blindings)
        add(blinding == drills::Blinding::served ? Pours::helper : Pours::alone, text_of(blinding));
    view.blinding_note = about_cups(blinding_of(view.setup));
    view.presentations_are = offer.kind == drills::Kind::quick_look || offer.kind == drills::Kind::recognition
                                 ? "cups in all"
                                 : "presentations";
    // The tray is looked at before the drill that it is for.
    for (const std::size_t count :
         (offer.kind == drills::Kind::tray_check ? offer_named("detection") : offer).presentations) {
        view.presentations.push_back({.label = std::to_string(count),
                                      .is_chosen = view.setup.presentations == count,
                                      .note = {},
                                      .component = {}});
        view.presentation_counts.push_back(count);
    }
}

void show_costs(PrepareView& view, const App& app) {
    const auto sitting = prepared(app);
    view.costs.against = against_keeping(app);
    if (!sitting) return;
    const std::size_t people =
        static_cast<std::size_t>(std::clamp(number_from_typed(view.setup.people).value_or(1.0), 1.0, 200.0));
    const drills::Budget budget = drills::budget_of(sitting->plans);
    std::vector<Shown>& items = view.costs.items;
    items.push_back({counted(budget.cups, "cup", "cups") + (people > 1 ? " each" : "") +
                         (people > 1 ? ", " + std::to_string(budget.cups * people) + " in all" : ""),
                     "blanks too, and first, knowing what they are, a clear cup and one of the base alone"});
    items.push_back({"about " + std::to_string(budget.minutes) + " min to taste",
                     "the longest rests, kept to the end, and the time to pour and taste"});
    int bench_minutes = 0;
    for (const Bench* bench : benches(app))
        if (bench->plan) bench_minutes += safety::costs_of(*bench->plan).bench_minutes;
    if (bench_minutes > 0)
        items.push_back(
            {std::to_string(bench_minutes) + " min to mix", "two minutes to each hand operation"});
    const safety::Intake& worst = budget.worst;
    const std::string of_whom =
        "of each person, if every presentation were the strongest rung and all of it swallowed";
    for (const std::string& amount : safety::amounts(worst)) items.push_back({amount + " at most", of_whom});
    if (worst.acid_cups > 0.0)
        items.push_back({significant(worst.acid_cups, 2) + " acid cups at most", of_whom});
    if (worst.ethanol.value <= 0.0) items.push_back({"no ethanol", "nothing here holds any"});
    view.costs.note = beyond_one_sitting(app, *sitting);
    if (sitting->plans.size() > 1)
        for (const drills::Plan& plan : sitting->plans)
            view.sitting.push_back(std::to_string(view.sitting.size() + 1) + "  " + line_of(plan));
}

}  // namespace

void show_sitting(PrepareView& view, const App& app) {
    choose_drill(view, app);
    show_ladders(view, app);
    choose_who_pours(view);
    show_costs(view, app);
}

}  // namespace sipladder::gui
