// Bodies are JSON objects that name their schema. A row is written when its fact is final and never before:
// the lock row is the first to hold the level (and the place, where the card tells it), so a look into the
// journal during a sitting tells nothing about the cups on the table.
//
// A reveal belongs to the lock before it, or with a sealed key to the cup whose code it names. So struck rows
// are read too, to keep that order, and their trials are left out at the end.

#include "drills/record.hpp"

#include "drills/record_body.hpp"
#include "drills/record_notes.hpp"
#include "drills/record_parts.hpp"
#include "engine/problem.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <utility>

namespace sipladder::drills::record {

namespace {

using content::Field;
using nlohmann::json;

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
        if (entry.kind == "finished" && !entry.struck) finished_ = read_why(field);
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
    /// The drill came to its end, whatever was struck out since.
    bool was_finished() const { return finished_.has_value(); }
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
    std::optional<std::string> finished_;
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
    State state =
        resume(std::move(plan), seed, trials.kept(), trials.stopped(), trials.rests_cut(), trials.gone_on());
    // An answer struck out of a drill that is done leaves one fewer, and no cup to be tasted now.
    if (trials.was_finished() && !is_finished(state))
        state = stop(std::move(state), "done; answers were struck out since");
    return state;
}

}  // namespace sipladder::drills::record
