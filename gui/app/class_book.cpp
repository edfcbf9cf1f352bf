#include "gui/app/class_book.hpp"

#include "drills/classroom/invented.hpp"
#include "drills/record_class.hpp"
#include "engine/problem.hpp"
#include "gui/app/class_shape.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
namespace record = drills::record;
using record::class_row::ballot;

std::vector<journal::Fact> counted(std::vector<journal::Fact> facts) {
    std::erase_if(facts, [](const journal::Fact& fact) { return fact.struck.has_value(); });
    return facts;
}

std::map<Uuid, std::string> names_of(const journal::Journal& journal) {
    std::map<Uuid, std::string> names;
    for (const journal::Person& person : journal.people()) names.emplace(person.id, person.name);
    return names;
}

/// The last word of each member counts; the roster keeps the order of arrival.
std::vector<ClassMember> members_of(const journal::Journal& journal, const Uuid& id) {
    const std::map<Uuid, std::string> names = names_of(journal);
    std::vector<Uuid> order;
    std::map<Uuid, record::ClassMember> last;
    for (const journal::Fact& fact : counted(journal.facts_of_kind(record::class_row::member))) {
        const record::ClassMember member = record::read_class_member(fact);
        if (member.of_class != id) continue;
        if (!last.contains(fact.person)) order.push_back(fact.person);
        last[fact.person] = member;
    }
    std::vector<ClassMember> members;
    for (const Uuid& person : order)
        if (last[person].is_listed)
            members.push_back({person, names.at(person), last[person].agrees, last[person].no_ethanol});
    return members;
}

std::set<std::size_t> never_typed_in(const Classroom& room, const classroom::Service& service) {
    std::set<std::size_t> seats;
    for (std::size_t seat = 0; seat < service.seats.size(); ++seat) {
        const auto& who = room.seats[seat];
        const auto found = std::ranges::find_if(
            room.members, [&](const ClassMember& member) { return who && member.id == *who; });
        if (found == room.members.end() || !found->agrees) seats.insert(seat);
    }
    return seats;
}

/// Who came and who did not, as it was noted of this design, in order.
std::vector<std::pair<record::SeatTaken, Uuid>> seats_taken(const App& app) {
    const Classroom& room = app.classroom;
    std::vector<std::pair<record::SeatTaken, Uuid>> all;
    for (const journal::Fact& fact : counted(app.journal->facts_of_kind(record::class_row::seat))) {
        const record::SeatTaken taken = record::read_seat_taken(fact);
        if (taken.kept == room.kept->fact && taken.seat < room.kept->service.seats.size())
            all.emplace_back(taken, fact.person);
    }
    return all;
}

/// What was typed in so far.
void read_entry(App& app) {
    Classroom& room = app.classroom;
    const classroom::Service& service = room.kept->service;
    room.entry = classroom::begin(service);
    for (const auto& [taken, person] : seats_taken(app)) {
        if (taken.seat >= service.plan.people) room.seats[taken.seat] = person;
        room.entry = classroom::came(std::move(room.entry), taken.seat, taken.came, service);
    }
    for (const std::size_t seat : never_typed_in(room, service))
        room.entry = classroom::came(std::move(room.entry), seat, false, service);
    for (const journal::Fact& fact : counted(app.journal->facts_of_kind(ballot))) {
        if (record::kept_of_ballot(fact) != room.kept->fact) continue;
        const record::BallotLine line = record::read_ballot_line(fact, service);
        auto& answers = room.entry.passes[static_cast<std::size_t>(line.pass)];
        if (line.answer)
            answers[line.cell] = *line.answer;
        else
            answers.erase(line.cell);
    }
    // The next cell to fill is under the finger.
    while (room.entry.at &&
           classroom::answer_at(room.entry, classroom::Pass::first, *room.entry.at) != nullptr)
        room.entry = classroom::skipped(std::move(room.entry), service);
}

void read_kept(App& app, const journal::Fact& fact) {
    Classroom& room = app.classroom;
    record::KeptClass kept = record::read_kept_class(fact, *app.shipped);
    const std::map<Uuid, std::string> names = names_of(*app.journal);
    for (const Uuid& member : kept.members) {  // who was erased is nobody any more
        const auto name = names.find(member);
        kept.bottled.names.push_back(name == names.end() ? std::string() : name->second);
    }
    room.kept = kept_design(fact.id, fact.at, kept.seed, kept.chosen, kept.bottled, *app.shipped);
    room.seats.assign(room.kept->service.seats.size(), std::nullopt);
    for (std::size_t seat = 0; seat < kept.members.size(); ++seat) room.seats[seat] = kept.members[seat];
    read_entry(app);
}

}  // namespace

std::set<std::size_t> did_not_come(const App& app) {
    std::set<std::size_t> seats;
    for (const auto& [taken, person] : seats_taken(app)) {
        if (taken.came)
            seats.erase(taken.seat);
        else
            seats.insert(taken.seat);
    }
    return seats;
}

std::vector<Uuid> people_of_classes(const journal::Journal& journal) {
    std::vector<Uuid> ids;
    for (const char* kind : {record::class_row::choice, record::class_row::member})
        for (const journal::Fact& fact : journal.facts_of_kind(kind)) ids.push_back(fact.person);
    return ids;
}

void read_classes(App& app) {
    Classroom& room = app.classroom;
    room.all.clear();
    const std::map<Uuid, std::string> names = names_of(*app.journal);
    for (const journal::Fact& fact : app.journal->facts_of_kind(record::class_row::choice))
        if (std::ranges::find(room.all, fact.person, &ClassName::id) == room.all.end())
            room.all.push_back({fact.person, names.at(fact.person)});
    const std::optional<Uuid> open = room.id;
    if (open && std::ranges::find(room.all, *open, &ClassName::id) != room.all.end()) open_class(app, *open);
}

void open_class(App& app, const Uuid& opened) {
    // It may stand in what is replaced here.
    const Uuid id = opened;  // NOLINT(performance-unnecessary-copy-initialization)
    Classroom room;
    room.all = app.classroom.all;
    room.generation = app.classroom.generation + 1;
    room.step = app.classroom.id == id ? app.classroom.step : ClassStep::roster;
    room.for_the_wall = app.classroom.for_the_wall;
    room.id = id;
    for (const ClassName& one : room.all)
        if (one.id == id) room.title = one.title;
    room.members = members_of(*app.journal, id);
    room.choice = usual_class(*app.shipped);
    app.classroom = std::move(room);
    for (const journal::Fact& fact : counted(app.journal->facts(id))) {
        if (fact.kind == record::class_row::choice && fact.body != "{}")
            app.classroom.choice = record::read_class_choice(fact, *app.shipped);
        if (fact.kind == record::class_row::kept) read_kept(app, fact);
    }
    follow_roster(app);
}

void follow_roster(App& app) {
    Classroom& room = app.classroom;
    room.choice.title = room.title;
    room.choice.people = room.members.size();
    room.choice.names.clear();
    std::set<std::size_t> dry;
    for (std::size_t seat = 0; seat < room.members.size(); ++seat) {
        room.choice.names.push_back(room.members[seat].name);
        if (room.members[seat].no_ethanol) dry.insert(seat);
    }
    const std::vector<classroom::ClassDrill> drills =
        classroom::before_mixing(room.choice.drills, *app.shipped);
    for (std::size_t i = 0; i < drills.size(); ++i)
        room.choice.drills[i].drill.sits_out =
            classroom::holds_ethanol(drills[i], *app.shipped) ? dry : std::set<std::size_t>{};
}

void add_class_fact(Next& next, const Uuid& person, const std::string& kind, const std::string& body) {
    next.rows.emplace_back(journal::Fact{.id = uuid_from(next.app.chance),
                                         .person = person,
                                         .kind = kind,
                                         .at = next.app.now,
                                         .body = body,
                                         .struck = {}});
}

void save_class_choice(Next& next) {
    Classroom& room = next.app.classroom;
    if (!room.id || !room.is_choice_changed || room.choice.people == 0 || room.choice.drills.empty()) return;
    room.is_choice_changed = false;
    classroom::ClassChoice without_names = room.choice;  // erasing a member must find no name elsewhere
    without_names.names.clear();
    add_class_fact(next, *room.id, record::class_row::choice, classroom::class_json(without_names));
}

std::shared_ptr<const KeptDesign> kept_design(const Uuid& fact, const Instant& made, Seed seed,
                                              classroom::ClassChoice chosen,
                                              const classroom::ClassChoice& bottled,
                                              const content::Content& content) {
    classroom::PreparedClass planned = classroom::prepared(bottled, content, seed, "the class");
    classroom::Service service = classroom::design(planned.plan, seed);
    return std::make_shared<const KeptDesign>(
        KeptDesign{fact, made, std::move(chosen), std::move(planned), std::move(service)});
}

void add_invented_class(journal::Journal& journal, const content::Content& content,
                        const classroom::ClassChoice& choice, const Instant& now, Seed seed) {
    Random ids{derived(seed, 17)};
    const auto fact = [&](const Uuid& person, const char* kind, std::string body) {
        const journal::Fact made{.id = uuid_from(ids),
                                 .person = person,
                                 .kind = kind,
                                 .at = now,
                                 .body = std::move(body),
                                 .struck = {}};
        journal.append(made);
        return made.id;
    };
    const auto person = [&](const std::string& name) {
        const journal::Person made{.id = uuid_from(ids), .name = name, .invented = true, .created = now};
        journal.append(made);
        return made.id;
    };
    journal.together([&] {
        const Uuid id = person(choice.title);
        classroom::ClassChoice without_names = choice;
        without_names.names.clear();
        fact(id, record::class_row::choice, classroom::class_json(without_names));
        record::KeptClass kept{.seed = seed, .chosen = choice, .bottled = choice, .members = {}};
        for (const std::string& name : choice.names) {
            kept.members.push_back(person(name));
            fact(kept.members.back(), record::class_row::member,
                 record::body_of(
                     record::ClassMember{.of_class = id, .agrees = true}));  // nobody to ask: invented
        }
        const Uuid design = fact(id, record::class_row::kept, record::body_of(kept));
        const auto made = kept_design(design, now, seed, choice, choice, content);
        const classroom::InventedPeople people{std::log10(1.6)};  // g/L of sucrose; invented
        for (const classroom::BallotAnswer& answer :
             classroom::invented_answers(made->service, people, derived(seed, 4)).answers)
            if (answer.seat < kept.members.size())
                fact(kept.members[answer.seat], ballot,
                     record::body_of({.kept = design,
                                      .pass = classroom::Pass::first,
                                      .cell = {answer.seat, answer.drill, answer.serving},
                                      .answer = answer},
                                     made->service));
    });
}

}  // namespace sipladder::gui
