#include "gui/views/classroom.hpp"

#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"
#include "gui/app/app.hpp"
#include "gui/app/class_shape.hpp"
#include "gui/views/class_entry.hpp"
#include "gui/views/class_results.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
using classroom::Task;

constexpr std::array<std::pair<Task, const char*>, 4> tasks{{{Task::which_of_three, "which of three"},
                                                             {Task::graded, "grade"},
                                                             {Task::naming, "name"},
                                                             {Task::ranking, "put in order"}}};

Choice choice_of(std::string label, bool is_chosen) {
    return {.label = std::move(label), .is_chosen = is_chosen, .note = {}, .component = {}};
}

void show_steps(ClassroomView& view, const Classroom& room) {
    const std::array<std::pair<ClassStep, const char*>, 5> all{{{ClassStep::roster, "Roster"},
                                                                {ClassStep::plan, "Plan"},
                                                                {ClassStep::sheets, "Sheets"},
                                                                {ClassStep::entry, "Entry"},
                                                                {ClassStep::results, "Results"}}};
    for (const auto& [step, label] : all) {
        const bool can = step == ClassStep::roster || (step == ClassStep::plan && !room.members.empty()) ||
                         (step > ClassStep::plan && room.kept);
        view.steps.push_back({step, label, room.step == step, can});
    }
}

RosterView roster_view(const Classroom& room) {
    RosterView view;
    for (const ClassMember& member : room.members)
        view.rows.push_back({member.name, member.agrees, member.no_ethanol});
    view.typed = room.typed_members;
    if (room.erasing && *room.erasing < room.members.size()) view.erasing = room.members[*room.erasing].name;
    view.typed_erase = room.typed_erase;
    view.has_design = room.kept != nullptr;
    view.note = "Nobody is on it yet.";
    if (view.rows.empty()) return view;
    view.note =
        counted(view.rows.size(), "person", "people") +
        ". Ask everybody about allergies, asthma, medicines and pregnancy; nobody has to say which. Ask "
        "whether their answers may be recorded, and tick who agrees; who does not tastes along and is "
        "not typed in.";
    const auto unticked =
        static_cast<std::size_t>(std::ranges::count(view.rows, false, &RosterView::Row::agrees));
    if (unticked > 0)
        view.unticked =
            std::to_string(unticked) + " of " + std::to_string(view.rows.size()) + " not ticked yet";
    return view;
}

std::string ladder_label(const solution::Ladder& ladder, const content::Content& content) {
    return content.substance(ladder.substance()).name + ", " + exact(ladder.targets().front()) + " to " +
           exact(ladder.targets().back()) + " " + unit_text(ladder.scale()) + ", " +
           counted(ladder.size(), "rung", "rungs");
}

ClassPlanView::Drill drill_view(const classroom::WantedDrill& wanted, const classroom::ClassDrill& asked,
                                const Classroom& room, const content::Content& content, VolumeUnit volume) {
    ClassPlanView::Drill view;
    view.name = wanted.drill.name;
    view.question = wanted.drill.question;
    const std::size_t cups = classroom::costs({1, 0, 1, {asked}}).cups_a_person;
    view.each = counted(cups, "cup", "cups") + " a person";
    for (const auto& [task, label] : tasks) view.tasks.push_back(choice_of(label, wanted.drill.task == task));
    for (const solution::Ladder* ladder : ladders_for(wanted.drill.task, content)) {
        const bool is_on =
            std::ranges::find(wanted.ladders, ladder->id(), &solution::Ladder::id) != wanted.ladders.end();
        view.ladders.push_back(choice_of(ladder_label(*ladder, content), is_on));
        view.ladders.back().component = content.substance(ladder->substance()).component;
        view.ladder_ids.push_back(ladder->id());
    }
    for (std::size_t times = 1; times <= most_class_times; ++times)
        view.times.push_back(choice_of(std::to_string(times), wanted.times == times));
    for (const std::size_t mL : {10U, 15U, 20U, 30U}) {
        view.cups.push_back(choice_of(volume_text(Millilitres{static_cast<double>(mL)}, volume),
                                      wanted.drill.cup.value == static_cast<double>(mL)));
        view.cup_mL.push_back(mL);
    }
    for (const solution::Base& base : content.bases) {
        view.bases.push_back(choice_of(base.name, wanted.drill.base == base.id));
        view.base_ids.push_back(base.id);
    }
    for (const std::size_t seat : wanted.drill.sits_out)
        if (seat < room.members.size())
            view.left_out.append(view.left_out.empty() ? "" : ", ").append(room.members[seat].name);
    return view;
}

void show_costs(ClassPlanView& view, const std::vector<classroom::ClassDrill>& drills, const Classroom& room,
                const content::Content& content, VolumeUnit volume) {
    const classroom::ClassPlan plan{room.choice.people, room.choice.spares, room.choice.groups, drills};
    const classroom::Costs costs = classroom::costs(plan);
    view.costs =
        std::to_string(costs.cups_a_person) + " cups a person, " + std::to_string(costs.cups) + " in all" +
        (room.choice.spares == 0
             ? "; "
             : " with " + counted(room.choice.spares, "spare seat", "spare seats") + "; ") +
        volume_text(Millilitres{1000.0 * costs.litres}, volume, fixed(costs.litres, 1) + " L") +
        " in them; about " + std::to_string(costs.pouring_minutes) + " min to pour for one pair of hands.";
    constexpr std::size_t cups_of_threshold = 36;
    view.beside = "A threshold by 12 presentations for everybody would be " +
                  std::to_string(cups_of_threshold * (room.choice.people + room.choice.spares)) +
                  " cups, an evening of its own.";
    const safety::Intake intake = classroom::intake_of_class(drills, content);
    if (const auto over = safety::crossed(content.cautions.caps, intake, intake)) view.problem = over->text;
}

/// Those that Prepare offers too; and the class's own, where it is none of them any more.
void show_kitchens(ClassPlanView& view, const classroom::ClassChoice& choice, const App& app) {
    const solution::Equipment* chosen = classroom::equipment_of(choice, *app.shipped);
    const std::string entry = choice.carried      ? choice.carried->entry
                              : chosen == nullptr ? std::string()
                                                  : app.shipped->equipment_entries.at(chosen->id);
    bool is_offered = false;
    for (const solution::Equipment& kitchen : app.content->equipment) {
        const bool is_chosen =
            kitchen.id == choice.kitchen && app.content->equipment_entries.at(kitchen.id) == entry;
        is_offered = is_offered || is_chosen;
        view.kitchens.push_back(choice_of(kitchen.name, is_chosen));
        view.kitchens.back().note = kitchen.note;
        view.kitchen_ids.push_back(kitchen.id);
    }
    if (chosen == nullptr) return;
    if (!is_offered) {
        view.kitchens.push_back(choice_of(chosen->name + ", as this class has it", true));
        view.kitchen_ids.emplace_back();
    }
    view.kitchen_note = instruments_text(*chosen) + ".";
    if (choice.carried)
        view.kitchen_note +=
            " The class keeps it as it is now: what is changed or struck out in Settings later does not "
            "reach it.";
}

ClassPlanView plan_view(const App& app) {
    const Classroom& room = app.classroom;
    ClassPlanView view;
    view.has_design = room.kept != nullptr;
    view.can_add = room.choice.drills.size() < most_class_drills;
    const std::vector<classroom::ClassDrill> drills =
        classroom::before_mixing(room.choice.drills, *app.shipped);
    for (std::size_t i = 0; i < drills.size(); ++i)
        view.drills.push_back(
            drill_view(room.choice.drills[i], drills[i], room, *app.shipped, app.usual.volume));
    show_kitchens(view, room.choice, app);
    for (const std::size_t spares : {0U, 1U, 2U, 3U, 4U, 6U}) {
        view.spares.push_back(choice_of(std::to_string(spares), room.choice.spares == spares));
        view.spare_counts.push_back(spares);
    }
    for (const std::size_t groups : {0U, 1U, 2U, 3U, 4U, 6U, 8U}) {
        if (groups > std::max<std::size_t>(room.choice.people, 1)) break;
        const std::string label =
            groups == 0 ? "as usual (" + std::to_string(classroom::usual_groups(room.choice.people)) + ")"
                        : std::to_string(groups);
        view.groups.push_back(choice_of(label, room.choice.groups == groups));
        view.group_counts.push_back(groups);
    }
    if (drills.empty()) {
        view.problem = "At least one drill is wanted.";
        return view;
    }
    try {
        show_costs(view, drills, room, *app.shipped, app.usual.volume);
    } catch (const Refused& refused) {
        view.problem = to_text(refused.problems().front());
    }
    return view;
}

/// One line a drill and number of cups: "In order (drill 1): 26 cups of Y, M and S each, 260 mL".
std::vector<std::string> bottle_lines(const classroom::Service& service, VolumeUnit volume) {
    std::vector<std::string> lines;
    const std::vector<classroom::BottleNeed> needs = classroom::bottle_needs(service);
    for (std::size_t from = 0; from < needs.size();) {
        std::size_t to = from;
        std::string bottles;
        for (;
             to < needs.size() && needs[to].drill == needs[from].drill && needs[to].cups == needs[from].cups;
             ++to)
            bottles.append(to == from ? "" : ", ").append(needs[to].bottle);
        std::string line = service.plan.drills[needs[from].drill].name;
        line.append(": ").append(counted(needs[from].cups, "cup", "cups")).append(" of ").append(bottles);
        line.append(to - from > 1 ? " each, " : ", ")
            .append(volume_text(needs[from].in_cups, volume, fixed(needs[from].in_cups.value, 0) + " mL"))
            .append(".");
        lines.push_back(std::move(line));
        from = to;
    }
    return lines;
}

ClassSheetsView sheets_view(const App& app) {
    const Classroom& room = app.classroom;
    ClassSheetsView view;
    const classroom::Service& service = room.kept->service;
    const classroom::Costs costs = classroom::costs(service.plan);
    view.facts.push_back(counted(service.plan.people, "person", "people") + " and " +
                         counted(service.plan.spares, "spare seat", "spare seats") + " in " +
                         counted(service.plan.groups, "serving group", "serving groups") + "; " +
                         std::to_string(costs.cups) + " cups, about " +
                         std::to_string(costs.pouring_minutes) + " min to pour.");
    if (const solution::Equipment* with = classroom::equipment_of(room.kept->chosen, *app.shipped))
        view.facts.push_back("Mixed with " + with->name + ": " + instruments_text(*with) + ".");
    for (std::string& line : bottle_lines(service, app.usual.volume)) view.facts.push_back(std::move(line));
    view.cautions = room.kept->bottled.cautions;
    return view;
}

}  // namespace

ClassroomView classroom_view(const App& app) {
    const Classroom& room = app.classroom;
    ClassroomView view;
    if (!room.id) {
        for (const ClassName& one : room.all) {
            view.classes.push_back(choice_of(one.title, false));
            view.ids.push_back(one.id);
        }
        view.typed_title = room.typed_title;
        return view;
    }
    view.title = room.title;
    show_steps(view, room);
    if (room.job) view.waits_for = room.job->what;
    if (room.step == ClassStep::sheets || room.step == ClassStep::results) {
        view.written_to = room.written.empty() ? std::string() : room.written_to;
        view.written = room.written;
    }
    switch (room.step) {
        case ClassStep::roster:
            view.roster = roster_view(room);
            break;
        case ClassStep::plan:
            view.plan = plan_view(app);
            break;
        case ClassStep::sheets:
            view.sheets = sheets_view(app);
            break;
        case ClassStep::entry:
            view.entry = class_entry_view(room);
            break;
        case ClassStep::results:
            view.results = class_results_view(room);
            break;
    }
    return view;
}

}  // namespace sipladder::gui
