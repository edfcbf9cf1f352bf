// The roster of a class: who is on it, who agrees to be recorded, who takes no ethanol, who is erased.

#include "drills/record_class.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/class_parts.hpp"

#include <algorithm>
#include <cctype>
#include <set>
#include <utility>
#include <vector>

namespace sipladder::gui {

namespace classroom = drills::classroom;
namespace record = drills::record;

Uuid add_person(Next& next, const std::string& name) {
    const journal::Person person{.id = uuid_from(next.app.chance),
                                 .name = name,
                                 .invented = next.app.is_demo(),
                                 .created = next.app.now};
    next.rows.emplace_back(person);
    return person.id;
}

void write_member(Next& next, const ClassMember& member, bool is_listed) {
    add_class_fact(next, member.id, record::class_row::member,
                   record::body_of(record::ClassMember{.of_class = *next.app.classroom.id,
                                                       .agrees = member.agrees,
                                                       .no_ethanol = member.no_ethanol,
                                                       .is_listed = is_listed}));
}

void choice_changed(Next& next) {
    follow_roster(next.app);
    next.app.classroom.is_choice_changed = true;
}

namespace {

constexpr std::size_t most_people = 200;

ClassMember& member_of(Classroom& room, std::size_t index) {
    SIPLADDER_EXPECT(index < room.members.size());
    return room.members[index];
}

/// What these members said of being recorded is written down. Who takes their word back is not typed in from
/// now on, and what was is taken out with it; who gives it is, if they came.
void take_words(Next& next, const std::vector<std::size_t>& members) {
    Classroom& room = next.app.classroom;
    for (const std::size_t index : members) write_member(next, room.members[index]);
    if (!room.kept) return;
    const std::set<std::size_t> not_there = did_not_come(next.app);
    classroom::Entry entry = room.entry;
    for (const std::size_t index : members) {
        const ClassMember& member = room.members[index];
        const auto found = std::ranges::find(room.seats, std::optional(member.id));
        if (found == room.seats.end()) continue;
        const auto seat = static_cast<std::size_t>(found - room.seats.begin());
        entry = classroom::came(std::move(entry), seat, member.agrees && !not_there.contains(seat),
                                room.kept->service);
    }
    enter(next, std::move(entry));
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

}  // namespace

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
    choice_changed(next);
}

void on(Next& next, const TickAgrees& intent) {
    Classroom& room = open_room(next);
    member_of(room, intent.member).agrees = intent.on;
    take_words(next, {intent.member});
}

void on(Next& next, const AllAgree&) {
    Classroom& room = open_room(next);
    std::vector<std::size_t> asked;
    for (std::size_t i = 0; i < room.members.size(); ++i) {
        if (room.members[i].agrees) continue;
        room.members[i].agrees = true;
        asked.push_back(i);
    }
    take_words(next, asked);
}

void on(Next& next, const TickNoEthanol& intent) {
    Classroom& room = open_room(next);
    ClassMember& member = member_of(room, intent.member);
    member.no_ethanol = intent.on;
    write_member(next, member);
    choice_changed(next);
}

void on(Next& next, const UnlistMember& intent) {
    Classroom& room = open_room(next);
    write_member(next, member_of(room, intent.member), false);
    room.members.erase(room.members.begin() + static_cast<std::ptrdiff_t>(intent.member));
    room.erasing.reset();
    choice_changed(next);
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

}  // namespace sipladder::gui
