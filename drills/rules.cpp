// The table of drills, and what those share whose answers are right or wrong.

#include "drills/rules.hpp"

#include "drills/detection.hpp"
#include "engine/text.hpp"
#include "engine/threshold/next_level.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace sipladder::drills {

const Rules& rules_of(Kind kind) {
    switch (kind) {
        case Kind::detection:
            return detection_rules();
        case Kind::quick_look:
            return quick_look_rules();
        case Kind::recognition:
            return recognition_rules();
        case Kind::difference:
            return difference_rules();
        case Kind::nose:
            return nose_rules();
        case Kind::tray_check:
            return tray_check_rules();
        case Kind::naming:
            return naming_rules();
        case Kind::ranking:
            return ranking_rules();
        case Kind::scaling:
            return scaling_rules();
        case Kind::balance:
            return balance_rules();
        case Kind::mouth_map:
            return mouth_map_rules();
        case Kind::persistence:
            return persistence_rules();
        case Kind::weight:
            return weight_rules();
    }
    SIPLADDER_EXPECT(false);
    return detection_rules();
}

std::string adjective_of(solution::Component component) {
    switch (component) {
        case solution::Component::sweet:
            return "sweet";
        case solution::Component::sour:
            return "sour";
        case solution::Component::alcohol:
            return "warm";
        case solution::Component::astringent:
            return "rough";
        case solution::Component::bitter:
            return "bitter";
        case solution::Component::salty:
            return "salty";
        case solution::Component::weight:
            return "thick";
    }
    SIPLADDER_EXPECT(false);
    return {};
}

std::string noun_of(solution::Component component) {
    if (component == solution::Component::alcohol) return "warmth";
    return adjective_of(component) + "ness";
}

std::vector<Problem> problems_of_answer(const Question& question, std::size_t cups, const Answer& answer) {
    std::vector<Problem> found;
    const auto want = [&](bool holds, std::string what, std::string right) {
        if (!holds) found.push_back({"answer", std::move(what), std::move(right)});
    };
    const std::size_t choices = std::max<std::size_t>(question.choices.size(), 1);
    want(answer.choice < choices, "is choice " + std::to_string(answer.choice),
         "0 to " + std::to_string(choices - 1));
    if (question.asks_order) {
        std::vector<bool> named(cups, false);
        for (const std::size_t place : answer.order)
            if (place < cups) named[place] = true;
        const bool is_whole =
            answer.order.size() == cups && std::find(named.begin(), named.end(), false) == named.end();
        want(is_whole, "orders " + std::to_string(answer.order.size()) + " cups",
             "each of " + std::to_string(cups) + " cups once, weakest first");
    } else
        want(answer.order.empty(), "gives an order", "none is asked for");
    want(answer.mark.has_value() == question.mark.has_value(), answer.mark ? "has a mark" : "has no mark",
         question.mark ? "a mark from 0 to 100" : "none is asked for");
    constexpr double end_of_line = 100.0;
    if (answer.mark)
        want(*answer.mark >= 0.0 && *answer.mark <= end_of_line, "has a mark of " + exact(*answer.mark),
             "0 to 100");
    want(answer.seconds.has_value() == (question.most_seconds > 0),
         answer.seconds ? "has a time" : "has no time",
         question.most_seconds > 0 ? "the seconds until it was gone" : "none is asked for");
    if (answer.seconds && question.most_seconds > 0)
        want(*answer.seconds > 0.0 && *answer.seconds <= question.most_seconds,
             "says " + exact(*answer.seconds) + " s",
             "more than 0, up to " + std::to_string(question.most_seconds) + " s");
    const auto want_some_of = [&](const std::vector<std::size_t>& picked, std::size_t there,
                                  const std::string& of) {
        bool ascends = true;
        for (std::size_t i = 0; i < picked.size(); ++i)
            ascends = ascends && picked[i] < there && (i == 0 || picked[i - 1] < picked[i]);
        want(ascends, "picks " + of + " that are not there, or twice",
             "some of " + std::to_string(there) + ", each once, in order");
    };
    want_some_of(answer.places, question.places.size(), "places");
    want_some_of(answer.words, question.words.size(), "words");
    if (question.first_is_nothing && answer.choice == 0)
        want(answer.places.empty() && answer.mark.value_or(0.0) == 0.0, "feels nothing, and that somewhere",
             "no place and a mark of 0 where nothing was felt");
    if (question.first_is_nothing && answer.choice > 0)
        want(!answer.places.empty(), "feels something nowhere", "at least one place");
    return found;
}

bool is_right(const Plan& plan, const Trial& trial) {
    const bool is_place = cups_together(plan) > 1;
    return trial.given->choice == (is_place ? *trial.place : line_of_series(plan, trial.series));
}

void believe_right_or_wrong(const Plan& plan, const Trial& trial,
                            std::vector<threshold::Posterior>& learned) {
    const auto& ladder = ladder_of(plan, line_of_series(plan, trial.series));
    learned[trial.series].update(Log10Level{threshold::levels_log10(ladder)[trial.level]},
                                 is_right(plan, trial));
}

std::vector<int> portions_left(const State& drill, std::size_t line) {
    std::vector<int> left = portions_to_serve(drill.plan, line);
    for (const Trial& trial : drill.trials)
        if (!trial.is_blank && line_of_series(drill.plan, trial.series) == line)
            left[trial.level] = std::max(left[trial.level] - 1, 0);
    return left;
}

std::optional<std::size_t> level_for(const State& drill, std::size_t series) {
    const std::size_t line = line_of_series(drill.plan, series);
    const std::vector<int> left = portions_left(drill, line);
    std::vector<std::size_t> served;
    for (const Trial& trial : drill.trials)
        if (!trial.is_blank && trial.series == series) served.push_back(trial.level);
    if (drill.plan.order == Order::ascending) {
        const std::size_t level = served.size() % left.size();
        return left[level] > 0 ? std::optional(level) : std::nullopt;
    }
    const threshold::Posterior& posterior = drill.posteriors()[series];
    const threshold::Chooser chooser{posterior, threshold::levels_log10(ladder_of(drill.plan, line))};
    if (drill.plan.rule_version < 2) return next_level(posterior, chooser, left);
    return next_level_varied(posterior, chooser, left, served);
}

std::optional<Wanted> choose_only_series(const State& drill) {
    const auto level = level_for(drill, 0);
    return level ? std::optional(Wanted{0, *level, false}) : std::nullopt;
}

double least_shared_log10(const Plan& plan, std::size_t series) {
    const auto shares_less = [](const solution::MixedLevel& a, const solution::MixedLevel& b) {
        return a.u_shared_rel < b.u_shared_rel;
    };
    const auto& levels = ladder_of(plan, line_of_series(plan, series)).levels;
    return std::min_element(levels.begin(), levels.end(), shares_less)->u_shared_rel / std::numbers::ln10;
}

namespace {

threshold::Threshold right_or_wrong_alone(const State& drill, std::size_t series) {
    const std::size_t line = line_of_series(drill.plan, series);
    return threshold::threshold(ladder_of(drill.plan, line), answered(drill, series),
                                prior_of(drill.plan, line), task_of(drill.plan));
}

}  // namespace

/// The fine fit takes a hundred times as long as the coarse one, so it is asked only when the coarse SD and
/// the least that mixing adds to it are small enough.
bool all_series_precise(const State& drill, double wanted_sd_log10) {
    for (std::size_t series = 0; series < series_count(drill.plan); ++series)
        if (std::hypot(drill.posteriors()[series].sd(), least_shared_log10(drill.plan, series)) >
            wanted_sd_log10)
            return false;
    for (std::size_t series = 0; series < series_count(drill.plan); ++series)
        if (right_or_wrong_alone(drill, series).sd_log10 > wanted_sd_log10) return false;
    return true;
}

std::vector<threshold::Answered> answered(const State& drill, std::size_t series) {
    const bool with_certainty = detection::certainty_counts(drill.plan);
    std::vector<threshold::Answered> answers;
    for (const Trial& trial : drill.trials)
        if (trial.is_done() && !trial.is_blank && trial.series == series)
            answers.push_back({trial.level, is_right(drill.plan, trial),
                               with_certainty ? std::optional(trial.given->certainty) : std::nullopt});
    return answers;
}

threshold::Threshold threshold_so_far(const State& drill, std::size_t series) {
    auto with_certainty = detection::with_certainty(drill);
    return with_warnings_in_order(
        drill, series,
        with_certainty ? std::move(with_certainty->threshold) : right_or_wrong_alone(drill, series));
}

threshold::Threshold with_warnings_in_order(const State& drill, std::size_t series,
                                            threshold::Threshold found) {
    const std::size_t together = cups_together(drill.plan);
    if (together < 2) return found;
    std::vector<threshold::Asked> asked;
    const std::vector<double> levels =
        threshold::levels_log10(ladder_of(drill.plan, line_of_series(drill.plan, series)));
    for (const Trial& trial : drill.trials)
        if (trial.is_done() && trial.series == series)
            asked.push_back({levels[trial.level], *trial.place, trial.given->choice});
    for (threshold::Warning& warning :
         threshold::warnings_in_order(drill.posteriors()[series], asked, together))
        found.warnings.push_back(std::move(warning));
    return found;
}

std::vector<std::string> place_words(std::size_t places_together) {
    SIPLADDER_EXPECT(places_together == 2 || places_together == 3);
    if (places_together == 2) return {"left", "right"};
    return {"left", "middle", "right"};
}

Finding finding_of_thresholds(const State& drill, const std::vector<std::string>& names) {
    Finding found;
    for (std::size_t series = 0; series < series_count(drill.plan); ++series)
        found.thresholds.push_back({names.at(series), threshold_so_far(drill, series)});
    return found;
}

}  // namespace sipladder::drills
