// Typing in the ballots of a class: every line is in the journal before the next one comes.

#include "drills/record_class.hpp"
#include "engine/problem.hpp"
#include "gui/app/class_book.hpp"
#include "gui/app/class_parts.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace sipladder::gui {

namespace classroom = drills::classroom;
namespace record = drills::record;

namespace {

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

/// A late-comer takes a spare seat, and is asked like everybody else before anything of theirs is typed in.
void seat_late_comer(Next& next, std::size_t seat) {
    Classroom& room = next.app.classroom;
    ClassMember member{.id = {}, .name = "Late-comer, seat " + std::to_string(seat + 1)};
    member.id = add_person(next, member.name);
    write_member(next, member);
    add_class_fact(next, member.id, record::class_row::seat,
                   record::body_of(record::SeatTaken{room.kept->fact, seat, true}));
    room.seats[seat] = member.id;
    next.app.notice = Notice{.lines = {"\"" + member.name + "\" is on the roster.",
                                       "Ask whether they agree to be recorded, and tick it there: then their "
                                       "ballot can be typed in."}};
    room.members.push_back(std::move(member));
}

}  // namespace

void enter(Next& next, classroom::Entry after) {
    Classroom& room = next.app.classroom;
    write_lines(next, room.entry, after);
    if (room.entry.passes != after.passes || room.entry.absent != after.absent) room.results.reset();
    room.entry = std::move(after);
}

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
    if (!who && intent.came) return seat_late_comer(next, intent.seat);
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
