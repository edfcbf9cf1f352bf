// The Class place: roster, plan, sheets, entry, results. What is typed is in the journal before the next cell
// comes; what takes long is a job for the worker.

#include "drills/record_class.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/class_shape.hpp"
#include "gui/app/handlers.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
namespace record = drills::record;
namespace sheets = drills::sheets;
namespace fs = std::filesystem;

constexpr std::size_t most_people = 200;

Classroom& open_room(Next& next) {
    if (!next.app.classroom.id) throw Refused("Class", "none is open", "make one, or open one of the list");
    return next.app.classroom;
}

const KeptDesign& kept_of(const Classroom& room) {
    if (!room.kept) throw Refused("Class", "its design is not chosen yet", "choose it under Plan");
    return *room.kept;
}

ClassMember& member_of(Classroom& room, std::size_t index) {
    SIPLADDER_EXPECT(index < room.members.size());
    return room.members[index];
}

void write_member(Next& next, const ClassMember& member, bool is_listed = true) {
    add_class_fact(next, member.id, record::class_row::member,
                   record::body_of(record::ClassMember{.of_class = *next.app.classroom.id,
                                                       .agrees = member.agrees,
                                                       .no_ethanol = member.no_ethanol,
                                                       .is_listed = is_listed}));
}

void roster_changed(Next& next) {
    follow_roster(next.app);
    next.app.classroom.is_choice_changed = true;
}

Uuid add_person(Next& next, const std::string& name) {
    const journal::Person person{.id = uuid_from(next.app.chance),
                                 .name = name,
                                 .invented = next.app.is_demo(),
                                 .created = next.app.now};
    next.rows.emplace_back(person);
    return person.id;
}

/// "Ana, Ben; Cleo" names three, "24" asks for as many seats without names.
std::vector<std::string> names_in(const std::string& typed, std::size_t there) {
    const std::string text{trimmed(typed)};
    if (!text.empty() && std::ranges::all_of(text, [](unsigned char c) { return std::isdigit(c) != 0; })) {
        const auto wanted = number_from_typed(text);
        if (!wanted || *wanted < 1.0 || *wanted > static_cast<double>(most_people))
            throw Refused("Names", "asks for " + text + " seats", "1 to 200");
        std::vector<std::string> names;
        names.reserve(static_cast<std::size_t>(*wanted));
        for (std::size_t i = 0; i < static_cast<std::size_t>(*wanted); ++i)
            names.push_back("Seat " + std::to_string(there + i + 1));
        return names;
    }
    std::vector<std::string> names;
    std::string one;
    const auto take = [&] {
        if (!trimmed(one).empty()) names.emplace_back(trimmed(one));
        one.clear();
    };
    for (const char c : text)
        if (c == ',' || c == ';' || c == '\n')
            take();
        else
            one += c;
    take();
    return names;
}

void ask(Classroom& room, std::string what, std::function<ClassFound()> work) {
    room.job = ClassJob{++room.generation, std::move(what), std::move(work)};
}

/// The rows that lead from one state of typing to the next: each line that changed, in either pass.
void write_lines(Next& next, const classroom::Entry& before, const classroom::Entry& after) {
    const Classroom& room = next.app.classroom;
    const KeptDesign& kept = kept_of(room);
    for (const classroom::Pass pass : {classroom::Pass::first, classroom::Pass::second}) {
        const auto& old_lines = before.passes[static_cast<std::size_t>(pass)];
        const auto& new_lines = after.passes[static_cast<std::size_t>(pass)];
        std::set<classroom::Cell> cells;
        for (const auto& [cell, answer] : old_lines) cells.insert(cell);
        for (const auto& [cell, answer] : new_lines) cells.insert(cell);
        for (const classroom::Cell& cell : cells) {
            const auto old_line = old_lines.find(cell);
            const auto new_line = new_lines.find(cell);
            const bool was = old_line != old_lines.end();
            const bool is = new_line != new_lines.end();
            if (was && is && old_line->second == new_line->second) continue;
            SIPLADDER_EXPECT(room.seats[cell.seat].has_value());
            record::BallotLine line{.kept = kept.fact, .pass = pass, .cell = cell, .answer = {}};
            if (is) line.answer = new_line->second;
            add_class_fact(next, *room.seats[cell.seat], record::class_row::ballot,
                           record::body_of(line, kept.service));
        }
    }
}

void enter(Next& next, classroom::Entry after) {
    Classroom& room = next.app.classroom;
    write_lines(next, room.entry, after);
    if (room.entry.passes != after.passes || room.entry.absent != after.absent) room.results.reset();
    room.entry = std::move(after);
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

// ---- roster

void on(Next& next, const TypeMembers& intent) {
    open_room(next).typed_members = intent.text;
}

void on(Next& next, const AddMembers&) {
    Classroom& room = open_room(next);
    const std::vector<std::string> names = names_in(room.typed_members, room.members.size());
    if (names.empty())
        throw Refused("Names", "are empty", "names with commas between them, or a number of seats");
    if (room.members.size() + names.size() > most_people)
        throw Refused("Names", "make " + std::to_string(room.members.size() + names.size()) + " people",
                      "at most 200 in a class");
    for (const std::string& name : names) {
        if (std::ranges::find(room.members, name, &ClassMember::name) != room.members.end())
            throw Refused("Names", "\"" + name + "\" is on the roster already",
                          "a letter more tells two apart");
        room.members.push_back({.id = add_person(next, name), .name = name});
        write_member(next, room.members.back());
    }
    room.typed_members.clear();
    roster_changed(next);
}

void on(Next& next, const TickAgrees& intent) {
    Classroom& room = open_room(next);
    ClassMember& member = member_of(room, intent.member);
    member.agrees = intent.on;
    write_member(next, member);
    if (!room.kept) return;
    const auto seat = std::ranges::find(room.seats, std::optional(member.id));
    if (seat == room.seats.end()) return;
    // Who takes their word back is not typed in from now on; what was is taken out with it.
    enter(next, classroom::came(room.entry, static_cast<std::size_t>(seat - room.seats.begin()), intent.on,
                                room.kept->service));
}

void on(Next& next, const TickNoEthanol& intent) {
    Classroom& room = open_room(next);
    ClassMember& member = member_of(room, intent.member);
    member.no_ethanol = intent.on;
    write_member(next, member);
    roster_changed(next);
}

void on(Next& next, const UnlistMember& intent) {
    Classroom& room = open_room(next);
    write_member(next, member_of(room, intent.member), false);
    room.members.erase(room.members.begin() + static_cast<std::ptrdiff_t>(intent.member));
    room.erasing.reset();
    roster_changed(next);
}

void on(Next& next, const AskToErase& intent) {
    Classroom& room = open_room(next);
    room.erasing = intent.member;
    room.typed_erase.clear();
}

void on(Next& next, const TypeErase& intent) {
    open_room(next).typed_erase = intent.text;
}

void on(Next& next, const EraseMember&) {
    Classroom& room = open_room(next);
    if (!room.erasing) return;
    const ClassMember member = member_of(room, *room.erasing);
    if (trimmed(room.typed_erase) != member.name)
        throw Refused("Erase", "the name typed is not \"" + member.name + "\"", "the very name, to be sure");
    save_class_choice(next);
    next.erase = member.id;
}

// ---- plan

void on(Next& next, const ShapeClass& intent) {
    Classroom& room = open_room(next);
    room.choice = shaped(room.choice, intent, *next.app.shipped, *next.app.content);
    roster_changed(next);
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
        [kept = room.kept, content = next.app.shipped, paper = next.app.paper, volume = next.app.usual.volume,
         folder = folder_for(next.app, "class_sheets")]() -> ClassFound {
            const bool is_mixed = std::ranges::any_of(
                kept->chosen.drills, [](const classroom::WantedDrill& one) { return !one.ladders.empty(); });
            const classroom::PreparedClass planned = is_mixed ? with_mixes(*kept, *content) : kept->bottled;
            auto made = std::make_shared<ClassPapers>();
            made->folder = folder;
            made->papers = sheets::class_sheets(planned, kept->service, kept->made, paper, volume);
            classroom::ClassChoice bottled = classroom::in_bottles(kept->chosen, kept->bottled);
            bottled.names = kept->bottled.names;
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

// ---- entry

void on(Next& next, const BallotKey& intent) {
    Classroom& room = open_room(next);
    enter(next, classroom::typed(room.entry, intent.character, kept_of(room).service));
}
void on(Next& next, const BallotBack&) {
    Classroom& room = open_room(next);
    enter(next, classroom::back(room.entry, kept_of(room).service));
}
void on(Next& next, const BallotSkip&) {
    Classroom& room = open_room(next);
    enter(next, classroom::skipped(room.entry, kept_of(room).service));
}
void on(Next& next, const BallotGo& intent) {
    Classroom& room = open_room(next);
    enter(next, classroom::moved(room.entry, intent.cell, kept_of(room).service));
}

void on(Next& next, const SeatCame& intent) {
    Classroom& room = open_room(next);
    const classroom::Service& service = kept_of(room).service;
    SIPLADDER_EXPECT(intent.seat < service.seats.size());
    std::optional<Uuid>& who = room.seats[intent.seat];
    const std::string seat = "Seat " + std::to_string(intent.seat + 1);
    if (!who && intent.came) {  // a late-comer takes a spare seat
        room.members.push_back({.id = {}, .name = "Late-comer, seat " + std::to_string(intent.seat + 1)});
        room.members.back().id = add_person(next, room.members.back().name);
        write_member(next, room.members.back());
        who = room.members.back().id;
    }
    if (!who) return;
    const auto member = std::ranges::find(room.members, *who, &ClassMember::id);
    if (intent.came && member == room.members.end())
        throw Refused(seat, "is nobody's any more", "the seats of people on the roster");
    if (intent.came && !member->agrees)
        throw Refused(seat, member->name + " does not agree to be recorded",
                      "their word on the roster first");
    add_class_fact(next, *who, record::class_row::seat,
                   record::body_of(record::SeatTaken{room.kept->fact, intent.seat, intent.came}));
    enter(next, classroom::came(room.entry, intent.seat, intent.came, service));
}

void on(Next& next, const BeginPass& intent) {
    Classroom& room = open_room(next);
    const classroom::Service& service = kept_of(room).service;
    if (intent.pass == classroom::Pass::second) {
        enter(next, classroom::second_pass(room.entry, service));
        return;
    }
    classroom::Entry entry = room.entry;
    entry.pass = classroom::Pass::first;
    const classroom::Entry first = classroom::begin(service);
    if (first.at) entry = classroom::moved(std::move(entry), *first.at, service);
    enter(next, std::move(entry));
}

void on(Next& next, const SettleBallot& intent) {
    Classroom& room = open_room(next);
    kept_of(room);
    enter(next, classroom::settled(room.entry, intent.cell, intent.right));
}

}  // namespace sipladder::gui
