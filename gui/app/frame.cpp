// What belongs to no place: going about, people, cautions, the demo, look.

#include "drills/record_notes.hpp"
#include "engine/journal/copies.hpp"
#include "engine/text.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/sitting.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

constexpr double smallest_scale = 0.75;
constexpr double largest_scale = 3.0;

void take_person(Next& next, const Uuid& id) {
    App& app = next.app;
    app.person = id;
    app.own_form.reset();
    take_own_things(app);
    app.running.reset();
    app.just_done.reset();
    app.open_row.reset();
    app.chosen_mix.reset();
    app.chosen_others.clear();
    app.ticked_reasons.clear();
    app.spoilers = {};
    app.chosen_prior.reset();
    app.history = std::make_shared<const History>(read_history(app.journal, *app.content, id, app.now));
    if (app.history->mixes.size() == 1) app.chosen_mix = 0;  // nothing to choose among
    app.own_choice = false;
    find_sitting(app);
    follow_sitting(app);
    app.earlier.clear();
    // What was noted at the bench belongs to who noted it.
    if (app.history->draft)
        take_up(app, *app.history->draft);
    else
        set_up_for_person(app);
}

void take_nobody(App& app) {
    app.person.reset();
    app.own_form.reset();
    drop_own_things(app);
    app.history.reset();
    app.running.reset();
    app.just_done.reset();
    app.dialog = Dialog::none;
    app.bench = {};
    app.beside.clear();
    app.open_ladder = 0;
    app.bench.setup = first_setup(app);
    app.earlier.clear();
}

void take_journal(Next& next, std::shared_ptr<journal::Journal> journal) {
    App& app = next.app;
    app.journal = std::move(journal);
    app.people = people_here(*app.journal);
    app.classroom = {};
    app.records_look = {};
    read_classes(app);
    take_nobody(app);
    if (!app.people.empty())
        take_person(next, app.people.back().id);
    else
        set_up(app, app.bench.setup);
}

}  // namespace

std::vector<journal::Person> people_here(const journal::Journal& journal) {
    std::vector<journal::Person> people = journal.people();
    const std::vector<Uuid> elsewhere = people_of_classes(journal);
    std::erase_if(people, [&](const journal::Person& person) {
        return std::ranges::find(elsewhere, person.id) != elsewhere.end();
    });
    return people;
}

void take_another(Next& next, const Uuid& gone) {
    App& app = next.app;
    take_nobody(app);
    app.place = Place::prepare;
    for (const journal::Person& person : app.people)
        if (person.id != gone) return take_person(next, person.id);
    app.sitting.reset();
    set_up(app, app.bench.setup);
    app.place = Place::first_start;
}

std::shared_ptr<const journal::Journal> made_demo(const App& app) {
    auto made = std::make_shared<journal::Journal>(journal::Journal::in_memory());
    drills::make_demo(*made, *app.shipped, *app.demo, Seed{1});
    if (app.demo_class) add_invented_class(*made, *app.shipped, *app.demo_class, app.demo->starts, Seed{1});
    return made;
}

App::App() = default;
App::App(const App&) = default;
App::App(App&&) noexcept = default;
App& App::operator=(const App&) = default;
App& App::operator=(App&&) noexcept = default;
App::~App() = default;

App start(Beginning beginning, const Instant& now) {
    Next next;
    next.app.content = std::move(beginning.content);
    next.app.shipped = next.app.content;
    next.app.demo = std::move(beginning.demo);
    next.app.demo_class = std::move(beginning.demo_class);
    next.app.sheets = std::move(beginning.sheets);
    next.app.chance = Random{beginning.seed};
    next.app.now = now;
    next.app.usual = mended(std::move(beginning.usual));
    take_usual(next.app);
    take_journal(next, std::move(beginning.journal));
    App& app = next.app;
    if (app.person) app.place = app.history->unfinished.empty() ? Place::prepare : Place::taste;
    return std::move(next.app);
}

void on(Next& next, const GoTo& intent) {
    if (next.app.running && intent.place != Place::taste)
        throw Refused("Taste", "a drill is under way, and other places would tell its levels",
                      "finish it, or stop it there and keep what was done");
    save_draft(next);
    next.app.dialog = Dialog::none;
    save_class_choice(next);
    next.app.place = next.app.person || intent.place == Place::classroom ? intent.place : Place::first_start;
    if (intent.place == Place::taste || intent.place == Place::palate) next.app.open_row.reset();
}

void on(Next& next, const OpenDialog& intent) {
    next.app.dialog = intent.dialog;
    next.app.typed_usual_cup.reset();
    next.app.records_look.asked.reset();  // what was about to be struck out somewhere else
    next.app.records_look.reason.clear();
}
void on(Next& next, const ToggleHelp&) {
    next.app.help_open = !next.app.help_open;
}
void on(Next& next, const OpenChapter& intent) {
    next.app.chapter = intent.chapter;
}
void on(Next& next, const DismissNotice&) {
    next.app.notice.reset();
}
void on(Next& next, const MissCopy& intent) {
    std::string line = "Today's copy of the journal could not be made: ";
    line.append(intent.why);
    next.app.notice = Notice{.lines = {std::move(line)}, .is_problem = true};
}
void on(Next& next, const SetLook& intent) {
    next.app.dark = intent.dark;
}
void on(Next& next, const SetPaper& intent) {
    next.app.paper = intent.paper;
}
void on(Next& next, const SetScale& intent) {
    next.app.scale = std::clamp(intent.scale, smallest_scale, largest_scale);
}

void on(Next& next, const TakeBack&) {
    App& app = next.app;
    if (app.running) {
        app.running->stop_asked = false;
        app.running->picked.reset();
        app.running->certainty.reset();
        app.running->found.reset();
    } else if (app.place == Place::classroom && app.classroom.step == ClassStep::entry &&
               app.classroom.kept) {
        on(next, BallotBack{});
    } else if (app.place == Place::prepare && !app.earlier.empty()) {
        const drills::record::MixDraft earlier = app.earlier.back();
        app.earlier.pop_back();
        save_draft(next);
        take_up(app, earlier);
        if (app.bench.waiting) app.bench.unsaved_since_ms = app.now.monotonic_ms;
    }
}

void on(Next& next, const LookAtDemo&) {
    App& app = next.app;
    if (app.is_demo()) return;
    if (!app.demo)
        throw Refused("demo", "none is shipped with this content", "content/demo/demo.json of the project");
    // A journal of its own, in memory: what is invented never stands beside what was tasted.
    save_draft(next);
    for (const Row& row : next.rows) append(*app.journal, row);
    next.rows.clear();  // they belong to the journal that is left
    if (!app.untouched_demo) app.untouched_demo = made_demo(app);
    app.own_journal = app.journal;
    app.invented_until = app.untouched_demo->newest();
    take_journal(next, std::make_shared<journal::Journal>(journal::in_memory_copy(*app.untouched_demo)));
    if (!app.classroom.all.empty()) open_class(app, app.classroom.all.front().id);
    app.place = Place::palate;
}

void on(Next& next, const LeaveDemo&) {
    if (!next.app.is_demo()) return;
    std::shared_ptr<journal::Journal> own = std::move(next.app.own_journal);
    next.app.own_journal.reset();
    next.app.invented_until.reset();
    take_journal(next, std::move(own));
    next.app.place = next.app.person ? Place::prepare : Place::first_start;
}

void on(Next& next, const TypeName& intent) {
    next.app.typed_name = intent.text;
}

void on(Next& next, const AddPerson&) {
    App& app = next.app;
    const std::string name{trimmed(app.typed_name)};
    if (name.empty()) throw Refused("Name", "is empty", "any name or letters that you know yourself by");
    for (const journal::Person& person : app.people)
        if (person.name == name)
            throw Refused("Name", "\"" + name + "\" is already here",
                          "another name, so that results never mix");
    save_draft(next);
    const journal::Person person{
        .id = uuid_from(app.chance), .name = name, .invented = app.is_demo(), .created = app.now};
    next.rows.emplace_back(person);
    app.people.push_back(person);
    app.typed_name.clear();
    take_person(next, person.id);
    app.dialog = Dialog::cautions;
    app.place = Place::prepare;
}

void on(Next& next, const SwitchPerson& intent) {
    if (next.app.running)
        throw Refused("Person", "a drill is under way",
                      "finish it, or stop it and keep what was done, before another person tastes");
    save_draft(next);
    take_person(next, intent.id);
    next.app.dialog = Dialog::none;
    if (next.app.place == Place::first_start) next.app.place = Place::prepare;
}

void on(Next& next, const TickReason& intent) {
    if (intent.on)
        next.app.ticked_reasons.insert(intent.reason);
    else
        next.app.ticked_reasons.erase(intent.reason);
}

void on(Next& next, const ReadCautions&) {
    App& app = next.app;
    if (!app.person) throw Refused("Cautions", "there is no person to read them", "add a person first");
    drills::record::CautionsRead read;
    for (const safety::Caution& caution : app.content->cautions.texts) read.cautions.push_back(caution.id);
    read.no_ethanol_reasons.assign(app.ticked_reasons.begin(), app.ticked_reasons.end());
    next.rows.emplace_back(journal::Fact{.id = uuid_from(app.chance),
                                         .person = *app.person,
                                         .kind = "cautions_read",
                                         .at = app.now,
                                         .body = drills::record::body_of(read),
                                         .struck = {}});
    next.read_again = true;
    app.dialog = Dialog::none;
}

}  // namespace sipladder::gui
