// The state is a plan, a seed and the trials; everything else is reckoned from these each time it is asked.
// So the same state gives the same step, and there is nothing that a stop half-way could lose.
//
// What is drawn is drawn from the seed for one named use (drills/blinding), never from a running stream, so a
// resumed drill draws as the uninterrupted one would have.

#include "drills/drill.hpp"

#include "drills/blinding/sealed_key.hpp"
#include "drills/blinding/shuffled_tray.hpp"
#include "drills/drill_parts.hpp"
#include "drills/pacing.hpp"
#include "drills/recognition.hpp"
#include "drills/rules.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::drills {

namespace {

// Below this a narrow prior alone could end a drill before it has asked anything (judgement).
constexpr std::size_t fewest_before_precise = 4;

using Outlook = std::variant<Served, Reveal, Finished>;

std::optional<std::string> precise_enough(const State& drill) {
    const double wanted = drill.plan.stop_sd_log10;
    if (wanted <= 0.0 || drill.trials.size() < fewest_before_precise) return std::nullopt;
    if (!rules_of(drill.plan.kind).is_precise(drill, wanted)) return std::nullopt;
    double reached = 0.0;
    for (const Finding::Named& one : finding(drill).thresholds)
        reached = std::max(reached, one.threshold.sd_log10);
    return "precise enough: the standard deviation is " + significant(reached, 2) + " log10 units, and " +
           significant(wanted, 2) + " was wanted";
}

std::optional<std::string> out_of_time(const State& drill) {
    constexpr std::int64_t ms_per_minute = 60'000;
    if (drill.plan.most_minutes <= 0 || drill.trials.size() < 2) return std::nullopt;
    // The monotonic part starts anew with the program, so a drill that was resumed goes by the calendar.
    const std::int64_t passed = drill.trials.back().given->at.utc_ms - drill.trials.front().given->at.utc_ms;
    if (passed < drill.plan.most_minutes * ms_per_minute) return std::nullopt;
    return std::to_string(drill.plan.most_minutes) + " minutes are over";
}

/// The first answer that waits for what it was given to.
std::optional<std::size_t> waiting(const State& drill) {
    for (std::size_t i = 0; i < drill.trials.size(); ++i)
        if (!drill.trials[i].is_done()) return i;
    return std::nullopt;
}

/// Which of a set's cups is to be turned over next; 0 for a single one.
std::size_t next_unknown(const Trial& trial) {
    const auto found = std::find(trial.held.begin(), trial.held.end(), std::nullopt);
    return found == trial.held.end() ? 0 : static_cast<std::size_t>(found - trial.held.begin());
}

Reveal reveal_of(const State& drill, std::size_t number) {
    if (drill.plan.blinding == Blinding::sealed_key) {
        const Trial& trial = drill.trials[number];
        const std::string& code = trial.shown.codes.at(next_unknown(trial)).digits;
        Reveal reveal{number, "Turn over cup " + code + ": what stands beneath?", {}};
        for (const auto& identity : sealed_key::pour_list(drill.plan))
            reveal.choices.push_back(identity.mark);
        return reveal;
    }
    const auto sign = drill.trials[number].shown.sign;
    return {number,
            "Now look beneath: where was the " + (sign ? shuffled_tray::text_of(*sign) : "sign") + "?",
            place_words(cups_together(drill.plan))};
}

/// Sealed key: all the cups first, then the key; a drill that is stopped still wants the key of what was
/// tasted.
Outlook sealed_outlook(const State& drill) {
    std::optional<std::string> over = drill.stopped;
    if (!over && drill.trials.size() >= drill.plan.most_presentations)
        over = std::to_string(drill.trials.size()) + " cups done";
    if (!over) over = out_of_time(drill);
    if (!over) over = parts::cap_before(drill, {});
    if (!over) return parts::serve_by_code(drill);
    if (const auto number = waiting(drill)) return reveal_of(drill, *number);
    return Finished{*over};
}

Outlook outlook(const State& drill) {
    if (drill.plan.blinding == Blinding::sealed_key) return sealed_outlook(drill);
    if (drill.stopped) return Finished{*drill.stopped};
    if (const auto number = waiting(drill)) return reveal_of(drill, *number);
    if (drill.trials.size() >= drill.plan.most_presentations)
        return Finished{std::to_string(drill.trials.size()) + " presentations done"};
    if (!is_fixed(drill.plan))
        if (const auto why = precise_enough(drill)) return Finished{*why};
    if (const auto why = out_of_time(drill)) return Finished{*why};
    if (is_fixed(drill.plan)) {
        const auto now = parts::served_beforehand(drill);
        if (!now) return Finished{"every card is used up"};
        if (const auto why = parts::cap_before(drill, {now->series, now->level, now->is_blank}))
            return Finished{*why};
        return *now;
    }
    const auto wanted = rules_of(drill.plan.kind).choose(drill);
    if (!wanted) return Finished{"no portions left in any bottle"};
    if (const auto why = parts::cap_before(drill, *wanted)) return Finished{*why};
    return parts::served_at(drill, *wanted);
}

/// The words for the one time when the answer is known, so that everybody knows what is looked for.
std::string before_the_first(const Plan& plan) {
    if (!rules_of(plan.kind).tastes)
        return "Fill the tray once. For each round spin it anew with eyes shut, then look and sniff; nothing "
               "is "
               "tasted, and the cups are poured away at the end.";
    if (!rules_of(plan.kind).knows_first)
        return "No cup is known beforehand, so that nothing sways you: taste, answer, spit, rinse.";
    std::string bottles;
    for (std::size_t line = 0; line < line_count(plan); ++line)
        if (const auto level = known_clear(plan, line)) {
            if (!bottles.empty()) bottles += ", one of ";
            bottles += "bottle " + ladder_of(plan, line).levels[*level].bottle;
            if (line_count(plan) > 1) bottles += " (" + recognition::name_asked(plan, line) + ")";
        }
    const std::string beside = beside_bottle(plan).empty() ? "the base" : "bottle " + beside_bottle(plan);
    if (bottles.empty()) return "Taste one cup of " + beside + ", so that you know it.";
    return "Taste one known cup of " + bottles + ", then one of " + beside +
           ", so that you know what to look for. Rinse, and wait " + clock_text(plan.rest_s) + ".";
}

Step step_of(const State& drill, const Outlook& ahead) {
    if (const auto* reveal = std::get_if<Reveal>(&ahead)) return *reveal;
    if (const auto* finished = std::get_if<Finished>(&ahead)) return *finished;
    return Serve{drill.trials.size(), std::get<Served>(ahead).shown,
                 drill.trials.empty() ? before_the_first(drill.plan) : std::string(),
                 rules_of(drill.plan.kind).question(drill.plan)};
}

/// The same mark may stand beneath no more cups than were poured of it, and in a set once.
void check_mark(const State& drill, const sealed_key::Identity& identity, const Trial& read,
                const std::string& where) {
    if (is_set(drill.plan)) {
        const bool is_there = std::any_of(read.held.begin(), read.held.end(), [&](const auto& held) {
            return held && held->level == identity.level;
        });
        if (is_there)
            throw Refused(where, "would be a second cup with the mark " + identity.mark + " in this set",
                          "a set holds each bottle once: look at the marks again");
        return;
    }
    int seen = 0;
    for (const Trial& trial : drill.trials)
        if (trial.is_done() && trial.series == identity.series && trial.level == identity.level &&
            trial.is_blank == identity.is_blank)
            ++seen;
    if (seen >= identity.poured)
        throw Refused(where,
                      "would be cup number " + std::to_string(seen + 1) + " with the mark " + identity.mark,
                      std::to_string(identity.poured) + " were poured: look at the marks again");
}

bool is_in_range(const Plan& plan, const Trial& trial) {
    const std::size_t together = cups_together(plan);
    if (trial.place && *trial.place >= together) return false;
    if (trial.given &&
        !problems_of_answer(rules_of(plan.kind).question(plan), together, *trial.given).empty())
        return false;
    if (is_set(plan)) {
        std::vector<bool> there(together, false);
        for (const auto& held : trial.held)
            if (held &&
                (held->level >= together || held->is_blank || held->series != 0 || there[held->level]))
                return false;
            else if (held)
                there[held->level] = true;
        const bool all = std::find(there.begin(), there.end(), false) == there.end();
        return trial.held.size() == together && trial.place.has_value() == all;
    }
    if (!trial.held.empty()) return false;
    if (trial.is_blank) return rules_of(plan.kind).has_blanks;
    return trial.series < series_count(plan) &&
           trial.level < ladder_of(plan, line_of_series(plan, trial.series)).levels.size();
}

void check_trials(const State& drill) {
    for (std::size_t i = 0; i < drill.trials.size(); ++i) {
        const Trial& trial = drill.trials[i];
        const bool is_last = i + 1 == drill.trials.size();
        const bool may_be_open =
            (is_last || drill.plan.blinding == Blinding::sealed_key) && trial.given && !trial.place;
        if (!is_in_range(drill.plan, trial) || !(trial.is_done() || may_be_open))
            throw Refused("presentation " + std::to_string(i + 1), "cannot belong to this drill",
                          "a level of the ladder, places and choices that there are, and every answer but "
                          "the last revealed");
    }
}

using Posteriors = std::vector<threshold::Posterior>;

Posteriors reckoned_posteriors(const State& drill) {
    Posteriors learned;
    if (is_fixed(drill.plan)) return learned;
    for (std::size_t series = 0; series < series_count(drill.plan); ++series)
        learned.emplace_back(prior_of(drill.plan, line_of_series(drill.plan, series)), task_of(drill.plan),
                             threshold::Fineness::coarse);
    if (const auto believe = rules_of(drill.plan.kind).believe)
        for (const Trial& trial : drill.trials)
            if (trial.is_done()) believe(drill.plan, trial, learned);
    return learned;
}

HabitsLearned reckoned_habits(const State& drill) {
    HabitsLearned learned;
    if (const auto heed = rules_of(drill.plan.kind).heed)
        for (const Trial& trial : drill.trials)
            if (trial.is_done()) learned = heed(drill.plan, trial, learned);
    return learned;
}

/// What is reckoned already takes in the last trial, which is done now. Cups of a sealed key are turned over
/// in any order; then all is reckoned anew, in the order of tasting, when it is asked for.
void learn(State& drill) {
    const Trial& last = drill.trials.back();
    if (!last.is_done() || drill.plan.blinding == Blinding::sealed_key) {
        drill.beliefs = {};
        return;
    }
    const Rules& rules = rules_of(drill.plan.kind);
    if (const auto known = drill.beliefs.posteriors.if_known(); known && rules.believe != nullptr) {
        Posteriors learned = *known;
        rules.believe(drill.plan, last, learned);
        drill.beliefs.posteriors = Reckoned(std::move(learned));
    }
    if (const auto known = drill.beliefs.habits.if_known(); known && rules.heed != nullptr)
        drill.beliefs.habits = Reckoned(rules.heed(drill.plan, last, *known));
}

}  // namespace

std::string name_of(Kind kind) {
    return std::string(rules_of(kind).name);
}

const std::vector<threshold::Posterior>& State::posteriors() const {
    return beliefs.posteriors.get([&] { return reckoned_posteriors(*this); });
}

const std::shared_ptr<const threshold::HabitPosterior>& State::habits() const {
    return beliefs.habits.get([&] { return reckoned_habits(*this); });
}

State begin(Plan plan, Seed seed, std::span<const std::string> no_ethanol_reasons) {
    check_shape(plan);
    if (!no_ethanol_reasons.empty() && holds_ethanol(plan)) safety::refuse_ethanol(no_ethanol_reasons);
    check_caps(plan);
    return resume(std::move(plan), seed, {});
}

State resume(Plan plan, Seed seed, std::vector<Trial> trials, std::optional<std::string> stopped,
             std::vector<RestCut> rests_cut, std::vector<GoneOn> gone_on) {
    check_shape(plan);
    State drill{std::move(plan),   seed, std::move(trials), std::move(stopped), std::move(rests_cut),
                std::move(gone_on)};
    check_trials(drill);
    return drill;
}

Step next(const State& drill) {
    const Outlook ahead = outlook(drill);
    if (std::holds_alternative<Served>(ahead) && !drill.trials.empty()) {
        const Trial& last = drill.trials.back();
        const auto length =
            pacing::rest_after(drill.plan, last.level, line_of_series(drill.plan, last.series));
        if (length.count() > 0) return Rest{length, pacing::why_rest(drill.plan)};
    }
    return step_of(drill, ahead);
}

Step next_after_rest(const State& drill) {
    return step_of(drill, outlook(drill));
}

std::optional<Served> serving(const State& drill) {
    const Outlook ahead = outlook(drill);
    if (const auto* now = std::get_if<Served>(&ahead)) return *now;
    return std::nullopt;
}

State lock(State drill, const Answer& given) {
    const auto now = serving(drill);
    if (!now)
        throw Refused("answer", "nothing is being served", "first reveal the last one, or begin a new drill");
    if (auto problems = problems_of_answer(rules_of(drill.plan.kind).question(drill.plan),
                                           cups_together(drill.plan), given);
        !problems.empty())
        throw Refused(std::move(problems));
    drill.trials.push_back(
        Trial{now->shown, now->level, now->place, given, std::nullopt, now->series, now->is_blank});
    if (is_set(drill.plan)) {
        auto& held = drill.trials.back().held;
        held.assign(now->held.begin(), now->held.end());
        held.resize(cups_together(drill.plan));
    }
    if (now->place) learn(drill);
    return drill;
}

State reveal(State drill, std::size_t choice, const Instant& at) {
    const auto number = waiting(drill);
    if (!number) throw Refused("place", "no answer waits for it", "lock an answer first");
    const std::size_t choices = reveal_of(drill, *number).choices.size();
    if (choice >= choices)
        throw Refused("place", "is " + std::to_string(choice), "0 to " + std::to_string(choices - 1));
    Trial& trial = drill.trials[*number];
    if (drill.plan.blinding == Blinding::sealed_key) {
        const sealed_key::Identity identity = sealed_key::pour_list(drill.plan)[choice];
        const std::size_t cup = next_unknown(trial);
        check_mark(drill, identity, trial, "cup " + trial.shown.codes.at(cup).digits);
        if (is_set(drill.plan)) {
            trial.held[cup] = Held{identity.series, identity.level, identity.is_blank};
        } else {
            trial.series = identity.series;
            trial.level = identity.level;
            trial.is_blank = identity.is_blank;
        }
        if (std::find(trial.held.begin(), trial.held.end(), std::nullopt) == trial.held.end())
            trial.place = 0;
    } else
        trial.place = choice;
    trial.revealed_at = at;
    learn(drill);
    return drill;
}

State cut_rest(State drill, long seconds_left) {
    drill.rests_cut.push_back({drill.trials.size(), seconds_left});
    return drill;
}

State go_on(State drill, GoneOn with) {
    const safety::Intake left = safety::rest_of(worst_intake(drill.plan), intake(drill));
    safety::Intake sitting = with.taken_this_sitting;
    safety::Intake today = with.taken_today;
    sitting += left;
    today += left;
    if (const auto crossed = safety::crossed(drill.plan.caps, sitting, today))
        throw Refused("caps", crossed->text, "another day, within 48 hours of its first cup");
    with.before = drill.trials.size();
    drill.gone_on.push_back(with);
    return drill;
}

State stop(State drill, std::string why) {
    if (is_finished(drill)) return drill;
    drill.stopped = why.empty() ? "stopped by you" : std::move(why);
    return drill;
}

bool is_finished(const State& drill) {
    return std::holds_alternative<Finished>(outlook(drill));
}

Finding finding(const State& drill) {
    return rules_of(drill.plan.kind).finding(drill);
}

}  // namespace sipladder::drills
