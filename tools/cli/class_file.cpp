#include "tools/cli/class_file.hpp"

#include "drills/classroom/class_mix.hpp"
#include "engine/content/field.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

namespace sipladder::cli {

namespace {

namespace classroom = drills::classroom;
using content::Field;

constexpr double most_cup_mL = 50.0;
constexpr double most_mm = 500.0;
const std::vector<std::string> grades{"nothing", "perhaps", "yes", "clearly"};

const std::map<std::string, classroom::Task> tasks{{"which_of_three", classroom::Task::which_of_three},
                                                   {"graded", classroom::Task::graded},
                                                   {"naming", classroom::Task::naming},
                                                   {"ranking", classroom::Task::ranking}};

/// Index into the choices.
std::optional<std::size_t> right_name(const Field& field, const classroom::ClassDrill& drill) {
    if (!field.is_there()) return std::nullopt;
    if (drill.task != classroom::Task::naming) {
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

    std::vector<classroom::WantedDrill> wanted;  ///< in order; those with bottles have no ladders
    bool has_ladders = false;

  private:
    const solution::Base& base_of(const Field& field) const;
    const solution::Substance* substance_of(const Field& field) const;
    const solution::Ladder* ladder_of(const Field& field) const;
    void sample(const Field& field, classroom::ClassDrill& drill) const;
    void ladders(const Field& field, classroom::WantedDrill& into);

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

void Reading::sample(const Field& field, classroom::ClassDrill& drill) const {
    field.only({"bottle", "substance", "level", "times", "right"});
    const std::string& base_name = content_.base(drill.base).name;
    classroom::Sample sample{field.at("bottle").text(), base_name, 0.0};
    if (const Field times = field.at("times"); times.is_there())
        sample.times = static_cast<std::size_t>(times.integer(1, 60));
    sample.right = right_name(field.at("right"), drill);
    const bool is_three = drill.task == classroom::Task::which_of_three;
    if (const Field named = field.at("substance"); named.is_there() || is_three) {
        const solution::Substance* substance = substance_of(named);
        if (substance == nullptr) return;
        const double level = field.at("level").number(0.0, substance->strongest_cup);
        sample.what =
            substance->name + ", " + exact(level) + " " + unit_text(substance->scale) + " in " + base_name;
        if (is_three && !drill.samples.empty() &&
            (substance->id != drill.samples.back().substance || level <= drill.samples.back().level))
            field.note("does not go on with the ladder before it", "one substance, weakest first");
        sample.substance = substance->id;
        sample.level = level;
        drill.scale = substance->scale;
    } else if (field.at("level").is_there()) {
        field.note("has a level and no substance", "both, or neither for the base alone");
    }
    drill.samples.push_back(std::move(sample));
}

void Reading::ladders(const Field& field, classroom::WantedDrill& into) {
    has_ladders = true;
    const bool is_naming = into.drill.task == classroom::Task::naming;
    const std::vector<Field> named = field.each();
    if (!is_naming && named.size() > 1) field.note("are several", "one, unless cups are named");
    for (const Field& one : named)
        if (const solution::Ladder* ladder = ladder_of(one)) into.ladders.push_back(*ladder);
}

void Reading::drill(const Field& field) {
    field.only({"name", "question", "task", "cup_mL", "known_cup", "base", "choices", "samples", "ladders",
                "times", "u_shared_rel"});
    classroom::WantedDrill read;
    classroom::ClassDrill& drill = read.drill;
    drill.name = field.at("name").text();
    drill.question = field.at("question").text();
    drill.task = tasks.at(field.at("task").one_of({"which_of_three", "graded", "naming", "ranking"}));
    drill.cup = Millilitres{field.at("cup_mL").number(1.0, most_cup_mL)};
    drill.base = base_of(field.at("base")).id;
    const Field known = field.at("known_cup");
    drill.known_cup = known.is_there() ? known.boolean() : drill.task == classroom::Task::which_of_three;
    if (const Field choices = field.at("choices"); choices.is_there())
        drill.choices = choices.texts(2);
    else if (drill.task == classroom::Task::graded)
        drill.choices = grades;
    if (const Field times = field.at("times"); times.is_there())
        read.times = static_cast<std::size_t>(times.integer(1, 20));
    if (const Field shared = field.at("u_shared_rel"); shared.is_there())
        drill.u_shared_rel = shared.number(0.0, 0.5);
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
std::vector<std::string> cautions_of(const std::vector<classroom::ClassDrill>& drills,
                                     const content::Content& content) {
    std::set<std::string> served;
    for (const classroom::ClassDrill& drill : drills)
        for (const classroom::Sample& sample : drill.samples) served.insert(sample.substance);
    std::vector<std::string> texts;
    for (const safety::Caution& caution : content.cautions.texts)
        if (caution.substances.empty() || std::ranges::any_of(caution.substances, [&](const std::string& id) {
                return served.contains(id);
            }))
            texts.push_back(caution.text);
    return texts;
}

void read_labels(const Field& field, drills::sheets::LabelGrid& grid) {
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

void read_numbers(const Field& root, classroom::ClassPlan& plan) {
    plan.people = static_cast<std::size_t>(root.at("people").integer(1, 200));
    if (const Field spares = root.at("spares"); spares.is_there())
        plan.spares = static_cast<std::size_t>(spares.integer(0, 200));
    if (const Field groups = root.at("groups"); groups.is_there())
        plan.groups = static_cast<std::size_t>(groups.integer(1, 200));
}

void kitchen_of(const Field& field, const content::Content& content, ClassFile& read) {
    const std::string id = field.id();
    for (const solution::Equipment& kitchen : content.equipment)
        if (kitchen.id == id) {
            read.kitchen = kitchen;
            return;
        }
    field.note("is \"" + id + "\", which is no kitchen of the content", "an id in content/equipment.json");
}

/// Drills with ladders get their bottles from a mix; the others have them.
void fill(ClassFile& read, const std::vector<classroom::WantedDrill>& wanted, const content::Content& content,
          Seed letters) {
    std::vector<classroom::WantedDrill> to_mix;
    for (const classroom::WantedDrill& one : wanted)
        if (!one.ladders.empty()) to_mix.push_back(one);
    classroom::ClassMix mix;
    if (!to_mix.empty())
        mix = classroom::mix_class(to_mix, read.plan.people + read.plan.spares, content, *read.kitchen,
                                   letters);
    auto mixed = mix.drills.begin();
    for (const classroom::WantedDrill& one : wanted)
        read.plan.drills.push_back(one.ladders.empty() ? one.drill : std::move(*mixed++));
    read.mixes = std::move(mix.mixes);
}

}  // namespace

ClassFile read_class_file(const std::string& file, const content::Content& content, Seed letters) {
    std::vector<Problem> problems;
    const auto document = content::read_json_file(file, problems);
    if (!document) throw Refused(problems);
    const Field root(*document, file, problems);
    root.only(
        {"schema", "title", "people", "spares", "groups", "names", "labels", "drills", "note", "equipment"});
    root.at("schema").one_of({"sipladder-class/1"});
    ClassFile read;
    read.info.title = root.at("title").text();
    read_numbers(root, read.plan);
    if (const Field names = root.at("names"); names.is_there()) read.info.names = names.texts(0);
    if (const Field labels = root.at("labels"); labels.is_there()) read_labels(labels, read.labels);
    Reading reading(content);
    for (const Field& drill : root.at("drills").each()) reading.drill(drill);
    const Field equipment = root.at("equipment");
    if (reading.has_ladders || equipment.is_there()) kitchen_of(equipment, content, read);
    if (!problems.empty()) throw Refused(problems);
    fill(read, reading.wanted, content, letters);
    read.intake = classroom::intake_of_class(read.plan.drills, content);
    if (const auto over = safety::crossed(content.cautions.caps, read.intake, read.intake))
        throw Refused(file + ": /drills", over->text, "fewer, smaller or weaker cups, or two sittings");
    read.info.cautions = cautions_of(read.plan.drills, content);
    return read;
}

}  // namespace sipladder::cli
