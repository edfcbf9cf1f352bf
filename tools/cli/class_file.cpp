#include "tools/cli/class_file.hpp"

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

const std::map<std::string, classroom::Task> tasks{{"which_of_three", classroom::Task::which_of_three},
                                                   {"graded", classroom::Task::graded},
                                                   {"naming", classroom::Task::naming},
                                                   {"ranking", classroom::Task::ranking}};

/// What is read, and what a person would take in from it.
class Reading {
  public:
    Reading(const content::Content& content, ClassFile& into) : content_(content), into_(into) {}

    void drill(const Field& field);
    const safety::Intake& taken() const { return taken_; }
    /// Cautions about what is served, each once, in the order of the content.
    std::vector<std::string> cautions() const;

  private:
    const solution::Base& base_of(const Field& field) const;
    void sample(const Field& field, classroom::ClassDrill& drill, const solution::Base& base);
    const solution::Substance* substance_of(const Field& field) const;

    const content::Content& content_;
    ClassFile& into_;
    safety::Intake taken_;
    std::set<std::string> substances_;
    std::string of_ladder_;  ///< the substance last read
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

void Reading::sample(const Field& field, classroom::ClassDrill& drill, const solution::Base& base) {
    field.only({"bottle", "substance", "level", "times", "right"});
    classroom::Sample sample{field.at("bottle").text(), base.name, 0.0};
    if (const Field times = field.at("times"); times.is_there())
        sample.times = static_cast<std::size_t>(times.integer(1, 60));
    sample.right = right_name(field.at("right"), drill);
    const bool is_three = drill.task == classroom::Task::which_of_three;
    safety::Intake cup = safety::intake_of_base(base, drill.cup);
    if (const Field named = field.at("substance"); named.is_there() || is_three) {
        const solution::Substance* substance = substance_of(named);
        if (substance == nullptr) return;
        const double level = field.at("level").number(0.0, substance->strongest_cup);
        sample.what =
            substance->name + ", " + exact(level) + " " + unit_text(substance->scale) + " in " + base.name;
        cup = safety::intake_of_cup(base, *substance, level, drill.cup);
        if (is_three && !drill.samples.empty() &&
            (substance->name != of_ladder_ || level <= drill.samples.back().level))
            field.note("does not go on with the ladder before it", "one substance, weakest first");
        of_ladder_ = substance->name;
        if (is_three) drill.substance = substance->id;
        sample.level = level;
        drill.scale = substance->scale;
        substances_.insert(substance->id);
    } else if (field.at("level").is_there()) {
        field.note("has a level and no substance", "both, or neither for the base alone");
    }
    const safety::Intake blank = safety::intake_of_base(base, drill.cup);
    for (std::size_t i = 0; i < sample.times; ++i) {
        taken_ += cup;
        if (is_three) (taken_ += blank) += blank;
    }
    drill.samples.push_back(std::move(sample));
}

void Reading::drill(const Field& field) {
    field.only(
        {"name", "question", "task", "cup_mL", "known_cup", "base", "choices", "samples", "u_shared_rel"});
    classroom::ClassDrill drill;
    drill.name = field.at("name").text();
    drill.question = field.at("question").text();
    drill.task = tasks.at(field.at("task").one_of({"which_of_three", "graded", "naming", "ranking"}));
    drill.cup = Millilitres{field.at("cup_mL").number(1.0, most_cup_mL)};
    const bool is_three = drill.task == classroom::Task::which_of_three;
    const Field known = field.at("known_cup");
    drill.known_cup = known.is_there() ? known.boolean() : is_three;
    if (const Field shared = field.at("u_shared_rel"); shared.is_there())
        drill.u_shared_rel = shared.number(0.0, 0.5);
    const Field choices = field.at("choices");
    if (choices.is_there()) drill.choices = choices.texts(2);
    const solution::Base& base = base_of(field.at("base"));
    const std::vector<Field> samples = field.at("samples").each();
    for (const Field& one : samples) sample(one, drill, base);
    if (drill.known_cup && !samples.empty()) {
        taken_ += safety::intake_of_base(base, drill.cup);
        const Field& last = samples.back();
        if (const solution::Substance* substance =
                last.at("substance").is_there() ? substance_of(last.at("substance")) : nullptr)
            taken_ += safety::intake_of_cup(
                base, *substance, last.at("level").number(0.0, substance->strongest_cup), drill.cup);
    }
    into_.plan.drills.push_back(std::move(drill));
}

std::vector<std::string> Reading::cautions() const {
    std::vector<std::string> texts;
    for (const safety::Caution& caution : content_.cautions.texts)
        if (caution.substances.empty() ||
            std::any_of(caution.substances.begin(), caution.substances.end(),
                        [&](const std::string& id) { return substances_.count(id) > 0; }))
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

}  // namespace

ClassFile read_class_file(const std::string& file, const content::Content& content) {
    std::vector<Problem> problems;
    const auto document = content::read_json_file(file, problems);
    if (!document) throw Refused(problems);
    const Field root(*document, file, problems);
    root.only({"schema", "title", "people", "spares", "groups", "names", "labels", "drills", "note"});
    root.at("schema").one_of({"sipladder-class/1"});
    ClassFile read;
    read.info.title = root.at("title").text();
    read_numbers(root, read.plan);
    if (const Field names = root.at("names"); names.is_there()) read.info.names = names.texts(0);
    if (const Field labels = root.at("labels"); labels.is_there()) read_labels(labels, read.labels);
    Reading reading(content, read);
    for (const Field& drill : root.at("drills").each()) reading.drill(drill);
    if (problems.empty())
        if (const auto over = safety::crossed(content.cautions.caps, reading.taken(), reading.taken()))
            problems.push_back(
                {file + ": /drills", over->text, "fewer, smaller or weaker cups, or two sittings"});
    if (!problems.empty()) throw Refused(problems);
    read.info.cautions = reading.cautions();
    return read;
}

}  // namespace sipladder::cli
