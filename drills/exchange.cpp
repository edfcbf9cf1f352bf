// A body is checked by reading it the way the program will. A drill's answers are read together, since
// whether a row can be read depends on those before it.

#include "drills/exchange.hpp"

#include "drills/record.hpp"
#include "drills/record_draft.hpp"
#include "drills/record_notes.hpp"
#include "drills/record_own.hpp"
#include "drills/rules.hpp"
#include "engine/content/csv.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <functional>
#include <set>
#include <utility>
#include <vector>

namespace sipladder::drills {

namespace {

constexpr std::size_t most_problems = 100;

bool is_known(const std::string& kind) {
    return std::ranges::any_of(every_kind, [&](Kind one) { return name_of(one) == kind; });
}

void read_fact(const journal::Fact& fact) {
    if (fact.kind == "mix") record::read_mix(fact);
    if (fact.kind == "mix_draft") record::read_mix_draft(fact);
    if (fact.kind == "cautions_read") record::read_cautions_read(fact);
    if (fact.kind == "sitting_plan") record::read_sitting_plan(fact);
    if (fact.kind == "goal") record::read_goal(fact);
    if (fact.kind == record::sitting_note) record::read_sitting_note(fact);
    if (record::own_kind_of(fact)) record::read_own(fact);
}

record::Circumstances circumstances_of(const journal::Sitting& sitting) {
    // Sittings that were never asked about have an empty body.
    if (sitting.body.empty() || sitting.body == "{}") return {};
    return record::read_circumstances(sitting);
}

/// What came in, by where it is read.
struct Came {
    std::set<Uuid> facts;
    std::set<Uuid> sittings;
    std::set<Uuid> drills;  ///< themselves, or a row of theirs
    std::set<Uuid> struck;  ///< targets of strikes

    explicit Came(const journal::Merged& merged) {
        struct Sort {
            Came& into;
            void operator()(const journal::Person&) const {}
            void operator()(const journal::Fact& fact) const { into.facts.insert(fact.id); }
            void operator()(const journal::Sitting& sitting) const { into.sittings.insert(sitting.id); }
            void operator()(const journal::Drill& drill) const { into.drills.insert(drill.id); }
            void operator()(const journal::Entry& entry) const { into.drills.insert(entry.drill); }
            void operator()(const journal::StrikeRow& strike) const { into.struck.insert(strike.target); }
        };
        for (const journal::ExchangeRow& row : merged.added) std::visit(Sort{*this}, row);
    }
};

class Checking {
  public:
    Checking(const journal::Journal& journal, const Came& came) : journal_(journal), came_(came) {}

    void person(const Uuid& person) {
        for (const journal::Fact& fact : journal_.facts(person))
            if (came_.facts.contains(fact.id)) attempt([&] { read_fact(fact); });
        for (const journal::Sitting& sitting : journal_.sittings(person)) {
            if (came_.sittings.contains(sitting.id)) attempt([&] { circumstances_of(sitting); });
            for (const journal::Drill& drill : journal_.drills(sitting.id)) check(drill);
        }
    }
    void refuse_if_any() {
        if (!problems_.empty()) throw Refused(std::move(problems_));
    }

  private:
    void check(const journal::Drill& drill) {
        if (!is_known(drill.kind)) return;
        const std::vector<journal::Entry> entries = journal_.entries(drill.id);
        const bool came =
            came_.drills.contains(drill.id) || std::ranges::any_of(entries, [&](const journal::Entry& entry) {
                return came_.struck.contains(entry.id);
            });
        if (came) attempt([&] { record::read(drill, entries); });
    }

    void attempt(const std::function<void()>& read) {
        if (problems_.size() >= most_problems) return;
        try {
            read();
        } catch (const Refused& refused) {  // gathered, so that one run shows what is wrong in all rows
            problems_.push_back(refused.problems().front());
        }
    }

    const journal::Journal& journal_;
    const Came& came_;
    std::vector<Problem> problems_;
};

const std::vector<std::string> heading{"person_id",
                                       "person",
                                       "invented",
                                       "sitting_id",
                                       "sitting_started",
                                       "spoilers",
                                       "temperature_degC",
                                       "drill_id",
                                       "drill",
                                       "substance",
                                       "base",
                                       "blinding",
                                       "order",
                                       "spat",
                                       "presentation",
                                       "answered_at",
                                       "concentration_g_per_L",
                                       "concentration_pct_vol",
                                       "u_own_rel",
                                       "u_shared_rel",
                                       "is_blank",
                                       "pedestal",
                                       "condition",
                                       "nose",
                                       "cups",
                                       "contents",
                                       "chance",
                                       "correct",
                                       "choice",
                                       "certainty",
                                       "mark",
                                       "seconds",
                                       "places",
                                       "words",
                                       "ranked"};

std::string word_of(Blinding blinding) {
    switch (blinding) {
        case Blinding::served:
            return "served";
        case Blinding::shuffled_tray:
            return "shuffled_tray";
        case Blinding::sealed_key:
            return "sealed_key";
        case Blinding::class_service:
            return "class_service";
    }
    return {};
}

/// One line of the table, cell by cell; numbers as the engine writes them, texts made harmless.
class Cells {
  public:
    Cells& text(const std::string& cell) { return raw(harmless_cell(cell)); }
    Cells& number(double value) { return raw(exact(value)); }
    Cells& count(std::size_t value) { return raw(std::to_string(value)); }
    Cells& flag(bool value) { return raw(value ? "1" : "0"); }
    Cells& number(const std::optional<double>& value) { return value ? number(*value) : empty(); }
    Cells& empty() { return raw(""); }
    Cells& raw(const std::string& cell) {
        if (!line_.empty() || !is_first_) line_ += ',';
        is_first_ = false;
        line_ += cell;
        return *this;
    }
    std::string end() const { return line_ + "\r\n"; }

  private:
    std::string line_;
    bool is_first_ = true;
};

std::string joined(const std::vector<std::size_t>& indices, const std::vector<std::string>& names) {
    std::string text;
    for (const std::size_t index : indices)
        if (index < names.size()) text.append(text.empty() ? "" : " | ").append(names[index]);
    return text;
}

std::string content_of(const Plan& plan, const Held& held) {
    if (held.is_blank) return "base";
    return exact(ladder_of(plan, line_of_series(plan, held.series)).levels.at(held.level).mixed);
}

std::string contents_of(const Plan& plan, const Trial& trial) {
    std::string text;
    for (const std::optional<Held>& held : trial.held)
        text.append(text.empty() ? "" : " ").append(held ? content_of(plan, *held) : "?");
    return text;
}

/// Whether the answer is the right one; nothing where there is none that is right.
std::optional<bool> is_right(const State& drill, const Trial& trial, const Question& question) {
    if (question.about_places) return trial.given->choice == trial.place;
    if (drill.plan.kind != Kind::recognition && drill.plan.kind != Kind::naming) return std::nullopt;
    const std::size_t right =
        trial.is_blank ? question.choices.size() - 1 : line_of_series(drill.plan, trial.series);
    return trial.given->choice == right;
}

struct Whose {
    const journal::Person& person;
    const journal::Sitting& sitting;
    const record::Circumstances& circumstances;
    const journal::Drill& drill;
};

void put_whose(Cells& line, const Whose& whose) {
    std::string spoilers;
    for (const std::string& one : whose.circumstances.spoilers)
        spoilers.append(spoilers.empty() ? "" : " | ").append(one);
    line.text(whose.person.id.text).text(whose.person.name).flag(whose.person.invented);
    line.text(whose.sitting.id.text).text(to_iso8601(whose.sitting.started)).text(spoilers);
    line.number(whose.circumstances.temperature_degC).text(whose.drill.id.text).text(whose.drill.kind);
}

void put_cup(Cells& line, const Plan& plan, const Trial& trial) {
    const bool has_level = trial.held.empty() && !trial.is_blank;
    const std::size_t of = has_level ? line_of_series(plan, trial.series) : 0;
    const solution::MixedLadder& ladder = ladder_of(plan, of);
    if (has_level) {
        const solution::MixedLevel& level = ladder.levels.at(trial.level);
        const bool is_grams = ladder.scale == Scale::g_per_L;
        is_grams ? line.number(level.mixed).empty() : line.empty().number(level.mixed);
        line.number(level.u_own_rel).number(level.u_shared_rel);
    } else {
        line.empty().empty().empty().empty();
    }
    line.flag(trial.is_blank);
    plan.pedestal ? line.number(plan.pedestal->mixed) : line.empty();
    line.text(has_level && of > 0 ? plan.others.at(of - 1).condition : "");
    line.text(!trial.shown.nose ? "" : *trial.shown.nose == Nose::open ? "open" : "closed");
    line.count(trial.held.empty() ? cups_together(plan) : trial.held.size());
    line.text(contents_of(plan, trial));
}

void put_answer(Cells& line, const State& drill, const Trial& trial, const Question& question) {
    const Answer& given = *trial.given;
    const std::optional<bool> right = is_right(drill, trial, question);
    right ? line.number(1.0 / static_cast<double>(question.choices.size())).flag(*right)
          : line.empty().empty();
    line.text(given.choice < question.choices.size() ? question.choices[given.choice] : "");
    question.asks_certainty ? line.count(1 + static_cast<std::size_t>(given.certainty)) : line.empty();
    line.number(given.mark).number(given.seconds);
    line.text(joined(given.places, question.places)).text(joined(given.words, question.words));
    std::string ranked;
    for (const std::size_t place : given.order)
        ranked.append(ranked.empty() ? "" : " ").append(std::to_string(place + 1));
    line.text(ranked);
}

void put_drill(std::string& table, const Whose& whose, const std::vector<journal::Entry>& entries) {
    const State drill = record::read(whose.drill, entries);
    const Question question = rules_of(drill.plan.kind).question(drill.plan);
    std::size_t number = 0;
    for (const Trial& trial : drill.trials) {
        ++number;
        if (!trial.is_done()) continue;
        const std::size_t of = trial.held.empty() ? line_of_series(drill.plan, trial.series) : 0;
        Cells line;
        put_whose(line, whose);
        line.text(substance_of(drill.plan, of).id).text(drill.plan.base_name);
        line.text(word_of(drill.plan.blinding));
        line.text(drill.plan.order == Order::adaptive ? "adaptive" : "ascending").flag(drill.plan.spat);
        line.count(number).text(to_iso8601(trial.given->at));
        put_cup(line, drill.plan, trial);
        put_answer(line, drill, trial, question);
        table += line.end();
    }
}

}  // namespace

void check_bodies(const journal::Journal& journal, const journal::Merged& merged) {
    const Came came(merged);
    Checking checking(journal, came);
    for (const journal::Person& person : journal.people()) checking.person(person.id);
    checking.refuse_if_any();
}

std::string harmless_cell(const std::string& text) {
    const bool runs = !text.empty() && std::string("=+-@\t\r\n").find(text.front()) != std::string::npos;
    return content::csv_cell(runs ? "'" + text : text);
}

std::string answers_csv(const journal::Journal& journal, const std::optional<Uuid>& of_person) {
    std::string table;
    for (const std::string& name : heading) table.append(table.empty() ? "" : ",").append(name);
    table += "\r\n";
    for (const journal::Person& person : journal.people()) {
        if (of_person && person.id != *of_person) continue;
        for (const journal::Sitting& sitting : journal.sittings(person.id)) {
            if (sitting.struck) continue;
            const record::Circumstances circumstances = circumstances_of(sitting);
            for (const journal::Drill& drill : journal.drills(sitting.id))
                if (!drill.struck && is_known(drill.kind))
                    put_drill(table, {person, sitting, circumstances, drill}, journal.entries(drill.id));
        }
    }
    return table;
}

}  // namespace sipladder::drills
