// Bodies are JSON objects that name their schema. A row is written when its fact is final and never before:
// the lock row is the first to hold the level (and the place, where the card tells it), so a look into the
// journal during a sitting tells nothing about the cups on the table.
//
// A reveal belongs to the lock before it. So struck rows are read too, to keep that order, and their trials
// are left out at the end.

#include "drills/record.hpp"

#include "drills/record_parts.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/solution/recipe.hpp"

#include <nlohmann/json.hpp>

#include <charconv>
#include <system_error>
#include <utility>

namespace sipladder::drills::record {

namespace {

using content::Field;
using nlohmann::json;

constexpr const char* detection_schema = "sipladder-detection/1";
constexpr const char* mix_schema = "sipladder-mix/1";

/// A body while it is read; the Field points into the document.
struct Body {
    std::string name;
    std::shared_ptr<const json> document;
};

Body parsed(const std::string& text, std::string name, std::vector<Problem>& problems) {
    auto document = content::parse_json(text, name, problems);
    return {std::move(name), std::move(document)};
}

void want_schema(const Field& body, const char* schema) {
    const std::string found = body.at("schema").text();
    if (!found.empty() && found != schema)
        body.at("schema").note("is " + found, "this program reads " + std::string(schema) +
                                                  "; a later one may have written this row");
}

Seed read_seed(const Field& field) {
    const std::string digits = field.text();
    Seed seed;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), seed.value);
    if (!digits.empty() && (error != std::errc{} || end != digits.data() + digits.size()))
        field.note("is \"" + digits + "\"", "a whole number up to 2^64 - 1, as text, is wanted");
    return seed;
}

detection::Plan read_plan(const Field& body) {
    body.only({"schema", "seed", "rule_version", "substance", "base_name", "ladder", "prior", "blinding",
               "cup_mL", "spat", "most_presentations", "stop_sd_log10", "most_minutes", "rest_s", "caps",
               "blank", "taken_this_sitting", "taken_today"});
    detection::Plan plan;
    plan.substance = read_substance(body.at("substance"));
    plan.base_name = body.at("base_name").text();
    plan.ladder = read_ladder(body.at("ladder"));
    plan.prior = read_prior(body.at("prior"));
    plan.blinding = read_blinding(body.at("blinding"));
    plan.cup = Millilitres{body.at("cup_mL").number(0.0, 1000.0)};
    plan.spat = body.at("spat").boolean();
    plan.most_presentations = static_cast<std::size_t>(body.at("most_presentations").integer(1, 1000));
    plan.stop_sd_log10 = body.at("stop_sd_log10").number(0.0, 100.0);
    if (const Field minutes = body.at("most_minutes"); minutes.is_there())
        plan.most_minutes = static_cast<int>(minutes.integer(0, 2880));
    plan.rest_s = static_cast<int>(body.at("rest_s").integer(0, 3600));
    for (const Field& cap : body.at("caps").each(0)) plan.caps.push_back(read_cap(cap));
    // Rows of older versions have none: their bases held nothing.
    if (const Field blank = body.at("blank"); blank.is_there()) plan.blank = read_intake(blank);
    plan.taken_this_sitting = read_intake(body.at("taken_this_sitting"));
    plan.taken_today = read_intake(body.at("taken_today"));
    plan.rule_version = static_cast<int>(body.at("rule_version").integer(1, 1000));
    return plan;
}

std::string lock_body(const detection::Trial& trial) {
    json body{{"schema", detection_schema},
              {"shown", json_of(trial.shown)},
              {"level", trial.level},
              {"answer", json_of(*trial.given)}};
    // Shuffled tray: the place is not known yet; it comes with the reveal.
    if (trial.place && !trial.revealed_at) body["place"] = *trial.place;
    return body.dump();
}

detection::Trial read_lock(const Field& body) {
    body.only({"schema", "shown", "level", "place", "answer"});
    want_schema(body, detection_schema);
    detection::Trial trial;
    trial.shown = read_presentation(body.at("shown"));
    trial.level = static_cast<std::size_t>(body.at("level").integer(0, 1000));
    if (body.at("place").is_there())
        trial.place = static_cast<std::size_t>(body.at("place").integer(0, places - 1));
    trial.given = read_answer(body.at("answer"));
    return trial;
}

std::string reveal_body(const detection::Trial& trial) {
    return json{{"schema", detection_schema}, {"place", *trial.place}, {"at", json_of(*trial.revealed_at)}}
        .dump();
}

std::string why_body(const std::string& why) {
    return json{{"schema", detection_schema}, {"why", why}}.dump();
}

std::string read_why(const Field& body) {
    body.only({"schema", "why"});
    want_schema(body, detection_schema);
    return body.at("why").text();
}

/// Gathers the trials that a drill's rows tell.
class Trials {
  public:
    explicit Trials(std::vector<Problem>& problems) : problems_(problems) {}

    void take(const journal::Entry& entry) {
        const Body body = parsed(entry.body, "journal entry " + entry.id.text, problems_);
        if (!body.document) return;
        const Field field(*body.document, body.name, problems_);
        if (entry.kind == "lock") told_.push_back({read_lock(field), entry.struck.has_value()});
        if (entry.kind == "reveal") take_reveal(field, entry.struck.has_value());
        if (entry.kind == "stopped" && !entry.struck) stopped_ = read_why(field);
    }

    /// An answer whose reveal was struck out waits for it again if it is the last, and is left out otherwise.
    std::vector<detection::Trial> kept() const {
        std::vector<detection::Trial> trials;
        for (std::size_t i = 0; i < told_.size(); ++i)
            if (!told_[i].is_struck && (told_[i].trial.place || i + 1 == told_.size()))
                trials.push_back(told_[i].trial);
        return trials;
    }
    const std::optional<std::string>& stopped() const { return stopped_; }

  private:
    struct Told {
        detection::Trial trial;
        bool is_struck{};
    };

    void take_reveal(const Field& body, bool is_struck) {
        body.only({"schema", "place", "at"});
        want_schema(body, detection_schema);
        const auto place = static_cast<std::size_t>(body.at("place").integer(0, places - 1));
        const Instant at = read_instant(body.at("at"));
        if (told_.empty() || told_.back().trial.place)
            body.note("reveals a place where no answer waits for one", "a lock comes before each reveal");
        else if (!is_struck) {
            told_.back().trial.place = place;
            told_.back().trial.revealed_at = at;
        }
    }

    std::vector<Problem>& problems_;
    std::vector<Told> told_;
    std::optional<std::string> stopped_;
};

/// Numbers rows and gives them ids.
class Rows {
  public:
    Rows(const Uuid& drill, int next_number, const Instant& at, Random& ids)
        : drill_(drill), next_number_(next_number), at_(at), ids_(ids) {}
    void add(std::string kind, std::string body) {
        rows_.push_back({uuid_from(ids_), drill_, next_number_++, std::move(kind), at_, std::move(body), {}});
    }
    std::vector<journal::Entry> take() { return std::move(rows_); }

  private:
    const Uuid& drill_;
    int next_number_;
    const Instant& at_;
    Random& ids_;
    std::vector<journal::Entry> rows_;
};

}  // namespace

std::string body_of(const detection::Plan& plan, Seed seed) {
    json caps = json::array();
    for (const safety::Cap& cap : plan.caps) caps.push_back(json_of(cap));
    return json{{"schema", detection_schema},
                {"seed", std::to_string(seed.value)},
                {"rule_version", plan.rule_version},
                {"substance", json_of(plan.substance)},
                {"base_name", plan.base_name},
                {"ladder", json_of(plan.ladder)},
                {"prior", json_of(plan.prior)},
                {"blinding", text_of(plan.blinding)},
                {"cup_mL", plan.cup.value},
                {"spat", plan.spat},
                {"most_presentations", plan.most_presentations},
                {"stop_sd_log10", plan.stop_sd_log10},
                {"most_minutes", plan.most_minutes},
                {"rest_s", plan.rest_s},
                {"caps", std::move(caps)},
                {"blank", json_of(plan.blank)},
                {"taken_this_sitting", json_of(plan.taken_this_sitting)},
                {"taken_today", json_of(plan.taken_today)}}
        .dump();
}

std::vector<journal::Entry> entries_between(const detection::State& before, const detection::State& after,
                                            const Uuid& drill, int next_number, const Instant& at,
                                            Random& ids) {
    SIPLADDER_EXPECT(after.trials.size() >= before.trials.size());
    Rows rows(drill, next_number, at, ids);
    for (std::size_t i = 0; i < after.trials.size(); ++i) {
        const detection::Trial& trial = after.trials[i];
        const bool is_new = i >= before.trials.size();
        if (is_new) rows.add("lock", lock_body(trial));
        if (trial.revealed_at && (is_new || !before.trials[i].revealed_at))
            rows.add("reveal", reveal_body(trial));
    }
    if (after.stopped && !before.stopped)
        rows.add("stopped", why_body(*after.stopped));
    else if (const Step step = detection::next(after);
             std::holds_alternative<Finished>(step) && !detection::is_finished(before))
        rows.add("finished", why_body(std::get<Finished>(step).why));
    return rows.take();
}

detection::State read(const journal::Drill& drill, const std::vector<journal::Entry>& entries) {
    std::vector<Problem> problems;
    const Body body = parsed(drill.body, "journal drill " + drill.id.text, problems);
    if (!body.document) throw Refused(std::move(problems));
    const Field field(*body.document, body.name, problems);
    want_schema(field, detection_schema);
    const Seed seed = read_seed(field.at("seed"));
    detection::Plan plan = read_plan(field);
    Trials trials(problems);
    for (const journal::Entry& entry : entries) trials.take(entry);
    if (!problems.empty()) throw Refused(std::move(problems));
    return detection::resume(std::move(plan), seed, trials.kept(), trials.stopped());
}

std::string body_of_mix(const solution::MixPlan& plan, const solution::Readings& readings,
                        const solution::MixedLadder& mixed) {
    return body_of_mix(plan, solution::BenchRecord{readings, {}, {}}, mixed);
}

std::string body_of_mix(const solution::MixPlan& plan, const solution::BenchRecord& record,
                        const solution::MixedLadder& mixed) {
    json steps = json::array();
    for (std::size_t i = 0; i < plan.steps.size(); ++i) {
        const solution::Step& step = plan.steps[i];
        json row{{"text", step.text}, {"planned", step.reading}, {"unit", step.unit}};
        if (const auto showed = record.readings.find(i); showed != record.readings.end())
            row["showed"] = showed->second;
        if (record.skipped.contains(i)) row["skipped"] = true;
        if (const auto left = record.left.find(i); left != record.left.end()) row["left"] = left->second;
        steps.push_back(std::move(row));
    }
    const solution::PlanRequest& request = plan.request;
    return json{{"schema", mix_schema},
                {"substance", request.substance.id},
                {"ingredient",
                 {{"id", request.ingredient.id},
                  {"name", request.ingredient.name},
                  {"u_rel", solution::u_rel_of(request.ingredient)},
                  {"source", request.ingredient.source}}},
                {"base",
                 {{"id", request.base.id},
                  {"name", request.base.name},
                  {"bicarbonate_mg_per_L", request.base.bicarbonate_mg_per_L}}},
                {"equipment", {{"id", request.equipment.id}, {"name", request.equipment.name}}},
                {"wanted_u_rel", request.wanted_u_rel},
                {"cup_mL", request.demand.cup.value},
                {"presentations", request.demand.presentations},
                {"steps", std::move(steps)},
                {"ladder", json_of(mixed)}}
        .dump();
}

KeptMix read_mix(const journal::Fact& fact) {
    std::vector<Problem> problems;
    const Body body = parsed(fact.body, "journal mix " + fact.id.text, problems);
    if (!body.document) throw Refused(std::move(problems));
    const Field field(*body.document, body.name, problems);
    field.only({"schema", "substance", "ingredient", "base", "equipment", "wanted_u_rel", "cup_mL",
                "presentations", "steps", "ladder"});
    want_schema(field, mix_schema);
    KeptMix mix{fact.id,
                fact.at,
                read_ladder(field.at("ladder")),
                field.at("substance").id(),
                field.at("ingredient").at("name").text(),
                field.at("base").at("name").text(),
                field.at("equipment").at("name").text()};
    if (!problems.empty()) throw Refused(std::move(problems));
    return mix;
}

}  // namespace sipladder::drills::record
