// The state is a plan, a seed and the trials; everything else is reckoned from these each time it is asked.
// So the same state gives the same step, and there is nothing that a stop half-way could lose.
//
// What is drawn is drawn from the seed for one named use (blinding/served, blinding/shuffled_tray), never
// from a running stream, so a resumed drill draws as the uninterrupted one would have.

#include "drills/detection.hpp"

#include "drills/blinding/served.hpp"
#include "drills/blinding/shuffled_tray.hpp"
#include "drills/detection_plan.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/next_level.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::drills::detection {

namespace {

// Below this a narrow prior alone could end a drill before it has asked anything (judgement).
constexpr std::size_t fewest_before_precise = 4;

using Outlook = std::variant<Served, Reveal, Finished>;

void believe(State& drill, const Trial& trial) {
    drill.posterior.update(Log10Level{threshold::levels_log10(drill.plan.ladder)[trial.level]},
                           trial.given->place == *trial.place);
}

std::vector<int> portions_left(const State& drill) {
    std::vector<int> left = portions_to_serve(drill.plan);
    for (const Trial& trial : drill.trials) left[trial.level] = std::max(left[trial.level] - 1, 0);
    return left;
}

/// The fine fit takes a hundred times as long as the coarse one, so it is asked only when the coarse SD and
/// the least that mixing adds to it are small enough.
std::optional<std::string> precise_enough(const State& drill) {
    const double wanted = drill.plan.stop_sd_log10;
    if (wanted <= 0.0 || drill.trials.size() < fewest_before_precise) return std::nullopt;
    const auto shares_less = [](const solution::MixedLevel& a, const solution::MixedLevel& b) {
        return a.u_shared_rel < b.u_shared_rel;
    };
    const auto& levels = drill.plan.ladder.levels;
    const double least_shared = std::min_element(levels.begin(), levels.end(), shares_less)->u_shared_rel;
    if (std::hypot(drill.posterior.sd(), least_shared / std::numbers::ln10) > wanted) return std::nullopt;
    const double reached = result(drill).sd_log10;
    if (reached > wanted) return std::nullopt;
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

std::optional<std::size_t> chosen_level(const State& drill) {
    const threshold::Chooser chooser{drill.posterior, threshold::levels_log10(drill.plan.ladder)};
    if (drill.plan.rule_version < 2) return next_level(drill.posterior, chooser, portions_left(drill));
    std::vector<std::size_t> served;
    for (const Trial& trial : drill.trials) served.push_back(trial.level);
    return next_level_varied(drill.posterior, chooser, portions_left(drill), served);
}

std::optional<std::string> cap_before(const State& drill, std::size_t level) {
    safety::Intake next_cup = presentation_intake(drill.plan, level);
    next_cup += drill.trials.empty() ? known_clear_intake(drill.plan) : intake(drill);
    safety::Intake sitting = drill.plan.taken_this_sitting;
    safety::Intake today = drill.plan.taken_today;
    sitting += next_cup;
    today += next_cup;
    const auto crossed = safety::crossed(drill.plan.caps, sitting, today);
    return crossed ? std::optional(crossed->text) : std::nullopt;
}

Served served_at(const State& drill, std::size_t level) {
    Served now;
    now.level = level;
    if (drill.plan.blinding == Blinding::shuffled_tray) {
        now.shown.bottle = drill.plan.ladder.levels[level].bottle;
        now.shown.sign = shuffled_tray::drawn_sign(drill.seed, drill.trials.size());
        return now;
    }
    const auto used = [&](const served::Card& card) {
        return std::any_of(drill.trials.begin(), drill.trials.end(),
                           [&](const Trial& trial) { return trial.shown.letter == card.letter; });
    };
    for (const served::Card& card : served::deck(portions_to_serve(drill.plan), drill.seed)) {
        if (card.level != level || used(card)) continue;
        now.shown.letter = card.letter;
        now.shown.codes = card.codes;
        now.place = card.place;
        return now;
    }
    SIPLADDER_EXPECT(false);  // portions_left counted a card that the deck has not
    return now;
}

Outlook outlook(const State& drill) {
    if (drill.stopped) return Finished{*drill.stopped};
    if (!drill.trials.empty() && !drill.trials.back().is_done()) {
        const auto sign = drill.trials.back().shown.sign;
        return Reveal{drill.trials.size() - 1, "Now look beneath: where was the " +
                                                   (sign ? shuffled_tray::text_of(*sign) : "sign") + "?"};
    }
    if (drill.trials.size() >= drill.plan.most_presentations)
        return Finished{std::to_string(drill.trials.size()) + " presentations done"};
    if (const auto why = precise_enough(drill)) return Finished{*why};
    if (const auto why = out_of_time(drill)) return Finished{*why};
    const auto level = chosen_level(drill);
    if (!level) return Finished{"no portions left in any bottle"};
    if (const auto why = cap_before(drill, *level)) return Finished{*why};
    return served_at(drill, *level);
}

/// The words for the one time when the answer is known, so that everybody knows what is looked for.
std::string known_cups(const Plan& plan) {
    const auto level = known_clear(plan);
    if (!level) return "Before the first: taste one cup of the base, so that you know it.";
    return "Before the first: taste one known cup of bottle " + plan.ladder.levels[*level].bottle +
           ", then one of the base, so that you know what to look for. Rinse, and wait " +
           clock_text(plan.rest_s) + ".";
}

std::string why_rest(solution::Component component) {
    switch (component) {
        case solution::Component::sour:
        case solution::Component::astringent:
        case solution::Component::bitter:
            return "Rinse with water and wait: this feeling builds up from cup to cup.";
        default:
            return "Rinse with water and wait, so that the next cup meets a fresh mouth.";
    }
}

Step step_of(const State& drill, const Outlook& ahead) {
    if (const auto* reveal = std::get_if<Reveal>(&ahead)) return *reveal;
    if (const auto* finished = std::get_if<Finished>(&ahead)) return *finished;
    return Serve{drill.trials.size(), std::get<Served>(ahead).shown,
                 drill.trials.empty() ? known_cups(drill.plan) : std::string()};
}

void check_trials(const State& drill) {
    for (std::size_t i = 0; i < drill.trials.size(); ++i) {
        const Trial& trial = drill.trials[i];
        const bool may_be_open = i + 1 == drill.trials.size() && trial.given && !trial.place;
        const bool in_range = trial.level < drill.plan.ladder.levels.size() &&
                              (!trial.place || *trial.place < places) &&
                              (!trial.given || trial.given->place < places);
        if (!in_range || !(trial.is_done() || may_be_open))
            throw Refused("presentation " + std::to_string(i + 1), "cannot belong to this drill",
                          "a level of the ladder, places 0 to 2, and every answer but the last revealed");
    }
}

}  // namespace

State begin(Plan plan, Seed seed) {
    check_shape(plan);
    check_caps(plan);
    return resume(std::move(plan), seed, {});
}

State resume(Plan plan, Seed seed, std::vector<Trial> trials, std::optional<std::string> stopped) {
    check_shape(plan);
    State drill{std::move(plan), seed, std::move(trials), {}, std::move(stopped)};
    check_trials(drill);
    drill.posterior =
        threshold::Posterior(drill.plan.prior, threshold::three_afc, threshold::Fineness::coarse);
    for (const Trial& trial : drill.trials)
        if (trial.is_done()) believe(drill, trial);
    return drill;
}

Step next(const State& drill) {
    const Outlook ahead = outlook(drill);
    if (std::holds_alternative<Served>(ahead) && !drill.trials.empty())
        return Rest{std::chrono::seconds(drill.plan.rest_s), why_rest(drill.plan.substance.component)};
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
    if (given.place >= places)
        throw Refused("answer", "is place " + std::to_string(given.place), "0 left, 1 middle or 2 right");
    drill.trials.push_back(Trial{now->shown, now->level, now->place, given, std::nullopt});
    if (now->place) believe(drill, drill.trials.back());
    return drill;
}

State reveal(State drill, std::size_t place, const Instant& at) {
    if (drill.trials.empty() || drill.trials.back().is_done())
        throw Refused("place", "no answer waits for it", "lock an answer first");
    if (place >= places) throw Refused("place", "is " + std::to_string(place), "0 left, 1 middle or 2 right");
    drill.trials.back().place = place;
    drill.trials.back().revealed_at = at;
    believe(drill, drill.trials.back());
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

std::vector<CardRow> pour_card(const Plan& plan, Seed seed) {
    std::vector<CardRow> rows;
    for (served::Card& card : served::deck(portions_to_serve(plan), seed))
        rows.push_back({card.letter, plan.ladder.levels[card.level].bottle, card.level, card.place,
                        std::move(card.codes)});
    std::sort(rows.begin(), rows.end(),
              [](const CardRow& a, const CardRow& b) { return a.letter < b.letter; });
    return rows;
}

std::vector<threshold::Answered> answered(const State& drill) {
    std::vector<threshold::Answered> answers;
    for (const Trial& trial : drill.trials)
        if (trial.is_done()) answers.push_back({trial.level, trial.given->place == *trial.place});
    return answers;
}

threshold::Threshold result(const State& drill) {
    threshold::Threshold found =
        threshold::threshold(drill.plan.ladder, answered(drill), drill.plan.prior, threshold::three_afc);
    std::vector<threshold::Asked> asked;
    const std::vector<double> levels = threshold::levels_log10(drill.plan.ladder);
    for (const Trial& trial : drill.trials)
        if (trial.is_done()) asked.push_back({levels[trial.level], *trial.place, trial.given->place});
    for (threshold::Warning& warning : threshold::warnings_in_order(drill.posterior, asked, places))
        found.warnings.push_back(std::move(warning));
    return found;
}

std::size_t cups(const State& drill) {
    return places * drill.trials.size();
}

safety::Intake intake(const State& drill) {
    safety::Intake sum = drill.trials.empty() ? safety::Intake{} : known_clear_intake(drill.plan);
    for (const Trial& trial : drill.trials) sum += presentation_intake(drill.plan, trial.level);
    return sum;
}

}  // namespace sipladder::drills::detection
