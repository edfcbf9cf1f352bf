// The Class place: its classes and steps, the plan, sheets and results. What takes long is a job for the
// worker.

#include "drills/record_class.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/class_parts.hpp"
#include "gui/app/class_shape.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
namespace record = drills::record;
namespace sheets = drills::sheets;
namespace fs = std::filesystem;

void ask(Classroom& room, std::string what, std::function<ClassFound()> work) {
    room.job = ClassJob{++room.generation, std::move(what), std::move(work)};
}

void want_results(Classroom& room, const App& app) {
    if (room.results || !room.kept) return;
    const auto names = [&] {
        std::vector<std::string> all = room.kept->bottled.names;
        if (room.for_the_wall)
            all = classroom::wall_names(room.kept->service.seats.size(), derived(room.kept->service.seed, 3));
        return all;
    }();
    ask(room, "The ballots are being counted.",
        [kept = room.kept, entry = room.entry, content = app.shipped, names]() -> ClassFound {
            return std::make_shared<const classroom::ClassResults>(classroom::class_results(
                kept->service, classroom::ballots_of(entry, kept->service), names, *content));
        });
}

/// The class with its mixes, as at the time it was kept.
/// @throws Refused where the content has changed since
classroom::PreparedClass with_mixes(const KeptDesign& kept, const content::Content& content) {
    classroom::PreparedClass planned =
        classroom::prepared(kept.chosen, content, kept.service.seed, "the class");
    const classroom::ClassChoice now = classroom::in_bottles(kept.chosen, planned);
    classroom::PreparedClass again = kept.bottled;
    again.mixes = std::move(planned.mixes);
    const auto bottles = [](const classroom::ClassPlan& plan) {
        std::vector<std::pair<std::string, double>> all;
        for (const classroom::ClassDrill& drill : plan.drills)
            for (const classroom::Sample& sample : drill.samples)
                all.emplace_back(sample.bottle, sample.level);
        return all;
    };
    if (bottles(planned.plan) != bottles(kept.bottled.plan))
        throw Refused("Sheets", "the content or the program plans this class in another way by now",
                      "the bench sheet that was printed then, or a new design under Plan");
    return again;
}

/// Names for a file, which others may read: those of who agrees to be recorded.
std::vector<std::string> names_agreed(const Classroom& room) {
    std::vector<std::string> names = room.kept->bottled.names;
    for (std::size_t seat = 0; seat < names.size(); ++seat) {
        const auto member = std::ranges::find_if(
            room.members, [&](const ClassMember& one) { return room.seats[seat] == one.id; });
        if (member == room.members.end() || !member->agrees) names[seat].clear();
    }
    return names;
}

std::string folder_for(const App& app, const std::string& what) {
    const std::string time = to_iso8601(app.now);
    return what + "_" + to_date(app.now) + "_" + time.substr(11, 2) + time.substr(14, 2) + time.substr(17, 2);
}

void take(Next& next, const std::shared_ptr<const classroom::PreparedClass>& planned) {
    App& app = next.app;
    Classroom& room = app.classroom;
    const classroom::ClassChoice bottled = classroom::in_bottles(room.choice, *planned);
    record::KeptClass kept{.seed = room.seed, .chosen = room.choice, .bottled = bottled, .members = {}};
    for (const ClassMember& member : room.members) kept.members.push_back(member.id);
    add_class_fact(next, *room.id, record::class_row::kept, record::body_of(kept));
    const Uuid fact = std::get<journal::Fact>(next.rows.back()).id;
    room.kept = kept_design(fact, app.now, room.seed, room.choice, bottled, *app.shipped);
    room.seats.assign(room.kept->service.seats.size(), std::nullopt);
    for (std::size_t seat = 0; seat < kept.members.size(); ++seat) room.seats[seat] = kept.members[seat];
    room.entry = classroom::begin(room.kept->service);
    for (std::size_t seat = 0; seat < room.members.size(); ++seat)
        if (!room.members[seat].agrees)
            room.entry = classroom::came(std::move(room.entry), seat, false, room.kept->service);
    room.results.reset();
    room.step = ClassStep::sheets;
}

void take(Next& next, const std::shared_ptr<const ClassPapers>& made) {
    Classroom& room = next.app.classroom;
    const fs::path folder = next.app.sheets / made->folder;
    sheets::write_papers(made->papers, folder);
    room.written.clear();
    for (const sheets::ClassPaper& paper : made->papers)
        room.written.push_back(paper.name + ": " + paper.what);
    room.written_to = folder.string();
}

void take(Next& next, const std::shared_ptr<const classroom::ClassResults>& results) {
    next.app.classroom.results = results;
}

void take(Next& /*next*/, const std::vector<Problem>& problems) {
    throw Refused(problems);
}

}  // namespace

Classroom& open_room(Next& next) {
    if (!next.app.classroom.id) throw Refused("Class", "none is open", "make one, or open one of the list");
    return next.app.classroom;
}

const KeptDesign& kept_of(const Classroom& room) {
    if (!room.kept) throw Refused("Class", "its design is not chosen yet", "choose it under Plan");
    return *room.kept;
}

ClassFound run(const ClassJob& job) noexcept {
    try {
        return job.work();
    } catch (const Refused& refused) {
        return refused.problems();
    } catch (const Failed& failed) {
        return std::vector<Problem>{{"Class", failed.what(), "put it right and do it again"}};
    }
}

void on(Next& next, const TypeClassTitle& intent) {
    next.app.classroom.typed_title = intent.text;
}

void on(Next& next, const MakeClass&) {
    App& app = next.app;
    Classroom& room = app.classroom;
    const std::string title{trimmed(room.typed_title)};
    if (title.empty())
        throw Refused("Class", "has no name", "a few words: \"Evening class, sweet and sour\"");
    if (std::ranges::find(room.all, title, &ClassName::title) != room.all.end())
        throw Refused("Class", "\"" + title + "\" is already here",
                      "another name, so that classes never mix");
    const Uuid id = add_person(next, title);
    add_class_fact(next, id, record::class_row::choice, "{}");
    room.all.push_back({id, title});
    room.id = id;
    room.title = title;
    room.typed_title.clear();
    room.members.clear();
    room.kept.reset();
    room.choice = usual_class(*app.shipped);
    room.step = ClassStep::roster;
}

void on(Next& next, const OpenClass& intent) {
    save_class_choice(next);
    open_class(next.app, intent.id);
    if (next.app.classroom.kept) next.app.classroom.step = ClassStep::entry;
}

void on(Next& next, const LeaveClass&) {
    save_class_choice(next);
    next.app.classroom.id.reset();
    next.app.classroom.job.reset();
}

void on(Next& next, const GoToStep& intent) {
    Classroom& room = open_room(next);
    if (intent.step != ClassStep::roster && room.members.empty() && !room.kept)
        throw Refused("Class", "nobody is on the roster yet", "names, or a number of seats");
    if (intent.step > ClassStep::plan) kept_of(room);
    save_class_choice(next);
    room.step = intent.step;
    room.erasing.reset();
    room.written.clear();
    if (intent.step == ClassStep::results) want_results(room, next.app);
}

// ---- plan

void on(Next& next, const ShapeClass& intent) {
    Classroom& room = open_room(next);
    room.choice = shaped(room.choice, intent, *next.app.shipped, *next.app.content);
    choice_changed(next);
}

void on(Next& next, const KeepClass&) {
    Classroom& room = open_room(next);
    if (room.members.empty()) throw Refused("Roster", "is empty", "names, or a number of seats");
    if (room.choice.drills.empty()) throw Refused("Plan", "has no drill", "at least one");
    save_class_choice(next);
    room.seed = Seed{next.app.chance.bits()};
    ask(room, "The recipe for everybody is being worked out.",
        [choice = room.choice, content = next.app.shipped, letters = room.seed]() -> ClassFound {
            return std::make_shared<const classroom::PreparedClass>(
                classroom::prepared(choice, *content, letters, "Plan"));
        });
}

void on(Next& next, const ClassReady& intent) {
    Classroom& room = next.app.classroom;
    if (!room.job || room.job->generation != intent.generation) return;  // of a class that was left since
    room.job.reset();
    std::visit([&](const auto& found) { take(next, found); }, intent.found);
}

// ---- sheets and results

void on(Next& next, const WriteClassSheets&) {
    Classroom& room = open_room(next);
    kept_of(room);
    ask(room, "The sheets are being written.",
        [kept = room.kept, names = names_agreed(room), content = next.app.shipped, paper = next.app.paper,
         volume = next.app.usual.volume, folder = folder_for(next.app, "class_sheets")]() -> ClassFound {
            const bool is_mixed = std::ranges::any_of(
                kept->chosen.drills, [](const classroom::WantedDrill& one) { return !one.ladders.empty(); });
            const classroom::PreparedClass planned = is_mixed ? with_mixes(*kept, *content) : kept->bottled;
            auto made = std::make_shared<ClassPapers>();
            made->folder = folder;
            made->papers = sheets::class_sheets(planned, kept->service, kept->made, paper, volume);
            classroom::ClassChoice bottled = classroom::in_bottles(kept->chosen, kept->bottled);
            bottled.names = names;
            made->papers.push_back({"class.json", classroom::class_json(bottled),
                                    "the class for sipladder-cli sheets and ballots"});
            return std::shared_ptr<const ClassPapers>(std::move(made));
        });
}

void on(Next& next, const WriteClassReports&) {
    Classroom& room = open_room(next);
    kept_of(room);
    ask(room, "The reports are being written.",
        [kept = room.kept, entry = room.entry, content = next.app.shipped, paper = next.app.paper,
         now = next.app.now, wall = room.for_the_wall,
         folder = folder_for(next.app, "class_reports")]() -> ClassFound {
            const classroom::Ballots ballots = classroom::ballots_of(entry, kept->service);
            auto made = std::make_shared<ClassPapers>();
            made->folder = folder;
            made->papers =
                sheets::class_reports(kept->bottled, kept->service, ballots, *content, now, paper, wall);
            made->papers.push_back({"ballots.csv", classroom::ballots_csv(ballots, kept->service),
                                    "as typed in, one row a line"});
            return std::shared_ptr<const ClassPapers>(std::move(made));
        });
}

void on(Next& next, const TickWall& intent) {
    Classroom& room = open_room(next);
    room.for_the_wall = intent.on;
    room.results.reset();
    want_results(room, next.app);
}

}  // namespace sipladder::gui
