// Bodies are JSON objects that name their schema. A row is written when its fact is final and never before:
// the lock row is the first to hold the level (and the place, where the card tells it), so a look into the
// journal during a sitting tells nothing about the cups on the table.
//
// A reveal belongs to the lock before it, or with a sealed key to the cup whose code it names. So struck rows
// are read too, to keep that order, and their trials are left out at the end.

#include "drills/record.hpp"

#include "drills/record_notes.hpp"
#include "drills/record_parts.hpp"
#include "engine/content/json_file.hpp"
#include "engine/problem.hpp"
#include "engine/solution/recipe.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <utility>

namespace sipladder::drills::record {

namespace {

using content::Field;
using nlohmann::json;

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

void want_schema(const Field& body, const std::string& schema) {
    const std::string found = body.at("schema").text();
    if (!found.empty() && found != schema)
        body.at("schema").note("is " + found,
                               "this program reads " + schema + "; a later one may have written this row");
}

std::string schema_of(Kind kind) {
    return "sipladder-" + name_of(kind) + "/1";
}

/// The kind of a drill's body; what cannot be read counts as detection, with a problem noted.
Kind read_kind(const Field& body) {
    const std::string found = body.at("schema").text();
    for (const Kind kind : every_kind)
        if (found == schema_of(kind)) return kind;
    want_schema(body, schema_of(Kind::detection));
    return Kind::detection;
}

/// What only some drills have; a plan without is written as ever.
void read_what_some_have(const Field& body, Plan& plan) {
    if (const Field order = body.at("order"); order.is_there()) plan.order = read_order(order);
    if (const Field strong = body.at("rest_strong_s"); strong.is_there())
        plan.rest_strong_s = static_cast<int>(strong.integer(0, 3600));
    if (const Field others = body.at("others"); others.is_there())
        for (const Field& other : others.each()) plan.others.push_back(read_line(other));
    if (const Field pedestal = body.at("pedestal"); pedestal.is_there()) plan.pedestal = read_level(pedestal);
    if (const Field seat = body.at("seat"); seat.is_there()) plan.seat = read_seat(seat);
    if (const Field words = body.at("words"); words.is_there()) plan.words = words.texts();
    if (const Field sensation = body.at("sensation"); sensation.is_there()) plan.sensation = sensation.text();
    if (const Field seconds = body.at("most_seconds"); seconds.is_there())
        plan.most_seconds = static_cast<int>(seconds.integer(1, 600));
    if (const Field codes = body.at("codes_before"); codes.is_there())
        for (std::string& digits : codes.texts(1)) plan.codes_before.push_back({std::move(digits)});
}

Plan read_plan(const Field& body) {
    body.only({"schema",
               "seed",
               "rule_version",
               "substance",
               "base_name",
               "ladder",
               "prior",
               "blinding",
               "cup_mL",
               "spat",
               "most_presentations",
               "stop_sd_log10",
               "most_minutes",
               "rest_s",
               "caps",
               "blank",
               "taken_this_sitting",
               "taken_today",
               "order",
               "rest_strong_s",
               "others",
               "pedestal",
               "seat",
               "words",
               "sensation",
               "most_seconds",
               "codes_before"});
    Plan plan;
    plan.kind = read_kind(body);
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
    read_what_some_have(body, plan);
    return plan;
}

void put_what_some_have(json& body, const Plan& plan) {
    if (plan.order != Order::adaptive) body["order"] = text_of(plan.order);
    if (plan.rest_strong_s != 0) body["rest_strong_s"] = plan.rest_strong_s;
    for (const Line& other : plan.others) body["others"].push_back(json_of(other));
    if (plan.pedestal) body["pedestal"] = json_of(*plan.pedestal);
    if (plan.seat) body["seat"] = json_of(*plan.seat);
    if (!plan.words.empty()) body["words"] = plan.words;
    if (!plan.sensation.empty()) body["sensation"] = plan.sensation;
    if (plan.kind == Kind::persistence) body["most_seconds"] = plan.most_seconds;
    for (const BlindCode& code : plan.codes_before) body["codes_before"].push_back(code.digits);
}

/// What a presentation holds.
void put_held(json& body, const Trial& trial) {
    if (!trial.held.empty()) {
        for (const auto& held : trial.held) body["held"].push_back(json_of(*held));
        return;
    }
    body["level"] = trial.level;
    if (trial.series != 0) body["series"] = trial.series;
    if (trial.is_blank) body["blank"] = true;
}
void read_what_is_held(const Field& body, Trial& trial) {
    if (const Field cups = body.at("held"); cups.is_there()) {
        for (const Field& cup : cups.each()) trial.held.emplace_back(read_held(cup));
        return;
    }
    trial.level = static_cast<std::size_t>(body.at("level").integer(0, 1000));
    if (const Field series = body.at("series"); series.is_there())
        trial.series = static_cast<std::size_t>(series.integer(0, 1000));
    if (const Field blank = body.at("blank"); blank.is_there()) trial.is_blank = blank.boolean();
}

std::string lock_body(const Plan& plan, const Trial& trial) {
    json body{{"schema", schema_of(plan.kind)},
              {"shown", json_of(trial.shown)},
              {"answer", json_of(*trial.given, cups_together(plan) > 1)}};
    // Sealed key: what the cup holds is not known yet; it comes with the reveal.
    if (plan.blinding == Blinding::sealed_key) return body.dump();
    put_held(body, trial);
    // Shuffled tray: the place is not known yet; it comes with the reveal.
    if (trial.place && !trial.revealed_at) body["place"] = *trial.place;
    return body.dump();
}

/// One cup of a set that was turned over.
std::string reveal_body(const Plan& plan, const Trial& trial, std::size_t cup) {
    json body{{"schema", schema_of(plan.kind)},
              {"at", json_of(*trial.revealed_at)},
              {"code", trial.shown.codes.at(cup).digits}};
    body["held"].push_back(json_of(*trial.held.at(cup)));
    return body.dump();
}

std::string reveal_body(const Plan& plan, const Trial& trial) {
    json body{{"schema", schema_of(plan.kind)}, {"at", json_of(*trial.revealed_at)}};
    if (plan.blinding == Blinding::sealed_key) {
        body["code"] = trial.shown.codes.front().digits;
        put_held(body, trial);
    } else
        body["place"] = *trial.place;
    return body.dump();
}

std::string why_body(Kind kind, const std::string& why) {
    return json{{"schema", schema_of(kind)}, {"why", why}}.dump();
}

std::string gone_on_body(Kind kind, const GoneOn& gone_on) {
    return json{{"schema", schema_of(kind)},
                {"taken_this_sitting", json_of(gone_on.taken_this_sitting)},
                {"taken_today", json_of(gone_on.taken_today)}}
        .dump();
}

/// Gathers the trials that a drill's rows tell.
class Trials {
  public:
    Trials(const Plan& plan, std::vector<Problem>& problems) : plan_(plan), problems_(problems) {}

    void take(const journal::Entry& entry) {
        if (entry.kind == "rest_cut") {
            if (!entry.struck) rests_cut_.push_back({told_.size(), read_rest_cut(entry)});
            return;
        }
        const Body body = parsed(entry.body, "journal entry " + entry.id.text, problems_);
        if (!body.document) return;
        const Field field(*body.document, body.name, problems_);
        if (entry.kind == "gone_on" && !entry.struck) gone_on_.push_back(read_gone_on(field));
        if (entry.kind == "lock") told_.push_back({read_lock(field), entry.struck.has_value()});
        if (entry.kind == "reveal") take_reveal(field, entry.struck.has_value());
        if (entry.kind == "stopped" && !entry.struck) stopped_ = read_why(field);
    }

    /// An answer whose reveal was struck out waits for it again if it is the last (sealed key: always), and
    /// is left out otherwise.
    std::vector<Trial> kept() const {
        std::vector<Trial> trials;
        const bool may_wait = plan_.blinding == Blinding::sealed_key;
        for (std::size_t i = 0; i < told_.size(); ++i)
            if (!told_[i].is_struck && (told_[i].trial.place || may_wait || i + 1 == told_.size()))
                trials.push_back(told_[i].trial);
        return trials;
    }
    const std::optional<std::string>& stopped() const { return stopped_; }
    const std::vector<RestCut>& rests_cut() const { return rests_cut_; }
    const std::vector<GoneOn>& gone_on() const { return gone_on_; }

  private:
    struct Told {
        Trial trial;
        bool is_struck{};
    };

    /// A drill of words has no more than this of them; what belongs to the drill is checked when it resumes.
    std::size_t most_choices() const {
        constexpr std::size_t most_words = 1000;
        return cups_together(plan_) > 1 ? cups_together(plan_) : most_words;
    }
    std::size_t read_place(const Field& field) const {
        return static_cast<std::size_t>(field.integer(0, static_cast<long>(cups_together(plan_)) - 1));
    }

    Trial read_lock(const Field& body) const {
        body.only({"schema", "shown", "level", "series", "blank", "held", "place", "answer"});
        want_schema(body, schema_of(plan_.kind));
        Trial trial;
        trial.shown = read_presentation(body.at("shown"));
        if (plan_.blinding != Blinding::sealed_key)
            read_what_is_held(body, trial);
        else if (is_set(plan_))
            trial.held.resize(trial.shown.codes.size());
        if (body.at("place").is_there()) trial.place = read_place(body.at("place"));
        trial.given = read_answer(body.at("answer"), most_choices());
        return trial;
    }

    GoneOn read_gone_on(const Field& body) const {
        body.only({"schema", "taken_this_sitting", "taken_today"});
        want_schema(body, schema_of(plan_.kind));
        return {.before = told_.size(),
                .taken_this_sitting = read_intake(body.at("taken_this_sitting")),
                .taken_today = read_intake(body.at("taken_today"))};
    }

    std::string read_why(const Field& body) const {
        body.only({"schema", "why"});
        want_schema(body, schema_of(plan_.kind));
        return body.at("why").text();
    }

    /// The answer that a reveal belongs to, and which of its cups: the one before it, or by the code on the
    /// cup.
    std::pair<Trial*, std::size_t> revealed(const Field& body) {
        if (plan_.blinding != Blinding::sealed_key)
            return {told_.empty() || told_.back().trial.place ? nullptr : &told_.back().trial, 0};
        const std::string code = body.at("code").text();
        for (Told& told : told_)
            for (std::size_t cup = 0; cup < told.trial.shown.codes.size(); ++cup)
                if (!told.trial.place && told.trial.shown.codes[cup].digits == code)
                    return {&told.trial, cup};
        return {nullptr, 0};
    }

    void take_reveal(const Field& body, bool is_struck) {
        body.only({"schema", "place", "code", "level", "series", "blank", "held", "at"});
        want_schema(body, schema_of(plan_.kind));
        Trial read;
        const bool is_sealed = plan_.blinding == Blinding::sealed_key;
        if (is_sealed) read_what_is_held(body, read);
        const std::size_t place = is_sealed ? 0 : read_place(body.at("place"));
        const Instant at = read_instant(body.at("at"));
        const auto [trial, cup] = revealed(body);
        if (trial == nullptr)
            body.note("reveals a place where no answer waits for one", "a lock comes before each reveal");
        if (trial == nullptr || is_struck) return;
        trial->revealed_at = at;
        if (is_set(plan_)) {
            if (read.held.size() != 1)
                body.at("held").note("is no single cup", "what stood beneath this code");
            if (read.held.size() != 1 || cup >= trial->held.size()) return;
            trial->held[cup] = read.held.front();
            if (std::find(trial->held.begin(), trial->held.end(), std::nullopt) == trial->held.end())
                trial->place = 0;
            return;
        }
        if (is_sealed) {
            trial->level = read.level;
            trial->series = read.series;
            trial->is_blank = read.is_blank;
        }
        trial->place = place;
    }

    const Plan& plan_;
    std::vector<Problem>& problems_;
    std::vector<Told> told_;
    std::optional<std::string> stopped_;
    std::vector<RestCut> rests_cut_;
    std::vector<GoneOn> gone_on_;
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

std::string body_of(const Plan& plan, Seed seed) {
    json caps = json::array();
    for (const safety::Cap& cap : plan.caps) caps.push_back(json_of(cap));
    json body{{"schema", schema_of(plan.kind)},
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
              {"taken_today", json_of(plan.taken_today)}};
    put_what_some_have(body, plan);
    return body.dump();
}

std::vector<journal::Entry> entries_between(const State& before, const State& after, const Uuid& drill,
                                            int next_number, const Instant& at, Random& ids) {
    SIPLADDER_EXPECT(after.trials.size() >= before.trials.size());
    Rows rows(drill, next_number, at, ids);
    for (std::size_t i = 0; i < after.trials.size(); ++i) {
        const Trial& trial = after.trials[i];
        const bool is_new = i >= before.trials.size();
        if (is_new) rows.add("lock", lock_body(after.plan, trial));
        if (!trial.held.empty()) {
            for (std::size_t cup = 0; trial.revealed_at && cup < trial.held.size(); ++cup)
                if (trial.held[cup] && (is_new || !before.trials[i].held[cup]))
                    rows.add("reveal", reveal_body(after.plan, trial, cup));
        } else if (trial.revealed_at && (is_new || !before.trials[i].revealed_at))
            rows.add("reveal", reveal_body(after.plan, trial));
    }
    for (std::size_t i = before.gone_on.size(); i < after.gone_on.size(); ++i)
        rows.add("gone_on", gone_on_body(after.plan.kind, after.gone_on[i]));
    for (std::size_t i = before.rests_cut.size(); i < after.rests_cut.size(); ++i)
        rows.add("rest_cut", body_of_rest_cut(after.rests_cut[i].seconds_left));
    if (after.stopped && !before.stopped)
        rows.add("stopped", why_body(after.plan.kind, *after.stopped));
    else if (const Step step = next(after); std::holds_alternative<Finished>(step) && !is_finished(before))
        rows.add("finished", why_body(after.plan.kind, std::get<Finished>(step).why));
    return rows.take();
}

State read(const journal::Drill& drill, const std::vector<journal::Entry>& entries) {
    std::vector<Problem> problems;
    const Body body = parsed(drill.body, "journal drill " + drill.id.text, problems);
    if (!body.document) throw Refused(std::move(problems));
    const Field field(*body.document, body.name, problems);
    const Seed seed = read_seed(field.at("seed"));
    Plan plan = read_plan(field);
    Trials trials(plan, problems);
    for (const journal::Entry& entry : entries) trials.take(entry);
    if (!problems.empty()) throw Refused(std::move(problems));
    return resume(std::move(plan), seed, trials.kept(), trials.stopped(), trials.rests_cut(),
                  trials.gone_on());
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
