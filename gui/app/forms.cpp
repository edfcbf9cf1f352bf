// The Prepare form: what a change of it brings with it, for the open ladder and for those beside it. A bench
// whose form still asks for the same keeps its plan and its notes.

#include "engine/solution/planner.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/planning.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

/// Difference has steps above a pedestal, a programme its own ladders, and other drills neither.
Rungs fitting_rungs(const Setup& setup) {
    if (!setup.programme.empty()) return Rungs::written;
    if (setup.drill == "difference") return setup.rungs == Rungs::own ? Rungs::own : Rungs::pedestal;
    return setup.rungs == Rungs::pedestal || setup.rungs == Rungs::written ? Rungs::six_of_three
                                                                           : setup.rungs;
}

bool is_ladder_of(const content::Content& content, const Setup& setup) {
    return std::ranges::any_of(content.ladders, [&](const solution::Ladder& one) {
        return one.id() == setup.ladder && one.substance() == setup.substance;
    });
}

/// A choice that no longer fits (an ingredient of another substance, a kitchen that content lacks) is
/// replaced by the first that does.
Setup made_whole(const content::Content& content, Setup setup) {
    const auto known = [](const auto& all, const std::string& id) {
        return std::ranges::any_of(all, [&](const auto& one) { return one.id == id; });
    };
    if (!known(content.substances, setup.substance) || content.struck_out.contains(setup.substance))
        setup.substance = content.substances.front().id;
    if (!known(content.bases, setup.base)) {
        setup.base = content.bases.front().id;
        setup.bicarbonate.clear();
    }
    if (!known(content.equipment, setup.kitchen)) setup.kitchen = content.equipment.front().id;
    if (!setup.programme.empty() && !known(content.programmes, setup.programme)) setup.programme.clear();
    if (setup.programme.empty() && setup.pours == Pours::as_written) setup.pours = Pours::alone;
    setup.rungs = fitting_rungs(setup);
    if (setup.rungs == Rungs::kept && !is_ladder_of(content, setup)) setup.rungs = Rungs::six_of_three;
    const std::vector<solution::Ingredient> fitting = content.ingredients_of(setup.substance);
    if (!known(fitting, setup.ingredient) && !fitting.empty()) {
        setup.ingredient = fitting.front().id;
        setup.strength.clear();  // of another pack
        setup.strength_within.clear();
    }
    return setup;
}

/// With own history 5 rungs around it, else the wide first ladder: rungs of another substance never fit.
Rungs first_rungs(const App& app, const Setup& setup) {
    const bool takes_first =
        setup.programme.empty() && setup.drill != "difference" && setup.drill != "recognition";
    if (!takes_first) return fitting_rungs(setup);
    return own_of(app, setup) != nullptr ? Rungs::around_mine : Rungs::six_of_three;
}
}  // namespace

const PalateEntry* own_of(const App& app, const Setup& setup) {
    if (!app.history) return nullptr;
    const auto base = std::ranges::find(app.content->bases, setup.base, &solution::Base::id);
    if (base == app.content->bases.end()) return nullptr;
    return newest_detection(*app.history, setup.substance, base->name);
}

Setup first_setup(const App& app) {
    const content::Content& content = *app.content;
    Setup setup;
    setup.pours = app.usual.pours;
    setup.cup_mL = exact(app.usual.cup_mL);
    setup.kitchen = app.usual.kitchen;
    // Sucrose first: cheap, harmless, and everyone knows what to look for.
    const bool has_sucrose = std::ranges::find(content.substances, "sucrose", &solution::Substance::id) !=
                             content.substances.end();
    setup.substance = has_sucrose ? "sucrose" : content.substances.front().id;
    return made_whole(content, setup);
}

namespace {

/// Whether the bench as it stands answers this form: then its plan and notes stay.
bool answers(const Bench& bench, const Setup& form, const Asked& asked) {
    const auto* wanted = std::get_if<solution::PlanRequest>(&asked);
    const solution::PlanRequest* has = request_in(bench);
    return wanted != nullptr && has != nullptr && bench.setup == form && has->demand == wanted->demand &&
           has->letters_taken == wanted->letters_taken && has->set == wanted->set &&
           has->wanted_u_rel == wanted->wanted_u_rel && has->ladder == wanted->ladder;
}

Bench new_bench(App& app, const Setup& form, Asked asked) {
    Bench bench;
    bench.setup = form;
    const bool is_one = app.beside.empty();
    for (const Bench* before : benches(app))
        if (is_one || before->setup.substance == form.substance)
            bench.former_plan = before->plan ? before->plan : before->former_plan;
    if (auto* problems = std::get_if<std::vector<Problem>>(&asked))
        bench.problems = std::move(*problems);
    else
        bench.job = PlanJob{.generation = ++app.generation,
                            .request = std::get<solution::PlanRequest>(std::move(asked))};
    return bench;
}

}  // namespace

void set_up(App& app, Setup setup) {
    Forms forms = forms_with(app, made_whole(*app.content, std::move(setup)));
    for (Setup& form : forms.all) {
        form = made_whole(*app.content, std::move(form));
        if (form.rungs == Rungs::around_mine && own_of(app, form) == nullptr)
            form.rungs = Rungs::six_of_three;
    }
    std::vector<Asked> asked = requests_of(app, forms.all);
    std::vector<Bench> made;
    for (std::size_t i = 0; i < forms.all.size(); ++i) {
        const std::vector<const Bench*> before = benches(app);
        const auto same = std::ranges::find_if(
            before, [&](const Bench* one) { return answers(*one, forms.all[i], asked[i]); });
        made.push_back(same != before.end() ? **same : new_bench(app, forms.all[i], std::move(asked[i])));
    }
    app.open_ladder = forms.open;
    app.bench = std::move(made.at(forms.open));
    made.erase(made.begin() + static_cast<std::ptrdiff_t>(forms.open));
    app.beside = std::move(made);
}

void set_up_for_person(App& app) {
    Setup setup = app.bench.setup;
    if (setup.rungs == Rungs::six_of_three || setup.rungs == Rungs::around_mine)
        setup.rungs = first_rungs(app, setup);
    for (std::size_t i = 0; i <= app.beside.size(); ++i) {  // noted by somebody else
        bench_at(app, i).notes = {};
        bench_at(app, i).waiting.reset();
    }
    set_up(app, std::move(setup));
}
namespace {

bool has_notes(const Bench& bench) {
    return !bench.notes.empty() || bench.waiting.has_value();
}

std::size_t noted(const App& app) {
    const std::vector<const Bench*> all = benches(app);
    return static_cast<std::size_t>(
        std::ranges::count_if(all, [](const Bench* one) { return has_notes(*one); }));
}

void say_set_aside(App& app) {
    // From here on the form as it is now is what a start of the program finds.
    app.bench.unsaved_since_ms = app.now.monotonic_ms;
    app.notice =
        Notice{.lines = {"This is another plan: what you had ticked and read is set aside with the one "
                         "before. Ctrl+Z brings both back."}};
}

/// What goes with another drill or programme: its usual numbers, and for a smell something that smells.
void suit_drill(const App& app, Setup& setup) {
    const Setup& before = app.bench.setup;
    if (setup.programme != before.programme && !before.base_of_its_own.empty()) {
        setup.base = app.content->programme(before.programme).base;
        setup.base_of_its_own.clear();
    }
    if (setup.programme != before.programme && !setup.programme.empty()) {
        const content::Programme& programme = app.content->programme(setup.programme);
        setup.pours = Pours::as_written;
        setup.base = programme.base;
        setup.bicarbonate.clear();
        setup.cup_mL = exact(programme.cup.value);
        return;
    }
    if (setup.drill == before.drill && setup.programme == before.programme) return;
    const auto smells = [&](const solution::Substance& one) { return one.closed_nose; };
    if (setup.drill == "nose" && !smells(app.content->substance(setup.substance))) {
        const auto other = std::ranges::find_if(app.content->substances, [&](const auto& one) {
            return smells(one) && one.component != solution::Component::alcohol;
        });
        if (other != app.content->substances.end()) setup.substance = other->id;
    }
    setup.rungs = first_rungs(app, made_whole(*app.content, setup));
    setup.presentations = usual_presentations(app, made_whole(*app.content, setup));
}

}  // namespace

void set_up_anew(App& app) {
    const std::size_t notes_before = noted(app);
    const drills::record::MixDraft before = draft_of_all(app);
    set_up(app, app.bench.setup);
    if (noted(app) >= notes_before) return;
    app.earlier.push_back(before);
    say_set_aside(app);
}

void on(Next& next, const ChangeSetup& intent) {
    App& app = next.app;
    if (intent.setup == app.bench.setup) return;
    save_draft(next);
    const std::size_t notes_before = noted(app);
    keep_aside(app);
    Setup setup = intent.setup;
    const Setup before = app.bench.setup;
    suit_drill(app, setup);
    const bool is_usual = setup.presentations == before.presentations &&
                          before.presentations == offer_named(before.drill).usual;
    if (setup.substance != before.substance || setup.base != before.base) {
        const bool stays = setup.rungs == Rungs::kept && setup.substance == before.substance;
        if (!stays) setup.rungs = first_rungs(app, setup);
        if (is_usual && setup.programme.empty())
            setup.presentations = usual_presentations(app, made_whole(*app.content, setup));
    }
    const bool takes_ladder =
        setup.rungs == Rungs::kept && (before.rungs != Rungs::kept || setup.ladder != before.ladder);
    if (const auto base = app.content->ladder_bases.find(setup.ladder);
        takes_ladder && base != app.content->ladder_bases.end())
        setup.base = base->second;
    if (setup.base != before.base) setup.bicarbonate.clear();
    if (setup.ingredient != before.ingredient) {
        setup.strength.clear();
        setup.strength_within.clear();
    }
    set_up(app, std::move(setup));
    if (noted(app) < notes_before) say_set_aside(app);
}

void on(Next& next, const OpenLadder& intent) {
    App& app = next.app;
    if (intent.place > app.beside.size() || intent.place == app.open_ladder) return;
    std::vector<Bench> all;
    for (const Bench* bench : benches(app)) all.push_back(*bench);
    if (app.bench.unsaved_since_ms) all[intent.place].unsaved_since_ms = app.bench.unsaved_since_ms;
    app.open_ladder = intent.place;
    app.bench = std::move(all[intent.place]);
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(intent.place));
    app.beside = std::move(all);
}

void on(Next& next, const AddLadder& intent) {
    App& app = next.app;
    if (app.bench.setup.drill != "recognition" || !app.bench.setup.programme.empty()) return;
    for (const Bench* bench : benches(app))
        if (bench->setup.substance == intent.substance) return;
    save_draft(next);
    keep_aside(app);
    Setup setup = app.bench.setup;
    setup.substance = intent.substance;
    setup.rungs = Rungs::six_of_three;
    app.beside.insert(app.beside.begin() + static_cast<std::ptrdiff_t>(app.open_ladder), app.bench);
    app.open_ladder = app.beside.size();
    app.bench = Bench{};
    app.bench.setup = setup;
    set_up(app, std::move(setup));
}

void on(Next& next, const RemoveLadder& intent) {
    App& app = next.app;
    if (app.bench.setup.drill != "recognition" || !app.bench.setup.programme.empty()) return;
    constexpr std::size_t least = 2;
    if (intent.place > app.beside.size() || app.beside.size() < least) return;
    save_draft(next);
    keep_aside(app);
    std::vector<Bench> all;
    for (const Bench* bench : benches(app)) all.push_back(*bench);
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(intent.place));
    app.open_ladder = 0;
    app.bench = std::move(all.front());
    all.erase(all.begin());
    app.beside = std::move(all);
    set_up(app, app.bench.setup);
}

void on(Next& next, const DragEnd& intent) {
    App& app = next.app;
    const auto request = request_of(app, app.bench.setup);
    const auto* good = std::get_if<solution::PlanRequest>(&request);
    if (good == nullptr || !std::isfinite(intent.to) || intent.to <= 0.0) return;
    const std::vector<double>& targets = good->ladder.targets();
    double lowest = targets.front();
    double highest = targets.back();
    constexpr double least_span = 1.5;  // ends that cross would turn the ladder round
    if (intent.is_highest)
        highest = std::max(intent.to, lowest * least_span);
    else
        lowest = std::min(intent.to, highest / least_span);
    Setup setup = app.bench.setup;
    setup.rungs = Rungs::from_end_to_end;
    setup.count = std::to_string(targets.size());
    setup.lowest = significant(lowest, 2);
    setup.ratio = significant(std::pow(highest / number_from_typed(setup.lowest).value_or(lowest),
                                       1.0 / static_cast<double>(targets.size() - 1)),
                              3);
    if (setup == app.bench.setup) return;
    // One pull is one thing to take back, however many frames it lasts.
    if (app.bench.setup.rungs == Rungs::from_end_to_end && app.bench.notes.empty())
        set_up(app, std::move(setup));
    else
        on(next, ChangeSetup{std::move(setup)});
}

void on(Next& next, const TypeKitchenPath& intent) {
    next.app.kitchen_path = intent.text;
}

void on(Next& next, const LoadKitchen&) {
    App& app = next.app;
    OwnKitchen own = with_kitchen(app, app.kitchen_path);
    app.content = std::move(own.content);
    Setup setup = app.bench.setup;
    setup.kitchen = own.id;
    setup.kitchen_file = app.kitchen_path;
    app.kitchen_path.clear();
    on(next, ChangeSetup{std::move(setup)});
}

}  // namespace sipladder::gui
