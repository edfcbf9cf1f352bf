#include "drills/classroom/class_file.hpp"

#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>

namespace sipladder::drills::classroom {

namespace {

using content::Field;

constexpr double most_cup_mL = 50.0;
constexpr long most_seats = 400;
constexpr double most_mm = 500.0;
constexpr const char* class_schema = "sipladder-class/1";
const std::vector<std::string> grades{"nothing", "perhaps", "yes", "clearly"};

const std::map<std::string, Task> tasks{{"which_of_three", Task::which_of_three},
                                        {"graded", Task::graded},
                                        {"naming", Task::naming},
                                        {"ranking", Task::ranking}};

/// Index into the choices.
std::optional<std::size_t> right_name(const Field& field, const ClassDrill& drill) {
    if (!field.is_there()) return std::nullopt;
    if (drill.task != Task::naming) {
        field.note("stands in a drill that is not naming", "only where cups are named");
        return std::nullopt;
    }
    const std::string name = field.text();
    const auto found = std::find(drill.choices.begin(), drill.choices.end(), name);
    if (found == drill.choices.end()) {
        field.note("is \"" + name + "\", which is none of the choices", "one of this drill's choices");
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - drill.choices.begin());
}

/// One drill at a time: with bottles of its own, or with ladders that are still to be mixed.
class Reading {
  public:
    explicit Reading(const content::Content& content) : content_(content) {}

    void drill(const Field& field);

    std::vector<WantedDrill> wanted;  ///< in order; those with bottles have no ladders
    bool has_ladders = false;

  private:
    const solution::Base& base_of(const Field& field) const;
    const solution::Substance* substance_of(const Field& field) const;
    const solution::Ladder* ladder_of(const Field& field) const;
    void sample(const Field& field, ClassDrill& drill) const;
    void ladders(const Field& field, WantedDrill& into);

    const content::Content& content_;
};

const solution::Base& Reading::base_of(const Field& field) const {
    if (!field.is_there()) return content_.bases.front();
    const std::string id = field.id();
    for (const solution::Base& base : content_.bases)
        if (base.id == id) return base;
    field.note("is \"" + id + "\", which is no base of the content", "an id in content/bases.json");
    return content_.bases.front();
}

const solution::Substance* Reading::substance_of(const Field& field) const {
    const std::string id = field.id();
    for (const solution::Substance& substance : content_.substances)
        if (substance.id == id) return &substance;
    field.note("is \"" + id + "\", which is no substance of the content", "an id in content/substances.json");
    return nullptr;
}

const solution::Ladder* Reading::ladder_of(const Field& field) const {
    const std::string id = field.id();
    for (const solution::Ladder& ladder : content_.ladders)
        if (ladder.id() == id) return &ladder;
    field.note("is \"" + id + "\", which is no ladder of the content", "an id in content/ladders.json");
    return nullptr;
}

void Reading::sample(const Field& field, ClassDrill& drill) const {
    field.only({"bottle", "substance", "level", "u_rel", "times", "right"});
    const std::string& base_name = content_.base(drill.base).name;
    Sample sample{field.at("bottle").text(), base_name, 0.0};
    if (const Field times = field.at("times"); times.is_there())
        sample.times = static_cast<std::size_t>(times.integer(1, 60));
    sample.right = right_name(field.at("right"), drill);
    const bool is_three = drill.task == Task::which_of_three;
    if (const Field named = field.at("substance"); named.is_there() || is_three) {
        const solution::Substance* substance = substance_of(named);
        if (substance == nullptr) return;
        const double level = field.at("level").number(0.0, substance->strongest_cup);
        if (is_three && !drill.samples.empty() &&
            (substance->id != drill.samples.back().substance || level <= drill.samples.back().level))
            field.note("does not go on with the ladder before it", "one substance, weakest first");
        sample.substance = substance->id;
        sample.level = level;
        if (const Field own = field.at("u_rel"); own.is_there()) sample.u_rel = own.number(0.0, 0.5);
        sample.what = what_words(sample, substance->name, substance->scale, base_name);
        drill.scale = substance->scale;
    } else if (field.at("level").is_there() || field.at("u_rel").is_there()) {
        field.note("has a level and no substance", "both, or neither for the base alone");
    }
    drill.samples.push_back(std::move(sample));
}

void Reading::ladders(const Field& field, WantedDrill& into) {
    has_ladders = true;
    const bool is_naming = into.drill.task == Task::naming;
    const std::vector<Field> named = field.each();
    if (!is_naming && named.size() > 1) field.note("are several", "one, unless cups are named");
    for (const Field& one : named)
        if (const solution::Ladder* ladder = ladder_of(one)) into.ladders.push_back(*ladder);
}

void Reading::drill(const Field& field) {
    field.only({"name", "question", "task", "cup_mL", "known_cup", "base", "choices", "samples", "ladders",
                "times", "u_shared_rel", "sits_out"});
    WantedDrill read;
    ClassDrill& drill = read.drill;
    drill.name = field.at("name").text();
    drill.question = field.at("question").text();
    drill.task = tasks.at(field.at("task").one_of({"which_of_three", "graded", "naming", "ranking"}));
    drill.cup = Millilitres{field.at("cup_mL").number(1.0, most_cup_mL)};
    drill.base = base_of(field.at("base")).id;
    const Field known = field.at("known_cup");
    drill.known_cup = known.is_there() ? known.boolean() : drill.task == Task::which_of_three;
    if (const Field choices = field.at("choices"); choices.is_there())
        drill.choices = choices.texts(2);
    else if (drill.task == Task::graded)
        drill.choices = grades;
    if (const Field times = field.at("times"); times.is_there())
        read.times = static_cast<std::size_t>(times.integer(1, 20));
    if (const Field shared = field.at("u_shared_rel"); shared.is_there())
        drill.u_shared_rel = shared.number(0.0, 0.5);
    if (const Field seats = field.at("sits_out"); seats.is_there())
        for (const Field& seat : seats.each(0))
            drill.sits_out.insert(static_cast<std::size_t>(seat.integer(1, most_seats)) - 1);
    if (const Field named = field.at("ladders"); named.is_there()) {
        if (field.at("samples").is_there())
            field.note("has samples and ladders", "samples in bottles of their own, or ladders to mix");
        ladders(named, read);
    } else {
        for (const Field& one : field.at("samples").each()) sample(one, drill);
    }
    wanted.push_back(std::move(read));
}

/// Cautions about what is served, each once, in the order of the content.
void add_cautions(PreparedClass& made, const content::Content& content) {
    std::set<std::string> served;
    for (const ClassDrill& drill : made.plan.drills)
        for (const Sample& sample : drill.samples) served.insert(sample.substance);
    const auto is_served = [&](const std::string& id) { return served.contains(id); };
    for (const safety::Caution& caution : content.cautions.texts) {
        if (!caution.substances.empty() && std::ranges::none_of(caution.substances, is_served)) continue;
        made.cautions.push_back(caution.text);
        if (!caution.for_who_mixes) made.taster_cautions.push_back(caution.text);
    }
}

void read_labels(const Field& field, LabelGrid& grid) {
    field.only({"columns", "rows", "width_mm", "height_mm", "left_mm", "top_mm", "across_mm", "down_mm",
                "cutting_marks"});
    grid.columns = static_cast<std::size_t>(field.at("columns").integer(1, 30));
    grid.rows = static_cast<std::size_t>(field.at("rows").integer(1, 60));
    grid.width_mm = field.at("width_mm").number(0.0, most_mm);
    grid.height_mm = field.at("height_mm").number(0.0, most_mm);
    grid.left_mm = field.at("left_mm").number(0.0, most_mm);
    grid.top_mm = field.at("top_mm").number(0.0, most_mm);
    grid.across_mm = field.at("across_mm").number(0.0, most_mm);
    grid.down_mm = field.at("down_mm").number(0.0, most_mm);
    if (const Field marks = field.at("cutting_marks"); marks.is_there()) grid.cutting_marks = marks.boolean();
}

void read_numbers(const Field& root, ClassChoice& plan) {
    plan.people = static_cast<std::size_t>(root.at("people").integer(1, 200));
    if (const Field spares = root.at("spares"); spares.is_there())
        plan.spares = static_cast<std::size_t>(spares.integer(0, 200));
    if (const Field groups = root.at("groups"); groups.is_there())
        plan.groups = static_cast<std::size_t>(groups.integer(1, 200));
}

constexpr const char* right_equipment = "an id in content/equipment.json, or an object as its entries are";

void read_kitchen(const Field& field, ClassChoice& read, const content::Content& content) {
    if (field.is_object()) {
        read.carried = content::read_equipment(field, content);
        read.kitchen = read.carried->equipment.id;
        return;
    }
    read.kitchen = field.id();
    if (!read.kitchen.empty() && equipment_of(read, content) == nullptr)
        field.note("is \"" + read.kitchen + "\", which is no kitchen of the content", right_equipment);
}

/// Drills with ladders get their bottles from a mix; the others have them.
void fill(PreparedClass& made, const ClassChoice& choice, const content::Content& content, Seed letters,
          const std::string& where) {
    std::vector<WantedDrill> to_mix;
    for (const WantedDrill& one : choice.drills)
        if (!one.ladders.empty()) to_mix.push_back(one);
    ClassMix mix;
    if (!to_mix.empty()) {
        const solution::Equipment* kitchen = equipment_of(choice, content);
        if (kitchen == nullptr)
            throw Refused(where + ": /equipment",
                          "is \"" + choice.kitchen + "\", which is no kitchen of the content",
                          right_equipment);
        mix = mix_class(to_mix, choice.people + choice.spares, content, *kitchen, letters);
    }
    auto mixed = mix.drills.begin();
    for (const WantedDrill& one : choice.drills)
        made.plan.drills.push_back(one.ladders.empty() ? one.drill : *mixed++);
    made.mixes = std::move(mix.mixes);
}

std::string task_name(Task task) {
    for (const auto& [name, one] : tasks)
        if (one == task) return name;
    SIPLADDER_EXPECT(false);
    return {};
}

nlohmann::json sample_json(const Sample& sample, const ClassDrill& drill) {
    nlohmann::json json{{"bottle", sample.bottle}, {"times", sample.times}};
    if (!sample.substance.empty()) {
        json["substance"] = sample.substance;
        json["level"] = sample.level;
        if (sample.u_rel > 0.0) json["u_rel"] = sample.u_rel;
    }
    if (sample.right) json["right"] = drill.choices[*sample.right];
    return json;
}

nlohmann::json drill_json(const WantedDrill& wanted) {
    const ClassDrill& drill = wanted.drill;
    nlohmann::json json{
        {"name", drill.name},        {"question", drill.question},   {"task", task_name(drill.task)},
        {"cup_mL", drill.cup.value}, {"known_cup", drill.known_cup}, {"base", drill.base}};
    if (drill.choices.size() >= 2) json["choices"] = drill.choices;
    if (drill.u_shared_rel > 0.0) json["u_shared_rel"] = drill.u_shared_rel;
    std::vector<std::size_t> seats;
    for (const std::size_t seat : drill.sits_out) seats.push_back(seat + 1);
    if (!seats.empty()) json["sits_out"] = seats;
    if (wanted.ladders.empty()) {
        for (const Sample& sample : drill.samples) json["samples"].push_back(sample_json(sample, drill));
        return json;
    }
    json["times"] = wanted.times;
    for (const solution::Ladder& ladder : wanted.ladders) json["ladders"].push_back(ladder.id());
    return json;
}

nlohmann::json labels_json(const LabelGrid& grid) {
    return {{"columns", grid.columns},     {"rows", grid.rows},       {"width_mm", grid.width_mm},
            {"height_mm", grid.height_mm}, {"left_mm", grid.left_mm}, {"top_mm", grid.top_mm},
            {"across_mm", grid.across_mm}, {"down_mm", grid.down_mm}, {"cutting_marks", grid.cutting_marks}};
}

}  // namespace

const solution::Equipment* equipment_of(const ClassChoice& choice, const content::Content& content) {
    if (choice.carried) return &choice.carried->equipment;
    const auto found = std::ranges::find(content.equipment, choice.kitchen, &solution::Equipment::id);
    return found == content.equipment.end() ? nullptr : &*found;
}

ClassChoice read_class(const content::Field& root, const content::Content& content) {
    root.only(
        {"schema", "title", "people", "spares", "groups", "names", "labels", "drills", "note", "equipment"});
    root.at("schema").one_of({class_schema});
    ClassChoice read;
    read.title = root.at("title").text();
    read_numbers(root, read);
    if (const Field names = root.at("names"); names.is_there())
        for (const Field& name : names.each(0)) read.names.push_back(name.any_text());
    if (const Field labels = root.at("labels"); labels.is_there()) read_labels(labels, read.labels.emplace());
    Reading reading(content);
    for (const Field& drill : root.at("drills").each()) reading.drill(drill);
    const Field equipment = root.at("equipment");
    if (reading.has_ladders || equipment.is_there()) read_kitchen(equipment, read, content);
    read.drills = std::move(reading.wanted);
    return read;
}

ClassChoice read_class_file(const std::string& file, const content::Content& content) {
    std::vector<Problem> problems;
    const auto document = content::read_json_file(file, problems);
    if (!document) throw Refused(problems);
    ClassChoice read = read_class(Field(*document, file, problems), content);
    if (!problems.empty()) throw Refused(problems);
    return read;
}

std::string class_json(const ClassChoice& choice) {
    nlohmann::json json{{"schema", class_schema},
                        {"title", choice.title},
                        {"people", choice.people},
                        {"spares", choice.spares},
                        {"drills", nlohmann::json::array()}};
    if (choice.groups > 0) json["groups"] = choice.groups;
    if (!choice.names.empty()) json["names"] = choice.names;
    if (choice.carried)
        json["equipment"] = nlohmann::json::parse(choice.carried->entry);
    else if (!choice.kitchen.empty())
        json["equipment"] = choice.kitchen;
    if (choice.labels) json["labels"] = labels_json(*choice.labels);
    for (const WantedDrill& wanted : choice.drills) json["drills"].push_back(drill_json(wanted));
    return json.dump();
}

PreparedClass prepared(const ClassChoice& choice, const content::Content& content, Seed letters,
                       const std::string& where) {
    PreparedClass made{
        .title = choice.title,
        .names = choice.names,
        .plan = {.people = choice.people, .spares = choice.spares, .groups = choice.groups, .drills = {}},
        .cautions = {},
        .taster_cautions = {},
        .labels = choice.labels.value_or(LabelGrid{}),
        .mixes = {},
        .intake = {}};
    fill(made, choice, content, letters, where);
    made.intake = intake_of_class(made.plan.drills, content);
    if (const auto over = safety::crossed(content.cautions.caps, made.intake, made.intake))
        throw Refused(where + ": /drills", over->text, "fewer, smaller or weaker cups, or two sittings");
    add_cautions(made, content);
    return made;
}

ClassChoice in_bottles(const ClassChoice& choice, const PreparedClass& planned) {
    ClassChoice bottled = choice;
    for (std::size_t i = 0; i < choice.drills.size(); ++i)
        bottled.drills[i] = {.drill = planned.plan.drills[i], .ladders = {}, .times = 1};
    bottled.kitchen.clear();
    bottled.carried.reset();
    return bottled;
}

bool holds_ethanol(const ClassDrill& drill, const content::Content& content) {
    return intake_of_class({drill}, content).ethanol.value > 0.0;
}

}  // namespace sipladder::drills::classroom
