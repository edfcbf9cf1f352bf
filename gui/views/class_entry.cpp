#include "gui/views/class_entry.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
using classroom::Cell;
using classroom::Entry;
using classroom::Service;
using classroom::Task;

std::string name_of_seat(const Classroom& room, std::size_t seat) {
    const std::optional<Uuid>& who = room.seats[seat];
    if (!who) return "spare";
    const auto member = std::ranges::find(room.members, *who, &ClassMember::id);
    return member == room.members.end() ? "not on the roster any more" : member->name;
}

/// Whether the person of this seat may be typed in; a spare seat that nobody took may not.
bool agrees(const Classroom& room, std::size_t seat) {
    const std::optional<Uuid>& who = room.seats[seat];
    if (!who) return false;
    const auto member = std::ranges::find(room.members, *who, &ClassMember::id);
    return member != room.members.end() && member->agrees;
}

std::string why_not(const Classroom& room, std::size_t seat) {
    if (!room.entry.absent.contains(seat) || !room.seats[seat]) return {};
    return agrees(room, seat) ? "not there" : "not to be recorded";
}

/// Who is passed over for want of their word.
std::string passed_over(const Classroom& room) {
    std::size_t count = 0;
    for (std::size_t seat = 0; seat < room.seats.size(); ++seat)
        if (room.seats[seat] && !agrees(room, seat)) ++count;
    if (count == 0) return {};
    return counted(count, "person is", "people are") +
           " not ticked as agreeing to be recorded, and passed over here. Ask, and tick it on the roster.";
}

std::string first_letters(const std::vector<std::string>& choices) {
    std::string text;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (i > 0) text.append(" \u00B7 ");
        text.append(std::to_string(i + 1)).append(" ").append(choices[i]);
    }
    return text;
}

/// What may be typed in the line under the finger.
std::string asks(const Entry& entry, const Service& service) {
    const classroom::ClassDrill& drill = service.plan.drills[entry.at->drill];
    if (entry.asks_certainty) return "its box: g guessed \u00B7 l leaning \u00B7 s sure \u00B7 Space none";
    const classroom::Serving& serving =
        service.seats[entry.at->seat].servings[entry.at->drill][entry.at->serving];
    if (drill.task == Task::graded || drill.task == Task::naming) {
        std::string text = "cup " + serving.cups.front().code.digits + ", type what is ticked: ";
        return text.append(first_letters(drill.choices));
    }
    std::string codes;
    for (std::size_t i = entry.ranks.size(); i < serving.cups.size(); ++i)
        codes.append(codes.empty() ? "" : " \u00B7 ").append(serving.cups[i].code.digits);
    if (drill.task == Task::ranking)
        return "type the number beneath each code, from left to right, 1 the weakest: " + codes;
    return "type the code that is ticked: " + codes;
}

std::string typed_so_far(const Entry& entry, const Service& service) {
    std::string text;
    if (entry.at) {
        const auto& cups = service.seats[entry.at->seat].servings[entry.at->drill][entry.at->serving].cups;
        for (std::size_t i = 0; i < entry.ranks.size(); ++i)
            text.append(cups[i].code.digits + ": " + std::to_string(entry.ranks[i]) + "   ");
    }
    return text.append(entry.typed);
}

ClassEntryView::Line line_of(const Entry& entry, const Cell& cell, const std::vector<Cell>& differing,
                             const Service& service) {
    ClassEntryView::Line line{.text = {}, .mark = ClassEntryView::Mark::empty, .cell = cell};
    if (const classroom::BallotAnswer* answer = classroom::answer_at(entry, entry.pass, cell)) {
        line.text = classroom::answer_words(*answer, service);
        line.mark = ClassEntryView::Mark::filled;
    }
    if (std::ranges::find(differing, cell) != differing.end()) line.mark = ClassEntryView::Mark::differs;
    if (entry.at == cell) line.mark = ClassEntryView::Mark::here;
    return line;
}

void show_rows(ClassEntryView& view, const Classroom& room, const std::vector<Cell>& differing) {
    const Service& service = room.kept->service;
    for (std::size_t seat = 0; seat < service.seats.size(); ++seat) {
        ClassEntryView::Row row{.seat = seat,
                                .name = name_of_seat(room, seat),
                                .came = !room.entry.absent.contains(seat),
                                .why_not = why_not(room, seat),
                                .is_here = room.entry.at && room.entry.at->seat == seat,
                                .lines = {}};
        for (std::size_t line = 0; line < service.seats[seat].servings[view.drill].size(); ++line)
            row.lines.push_back(line_of(room.entry, {seat, view.drill, line}, differing, service));
        view.rows.push_back(std::move(row));
    }
}

void show_differences(ClassEntryView& view, const Entry& entry, const std::vector<Cell>& differing,
                      const Service& service) {
    const auto words = [&](classroom::Pass pass, const Cell& cell) {
        const classroom::BallotAnswer* answer = classroom::answer_at(entry, pass, cell);
        return answer == nullptr ? std::string("nothing") : classroom::answer_words(*answer, service);
    };
    for (const Cell& cell : differing)
        view.differs.push_back({classroom::place_words(service, cell.seat, cell.drill, cell.serving),
                                words(classroom::Pass::first, cell), words(classroom::Pass::second, cell),
                                cell});
}

/// Where the arrows lead from the line under the finger: over the seats of those who came.
void show_ways(ClassEntryView& view, const Entry& entry, const Service& service) {
    const auto is_line = [&](const Cell& cell) {
        return cell.seat < service.seats.size() && !entry.absent.contains(cell.seat) &&
               cell.serving < service.seats[cell.seat].servings[cell.drill].size();
    };
    const Cell at = *entry.at;
    for (std::size_t seat = at.seat; seat-- > 0 && !view.up;)
        if (const Cell cell{seat, at.drill, at.serving}; is_line(cell)) view.up = cell;
    for (std::size_t seat = at.seat + 1; seat < service.seats.size() && !view.down; ++seat)
        if (const Cell cell{seat, at.drill, at.serving}; is_line(cell)) view.down = cell;
    if (const Cell cell{at.seat, at.drill, at.serving - 1}; at.serving > 0 && is_line(cell)) view.left = cell;
    if (const Cell cell{at.seat, at.drill, at.serving + 1}; is_line(cell)) view.right = cell;
}

}  // namespace

ClassEntryView class_entry_view(const Classroom& room) {
    const Service& service = room.kept->service;
    const Entry& entry = room.entry;
    ClassEntryView view;
    view.is_second = entry.pass == classroom::Pass::second;
    view.pass =
        view.is_second ? "Second pass over the pile, to find what was mistyped" : "First pass over the pile";
    const classroom::Progress progress = classroom::progress(entry, entry.pass, service);
    view.progress = std::to_string(progress.answered) + " of " + std::to_string(progress.lines) + " lines";
    view.drill = entry.at ? entry.at->drill : service.plan.drills.size() - 1;
    view.is_full = !entry.at;
    view.is_nobody = progress.lines == 0;
    view.passed_over = passed_over(room);
    for (std::size_t drill = 0; drill < service.plan.drills.size(); ++drill)
        view.drills.push_back({.label = service.plan.drills[drill].name,
                               .is_chosen = drill == view.drill,
                               .note = {},
                               .component = {}});
    if (entry.at) {
        view.seat = entry.at->seat;
        view.came = !entry.absent.contains(entry.at->seat);
        show_ways(view, entry, service);
        const std::string seat = "Seat " + std::to_string(entry.at->seat + 1);
        const std::string name = name_of_seat(room, entry.at->seat);
        view.where = (name == seat ? seat : seat + ", " + name) + ": " +
                     service.plan.drills[entry.at->drill].name + ", line " +
                     std::to_string(entry.at->serving + 1);
        view.asks = asks(entry, service);
        view.typed = typed_so_far(entry, service);
    } else {
        view.where = view.is_nobody   ? "There is nobody to type in yet."
                     : view.is_second ? "The second pass has come to its end."
                                      : "The pile is typed in as far as it goes.";
    }
    view.complaint = entry.complaint.value_or("");
    const std::vector<Cell> differing = view.is_second ? classroom::mistyped(entry) : std::vector<Cell>{};
    show_rows(view, room, differing);
    show_differences(view, entry, differing, service);
    return view;
}

}  // namespace sipladder::gui
