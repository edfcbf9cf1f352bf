#include "gui/app/class_shape.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

namespace sipladder::gui {

namespace {

namespace classroom = drills::classroom;
using classroom::Task;

constexpr double most_ratio_to_rank = 2.0;
constexpr double least_ratio_to_find = 1.5;
constexpr std::size_t most_rungs_to_name = 4;
constexpr std::size_t least_rungs = 3;
constexpr std::size_t most_cup_mL = 50;
constexpr std::size_t most_seats = 200;

std::string sense_of(solution::Component component) {
    using solution::Component;
    switch (component) {
        case Component::sweet:
            return "sweet";
        case Component::sour:
            return "sour";
        case Component::alcohol:
            return "strong in alcohol";
        case Component::astringent:
            return "astringent";
        case Component::bitter:
            return "bitter";
        case Component::salty:
            return "salty";
        case Component::weight:
            return "heavy in the mouth";
    }
    return {};
}

/// Of two neighbouring rungs, the middle one.
double ratio_of(const solution::Ladder& ladder) {
    const std::size_t middle = ladder.size() / 2;
    return ladder.targets()[middle] / ladder.targets()[middle - 1];
}

bool suits(const solution::Ladder& ladder, Task task) {
    switch (task) {
        case Task::ranking:
            return ladder.size() >= least_rungs && ratio_of(ladder) <= most_ratio_to_rank;
        case Task::naming:
            return ladder.size() <= most_rungs_to_name && ratio_of(ladder) >= least_ratio_to_find;
        case Task::which_of_three:
        case Task::graded:
            return ladder.size() > most_rungs_to_name && ratio_of(ladder) >= least_ratio_to_find;
    }
    return false;
}

void name_and_ask(classroom::ClassChoice& choice, const content::Content& content) {
    for (std::size_t i = 0; i < choice.drills.size(); ++i) {
        classroom::WantedDrill& wanted = choice.drills[i];
        wanted.drill.name = class_drill_name(wanted.drill.task, i + 1);
        if (!wanted.ladders.empty())
            wanted.drill.question = class_question(
                wanted.drill.task, content.substance(wanted.ladders.front().substance()).component);
    }
}

classroom::WantedDrill drill_of(Task task, const std::vector<std::string>& ladders,
                                const content::Content& content) {
    classroom::WantedDrill wanted;
    wanted.drill.task = task;
    wanted.drill.base = content.bases.front().id;
    wanted.drill.known_cup = task == Task::which_of_three;
    if (task == Task::graded) wanted.drill.choices = {"nothing", "perhaps", "yes", "clearly"};
    const std::vector<const solution::Ladder*> all = ladders_for(task, content);
    for (const std::string& id : ladders)
        for (const solution::Ladder* ladder : all)
            if (ladder->id() == id) wanted.ladders.push_back(*ladder);
    if (wanted.ladders.empty() && !all.empty()) wanted.ladders.push_back(*all.front());
    return wanted;
}

/// On or off where several are named; the one that is served elsewhere.
void take_ladder(classroom::WantedDrill& wanted, const std::string& id, const content::Content& content) {
    const auto found = std::ranges::find(content.ladders, id, &solution::Ladder::id);
    if (found == content.ladders.end()) return;
    if (wanted.drill.task != Task::naming) {
        wanted.ladders = {*found};
        return;
    }
    const auto there = std::ranges::find(wanted.ladders, id, &solution::Ladder::id);
    if (there == wanted.ladders.end())
        wanted.ladders.push_back(*found);
    else if (wanted.ladders.size() > 1)
        wanted.ladders.erase(there);
}

std::size_t within(const std::string& where, std::size_t number, std::size_t least, std::size_t most) {
    if (number < least || number > most)
        throw Refused(where, "is " + std::to_string(number),
                      std::to_string(least) + " to " + std::to_string(most));
    return number;
}

void shape_drill(classroom::WantedDrill& wanted, const ShapeClass& step, const content::Content& content) {
    using What = ShapeClass::What;
    if (step.what == What::task) {
        const Millilitres cup = wanted.drill.cup;
        wanted = drill_of(static_cast<Task>(within("Task", step.number, 0, 3)), {}, content);
        wanted.drill.cup = cup;
    } else if (step.what == What::ladder) {
        take_ladder(wanted, step.id, content);
    } else if (step.what == What::times) {
        wanted.times = within("Times", step.number, 1, most_class_times);
    } else if (step.what == What::cup) {
        wanted.drill.cup = Millilitres{static_cast<double>(within("Cup", step.number, 5, most_cup_mL))};
    } else if (step.what == What::base) {
        wanted.drill.base = content.base(step.id).id;
    }
}

/// What the content has is named; any other is carried whole, so that nothing that becomes of it is felt.
void take_equipment(classroom::ClassChoice& choice, const std::string& id, const content::Content& content,
                    const content::Content& all) {
    const auto found = std::ranges::find(all.equipment, id, &solution::Equipment::id);
    if (found == all.equipment.end()) return;  // the one that the class has already
    const std::string& entry = all.equipment_entries.at(id);
    const auto shipped = content.equipment_entries.find(id);
    choice.kitchen = id;
    choice.carried.reset();
    if (shipped == content.equipment_entries.end() || shipped->second != entry)
        choice.carried = content::EquipmentEntry{*found, entry};
}

}  // namespace

std::string class_question(classroom::Task task, solution::Component component) {
    const std::string sense = sense_of(component);
    switch (task) {
        case classroom::Task::which_of_three:
            return component == solution::Component::alcohol ? "Which of the three cups holds the alcohol?"
                                                             : "Which of the three cups is " + sense + "?";
        case classroom::Task::graded:
            return component == solution::Component::alcohol ? "Does the cup hold alcohol?"
                                                             : "Is the cup " + sense + "?";
        case classroom::Task::naming:
            return "What is in the cup?";
        case classroom::Task::ranking:
            return "Put the cups in order, the least " + sense + " first.";
    }
    return {};
}

std::string class_drill_name(classroom::Task task, std::size_t number) {
    std::string name;
    switch (task) {
        case classroom::Task::which_of_three:
            name = "Which of three";
            break;
        case classroom::Task::graded:
            name = "Grade";
            break;
        case classroom::Task::naming:
            name = "What is it";
            break;
        case classroom::Task::ranking:
            name = "In order";
            break;
    }
    return name.append(" (drill ").append(std::to_string(number)).append(")");
}

classroom::ClassChoice usual_class(const content::Content& content) {
    classroom::ClassChoice choice;
    choice.kitchen = content.equipment.back().id;
    for (const solution::Equipment& kitchen : content.equipment)
        if (kitchen.id == "teaching_room") choice.kitchen = kitchen.id;
    choice.drills = {
        drill_of(Task::ranking, {"sucrose_ranking"}, content),
        drill_of(Task::naming, {"sucrose_clear", "tartaric_acid_clear", "sodium_chloride_clear"}, content),
        drill_of(Task::graded, {"sucrose_first"}, content)};
    name_and_ask(choice, content);
    return choice;
}

classroom::ClassChoice shaped(classroom::ClassChoice choice, const ShapeClass& step,
                              const content::Content& content, const content::Content& all) {
    using What = ShapeClass::What;
    switch (step.what) {
        case What::add_drill:
            if (choice.drills.size() >= most_class_drills)
                throw Refused("Plan", "has " + std::to_string(choice.drills.size()) + " drills already",
                              "another evening: palates tire");
            choice.drills.push_back(drill_of(Task::which_of_three, {"sucrose_first"}, content));
            break;
        case What::remove_drill:
            if (step.drill < choice.drills.size())
                choice.drills.erase(choice.drills.begin() + static_cast<std::ptrdiff_t>(step.drill));
            break;
        case What::spares:
            choice.spares = within("Spare seats", step.number, 0, most_seats);
            break;
        case What::groups:
            choice.groups = within("Groups", step.number, 0, most_seats);
            break;
        case What::kitchen:
            take_equipment(choice, step.id, content, all);
            break;
        default:
            if (step.drill < choice.drills.size()) shape_drill(choice.drills[step.drill], step, content);
    }
    name_and_ask(choice, content);
    return choice;
}

std::vector<const solution::Ladder*> ladders_for(Task task, const content::Content& content) {
    std::vector<const solution::Ladder*> found;
    for (const solution::Ladder& ladder : content.ladders)
        if (suits(ladder, task)) found.push_back(&ladder);
    return found;
}

}  // namespace sipladder::gui
