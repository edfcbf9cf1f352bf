#include "drills/history.hpp"

#include "drills/detection.hpp"
#include "drills/plans.hpp"
#include "drills/quick_look.hpp"
#include "drills/record.hpp"
#include "drills/record_notes.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <utility>

// A drill's plan holds its ladder in full but not where it came from, so that it stands by itself; which mix
// that was is found again by the levels, to the last bit.

namespace sipladder::drills {

namespace {

constexpr double ms_in_week = 7.0 * 86'400'000.0;

bool same_bottles(const solution::MixedLadder& kept, const solution::MixedLadder& served) {
    if (kept.substance != served.substance || kept.levels.size() != served.levels.size()) return false;
    return std::equal(kept.levels.begin(), kept.levels.end(), served.levels.begin(),
                      [](const solution::MixedLevel& a, const solution::MixedLevel& b) {
                          return a.mixed == b.mixed && a.bottle == b.bottle;
                      });
}

std::vector<record::KeptMix> mixes_of(const journal::Journal& journal, const Uuid& person) {
    std::vector<record::KeptMix> mixes;
    for (const journal::Fact& fact : journal.facts(person, {"mix"}))
        if (!fact.struck) mixes.push_back(record::read_mix(fact));
    return mixes;
}

/// By the strength of their weakest rung, which tells nearly all of them apart.
class Mixes {
  public:
    explicit Mixes(std::span<const record::KeptMix* const> mixes) {
        for (const record::KeptMix* mix : mixes) by_weakest_.emplace(weakest(mix->ladder), mix);
    }

    /// The newest mix before the drill that has its levels.
    const record::KeptMix* of(const solution::MixedLadder& ladder, const Instant& at) const {
        const record::KeptMix* found = nullptr;
        const auto [from, to] = by_weakest_.equal_range(weakest(ladder));
        for (auto one = from; one != to; ++one) {
            const record::KeptMix& mix = *one->second;
            if (mix.at.utc_ms <= at.utc_ms && same_bottles(mix.ladder, ladder) &&
                (found == nullptr || found->at.utc_ms <= mix.at.utc_ms))
                found = &mix;
        }
        return found;
    }

  private:
    static double weakest(const solution::MixedLadder& ladder) {
        return ladder.levels.empty() ? 0.0 : ladder.levels.front().mixed;
    }

    std::multimap<double, const record::KeptMix*> by_weakest_;
};

/// Levels as text: what drills of one unkept mix have in common.
std::string levels_text(const solution::MixedLadder& ladder) {
    std::string text = ladder.base;
    for (const solution::MixedLevel& level : ladder.levels)
        text.append(" ").append(level.bottle).append(exact(level.mixed));
    return text;
}

double shared_error(const solution::MixedLadder& ladder) {
    double largest = 0.0;
    for (const solution::MixedLevel& level : ladder.levels)
        largest = std::max(largest, level.u_shared_rel / std::numbers::ln10);
    return largest;
}

std::string name_of(Blinding blinding) {
    switch (blinding) {
        case Blinding::served:
            return "served";
        case Blinding::shuffled_tray:
            return "shuffled tray";
        case Blinding::sealed_key:
            return "sealed key";
        case Blinding::class_service:
            return "class";
    }
    return {};
}

/// Answers that said more than right or wrong, if that may be fitted.
threshold::HabitAnswers told_in(const State& drill) {
    const std::vector<double> levels = threshold::levels_log10(drill.plan.ladder);
    const auto own_error = [&](std::size_t level) {
        return drill.plan.ladder.levels[level].u_own_rel / std::numbers::ln10;
    };
    threshold::HabitAnswers told;
    if (drill.plan.kind == Kind::quick_look) {
        told.by = threshold::HabitAnswers::By::grades;
        for (const threshold::GradedCup& cup : quick_look::graded_cups(drill))
            told.answers.push_back({cup.level ? std::optional(levels[*cup.level]) : std::nullopt, cup.grade,
                                    cup.level ? own_error(*cup.level) : 0.0});
    } else if (detection::certainty_counts(drill.plan))
        for (const threshold::Answered& answer : answered(drill))
            told.answers.push_back({levels[answer.level],
                                    threshold::outcome_of(answer.correct, answer.certainty),
                                    own_error(answer.level)});
    return told;
}

bool has_level(const State& drill) {
    return std::any_of(drill.trials.begin(), drill.trials.end(),
                       [](const Trial& trial) { return trial.is_done() && !trial.is_blank; });
}

struct Source {
    const journal::Sitting& sitting;
    const Mixes& mixes;
    const std::vector<std::string>& notes;
};

trend::Sitting sitting_of(const State& drill, const Source& source, const Instant& started) {
    trend::Sitting made;
    made.date = to_date(source.sitting.started);
    made.week = static_cast<double>(source.sitting.started.utc_ms) / ms_in_week;
    threshold::HabitAnswers told = told_in(drill);
    if (told.answers.empty())
        made.counts = threshold::counts_of(drill.plan.ladder, answered(drill));
    else
        made.told.push_back(std::move(told));
    made.u_shared_log10 = shared_error(drill.plan.ladder);
    made.conditions.base = drill.plan.base_name;
    made.conditions.blinding = name_of(drill.plan.blinding);
    made.notes = source.notes;
    if (const record::KeptMix* mix = source.mixes.of(drill.plan.ladder, started)) {
        made.mix = mix->id.text;
        made.conditions.lot = mix->ingredient_name;
    } else {
        made.mix = levels_text(drill.plan.ladder);
    }
    return made;
}

void pool(std::vector<threshold::Counts>& into, const std::vector<threshold::Counts>& more) {
    for (const threshold::Counts& at : more) {
        const auto known = std::find_if(into.begin(), into.end(), [&](const threshold::Counts& one) {
            return one.x_log10 == at.x_log10;
        });
        if (known == into.end()) {
            into.push_back(at);
            continue;
        }
        known->presentations += at.presentations;
        known->correct += at.correct;
    }
}

/// One habit a sitting, in however many drills.
void pool(std::vector<threshold::HabitAnswers>& into, const std::vector<threshold::HabitAnswers>& more) {
    for (const threshold::HabitAnswers& told : more) {
        const auto known = std::find_if(
            into.begin(), into.end(), [&](const threshold::HabitAnswers& one) { return one.by == told.by; });
        if (known == into.end())
            into.push_back(told);
        else
            known->answers.insert(known->answers.end(), told.answers.begin(), told.answers.end());
    }
}

void add(std::vector<Followed>& all, const State& drill, trend::Sitting sitting) {
    const solution::Substance& substance = drill.plan.substance;
    auto found = std::find_if(all.begin(), all.end(), [&](const Followed& one) {
        return one.substance.id == substance.id && one.scale == drill.plan.ladder.scale;
    });
    if (found == all.end()) {
        all.push_back({substance, drill.plan.ladder.scale, assumed_prior(substance), {}});
        found = all.end() - 1;
    }
    if (!found->sittings.empty()) {
        trend::Sitting& last = found->sittings.back();
        if (last.week == sitting.week && last.mix == sitting.mix && last.conditions == sitting.conditions) {
            pool(last.counts, sitting.counts);
            return pool(last.told, sitting.told);
        }
    }
    found->sittings.push_back(std::move(sitting));
}

std::vector<std::string> spoilers_of(const journal::Sitting& sitting) {
    // Sittings that were never asked about have an empty body.
    if (sitting.body.empty() || sitting.body == "{}") return {};
    return record::read_circumstances(sitting).spoilers;
}

/// What was written down about each sitting, oldest first.
std::map<Uuid, std::vector<std::string>> notes_of(const journal::Journal& journal, const Uuid& person) {
    std::map<Uuid, std::vector<std::string>> notes;
    for (const journal::Fact& fact : journal.facts(person, {record::sitting_note})) {
        if (fact.struck) continue;
        record::SittingNote note = record::read_sitting_note(fact);
        notes[note.sitting].push_back(std::move(note.text));
    }
    return notes;
}

}  // namespace

std::vector<Followed> followed(const journal::Journal& journal, const Uuid& person,
                               const std::function<const State&(const Uuid& drill)>& drill,
                               std::span<const record::KeptMix* const> mixes) {
    const Mixes known(mixes);
    std::map<Uuid, std::vector<std::string>> noted = notes_of(journal, person);
    std::map<Uuid, journal::Sitting> sittings;
    for (journal::Sitting& sitting : journal.sittings(person)) {
        std::vector<std::string> notes = spoilers_of(sitting);
        std::vector<std::string>& more = noted[sitting.id];
        notes.insert(notes.end(), more.begin(), more.end());
        more = std::move(notes);
        sittings.emplace(sitting.id, std::move(sitting));
    }
    std::vector<Followed> all;
    for (const journal::DrillLine& row : journal.drill_lines(person)) {
        if (row.struck || row.sitting_is_struck) continue;
        if (row.kind != name_of(Kind::detection) && row.kind != name_of(Kind::quick_look)) continue;
        const State& state = drill(row.id);
        if (!has_level(state)) continue;
        const auto sitting = sittings.find(row.sitting);
        if (sitting == sittings.end())
            throw Refused("journal sitting " + row.sitting.text, "is named by a drill and cannot be read",
                          "journal check tells what is wrong with the file");
        add(all, state, sitting_of(state, {sitting->second, known, noted[row.sitting]}, row.started));
    }
    return all;
}

std::vector<Followed> followed(const journal::Journal& journal, const Uuid& person) {
    const std::vector<record::KeptMix> mixes = mixes_of(journal, person);
    std::vector<const record::KeptMix*> each;
    each.reserve(mixes.size());
    for (const record::KeptMix& mix : mixes) each.push_back(&mix);
    std::optional<State> last;
    const auto read = [&](const Uuid& id) -> const State& {
        const auto row = journal.drill(id);
        if (!row)  // listed, and not there when asked for: the file is damaged
            throw Refused("journal drill " + id.text, "is listed and cannot be read",
                          "journal check tells what is wrong with the file");
        return last.emplace(record::read(*row, journal.entries(id)));
    };
    return followed(journal, person, read, each);
}

}  // namespace sipladder::drills
