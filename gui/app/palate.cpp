// The Palate: what was found, made anew when the history is another one, and the way from advice to a
// prepared sitting.

#include "gui/app/palate.hpp"

#include "drills/bottles.hpp"
#include "drills/record_notes.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"
#include "gui/app/fit_job.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace sipladder::gui {

namespace {

using drills::PalateQuestion;

std::string spoiler_text(const content::Content& content, const std::string& id) {
    const auto& all = content.sitting.spoilers;
    const auto known = std::ranges::find(all, id, &content::Spoiler::id);
    return known == all.end() ? id : known->text;
}

std::vector<std::string> notes_of(const content::Content& content, const journal::Sitting& sitting) {
    // Sittings that were never asked about have an empty body.
    if (sitting.body.empty() || sitting.body == "{}") return {};
    std::vector<std::string> notes;
    for (const std::string& id : drills::record::read_circumstances(sitting).spoilers)
        notes.push_back(spoiler_text(content, id));
    return notes;
}

std::vector<drills::Tasted> tasted_in(const FitJob& job, const std::stop_token& stop) {
    std::map<Uuid, std::vector<std::string>> notes;
    for (const journal::Sitting& sitting : job.journal->sittings(job.person))
        if (std::vector<std::string> some = notes_of(*job.content, sitting); !some.empty())
            notes.emplace(sitting.id, std::move(some));
    std::vector<drills::Tasted> tasted;
    tasted.reserve(job.history->done.size());
    for (const PastDrill& past : job.history->done) {
        if (stop.stop_requested()) break;
        const auto noted = notes.find(past.sitting);
        tasted.push_back({&past.state, past.started, past.last,
                          noted == notes.end() ? std::vector<std::string>{} : noted->second});
    }
    return tasted;
}

/// Mixes are read from the newest on, until one fits: the bottles of a drill were seldom mixed long before.
drills::MixOf mix_in(const History& history) {
    return [&history](const drills::Plan& plan, std::size_t line,
                      const Instant& before) -> const drills::record::KeptMix* {
        for (std::size_t i = 0; i < history.mixes.size(); ++i)
            if (history.mixes.lines()[i].at.utc_ms <= before.utc_ms &&
                drills::is_from(plan, line, history.mixes[i].ladder))
                return &history.mixes[i];
        return nullptr;
    };
}

void open_row(App& app) {
    if (!app.palate) {
        app.palate_opened.reset();
        return;
    }
    const auto& rows = app.palate->palate.of(app.question);
    if (!app.open_row || *app.open_row >= rows.size()) {
        app.open_row.reset();
        app.palate_opened.reset();
        return;
    }
    const PalateOpened* before = app.palate_opened.get();
    if (before != nullptr && before->found == app.palate && before->question == app.question &&
        before->row == *app.open_row)
        return;
    app.palate_opened = std::make_shared<const PalateOpened>(
        PalateOpened{app.palate, app.question, *app.open_row,
                     drills::detail_of(rows[*app.open_row], app.palate->tasted, *app.content,
                                       mix_in(*app.palate->history))});
}

/// The form for one drill of what is advised.
Setup setup_for(const App& app, const drills::NextDrill& next) {
    Setup setup = app.bench.setup;
    setup.programme.clear();
    setup.drill = "detection";
    setup.substance = next.substance;
    setup.base = next.base;
    setup.rungs = next.has_own ? Rungs::around_mine : Rungs::six_of_three;
    setup.pours = next.blinding == drills::Blinding::served ? Pours::helper : Pours::alone;
    setup.people = "1";
    setup.cup_mL = "10";
    return setup;
}

void prepare(Next& next, const Setup& setup, std::optional<std::size_t> presentations) {
    on(next, ChangeSetup{setup});
    // Another substance brings its usual number with it; what was advised is set after that.
    if (presentations && next.app.bench.setup.presentations != *presentations) {
        Setup with = next.app.bench.setup;
        with.presentations = *presentations;
        on(next, ChangeSetup{with});
    }
    on(next, GoTo{Place::prepare});
}

}  // namespace

PalateFound palate_of(const FitJob& job, const std::stop_token& stop) {
    PalateFound found{.person = job.person,
                      .history = job.history,
                      .tasted = tasted_in(job, stop),
                      .palate = {},
                      .date = to_date(job.now),
                      .next = {}};
    if (stop.stop_requested()) return found;
    found.palate = drills::palate(found.tasted, *job.content);
    found.next = drills::next_drills(found.palate, found.tasted, *job.content, job.now,
                                     job.history->no_ethanol_reasons, job.history->goals);
    return found;
}

void look_at_palate(App& app) {
    const bool is_of_person = app.palate && app.person == app.palate->person;
    if (!app.person || !app.history || !is_of_person) app.palate.reset();
    if (!app.person || !app.history) {
        app.palate_awaited.reset();
        app.palate_opened.reset();
        return;
    }
    const std::string today = to_date(app.now);
    if (app.palate && app.palate->history == app.history && app.palate->date == today) {
        app.palate_awaited.reset();
    } else if (const auto& awaited = app.palate_awaited;
               awaited && awaited->job.history == app.history && to_date(awaited->job.now) == today) {
        // On its way, or met problems: not a second time.
    } else if (app.history->done.unread() <= most_at_once) {
        app.palate_awaited.reset();
        app.palate = std::make_shared<const PalateFound>(palate_of(fit_job(app)));
    } else {
        app.palate_awaited = Awaited{fit_job(app)};
    }
    open_row(app);
}

void on(Next& next, const PalateReady& intent) {
    if (auto found = wanted_of(intent, next.app.palate_awaited, next.app.person))
        next.app.palate = std::move(found);
}

PalateOffer offer_for(PalateQuestion question) {
    switch (question) {
        case PalateQuestion::how_little:
            return {
                "Detection fills this tab: three cups, which one holds it? The first threshold stands here "
                "once one is measured.",
                "Prepare a first ladder", "detection", ""};
        case PalateQuestion::how_different:
            return {
                "Difference fills this tab: two cups, which is the stronger? So does putting close levels in "
                "order.",
                "Prepare two cups that differ", "difference", ""};
        case PalateQuestion::which_one:
            return {"Naming fills this tab: clear single cups, what is it? It shows what you take for what.",
                    "Prepare a palate check", "", "palate_check"};
        case PalateQuestion::how_strong:
            return {
                "Scaling fills this tab: single cups, how strong, and which of your words fits? Balance and "
                "weight stand here too.",
                "Prepare to calibrate my words", "", "calibrate_my_words"};
        case PalateQuestion::where:
            return {"The mouth map fills this tab: single cups, where do you feel it?", "Prepare a mouth map",
                    "", "where_i_feel_it"};
        case PalateQuestion::how_long:
            break;
    }
    return {
        "Persistence fills this tab: how long after spitting is it gone? The ready-made sitting times acid, "
        "plain and with sugar, after two drills of balance.",
        "Prepare what hides what", "", "what_hides_what"};
}

void on(Next& next, const ChooseQuestion& intent) {
    next.app.question = intent.question;
    next.app.open_row.reset();
}

std::optional<GoalOf> goal_of_open_row(const App& app) {
    if (app.question != PalateQuestion::how_little || !app.palate || !app.open_row) return std::nullopt;
    const auto& rows = app.palate->palate.of(app.question);
    if (*app.open_row >= rows.size() || rows[*app.open_row].fits.empty()) return std::nullopt;
    const drills::PalateFit& fit = rows[*app.open_row].fits.front();
    const drills::Plan& plan = app.palate->tasted[fit.drill].state->plan;
    const std::size_t line = drills::line_of_series(plan, fit.series);
    return GoalOf{drills::substance_of(plan, line).id, plan.base_name, fit.threshold.scale};
}

void on(Next& next, const OpenRow& intent) {
    App& app = next.app;
    if (!app.palate || intent.row >= app.palate->palate.of(app.question).size()) return;
    app.open_row = intent.row;
    app.typed_goal.clear();
    if (const auto of = goal_of_open_row(app))
        if (const auto goal = drills::goal_of(app.history->goals, of->substance, of->base_name))
            app.typed_goal = exact(*goal);
}

void on(Next& next, const TypeGoal& intent) {
    next.app.typed_goal = intent.text;
}

void on(Next& next, const KeepGoal&) {
    App& app = next.app;
    const auto of = goal_of_open_row(app);
    if (!of || !app.person) return;
    drills::record::Goal goal{of->substance, of->base_name, number_from_typed(app.typed_goal)};
    const bool is_blank = trimmed(app.typed_goal).empty();
    if (!is_blank && (!goal.value || !(*goal.value > 0.0)))
        throw Refused("Goal", "\"" + app.typed_goal + "\"",
                      "a threshold above 0 in " + unit_text(of->scale) + ", or nothing for no goal");
    next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                         .person = *app.person,
                                         .kind = "goal",
                                         .at = app.now,
                                         .body = drills::record::body_of(goal),
                                         .struck = {}});
    next.read_again = true;
}

void on(Next& next, const CloseRow&) {
    next.app.open_row.reset();
}

void on(Next& next, const PrepareNext& intent) {
    const App& app = next.app;
    if (!app.palate || intent.which >= app.palate->next.size()) return;
    const drills::NextDrill advised = app.palate->next[intent.which];
    if (const std::string wanted = setup_for(app, advised).substance;
        app.content->struck_out.contains(wanted))
        throw Refused("Prepare", app.content->substance(wanted).name + " is struck out",
                      "put it back first: Records, own equipment, ladders, substances");
    prepare(next, setup_for(app, advised), advised.presentations);
}

void on(Next& next, const PrepareOffer&) {
    const PalateOffer offer = offer_for(next.app.question);
    Setup setup = next.app.bench.setup;
    const auto& programmes = next.app.content->programmes;
    const bool is_ready_made =
        std::ranges::find(programmes, offer.programme, &content::Programme::id) != programmes.end();
    setup.programme = is_ready_made ? offer.programme : std::string{};
    if (is_ready_made) setup.pours = Pours::as_written;
    if (!offer.drill.empty()) setup.drill = offer.drill;
    prepare(next, setup, std::nullopt);
}

}  // namespace sipladder::gui
