#include "engine/trend/advice.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/trend/rota.hpp"

#include <algorithm>
#include <cmath>

// A threshold grows stale as the line wanders, with the drift taken as one that may change from week to week.
// A further drill is worth what it takes off the uncertainty, in nats, and the more the further the person is
// from where they want to be. Cups and minutes are what it costs.

namespace sipladder::trend {

namespace {

/// A factor of two above the goal counts double (judgement).
constexpr double goal_scale_log10 = 0.301;

void check(const std::vector<Standing>& standings) {
    std::vector<Problem> problems;
    for (const Standing& standing : standings) {
        const auto want = [&](bool holds, const char* field, double found, const char* right) {
            if (!holds)
                problems.push_back({"\"" + standing.name + "\", " + field, "is " + exact(found), right});
        };
        want(standing.sd_log10 > 0.0 && std::isfinite(standing.sd_log10), "sd_log10", standing.sd_log10,
             "above 0");
        want(standing.weeks_since >= 0.0 && std::isfinite(standing.weeks_since), "weeks_since",
             standing.weeks_since, "0 or greater");
        want(standing.presentations > 0, "presentations", static_cast<double>(standing.presentations),
             "at least 1");
        want(standing.cups > 0, "cups", static_cast<double>(standing.cups), "at least 1");
        want(standing.minutes > 0.0 && std::isfinite(standing.minutes), "minutes", standing.minutes,
             "above 0");
        want(standing.width_log10 > 0.0, "width_log10", standing.width_log10, "above 0");
        want(standing.lapse >= 0.0 && standing.lapse < 0.6, "lapse", standing.lapse, "0 to below 0.6");
    }
    if (!problems.empty()) throw Refused(problems);
}

std::string last_done(double weeks) {
    const double days = std::round(7.0 * weeks);
    if (days < 1.0) return "last done today";
    if (days < 2.0) return "last done yesterday";
    return "last done " + fixed(days, 0) + " days ago";
}

std::string words_for(const Standing& standing, const Advice& advice) {
    std::string words = standing.name;
    words.append(": ").append(std::to_string(standing.presentations));
    words += standing.log10 ? " presentations would take it from ±"
                            : " presentations would take it from an assumed ±";
    words.append(fixed(advice.sd_now_log10, 2)).append(" to about ±").append(fixed(advice.sd_after_log10, 2));
    words.append(" (").append(std::to_string(standing.cups)).append(" cups, ");
    words.append(fixed(standing.minutes, 0)).append(" min); ");
    words += standing.log10 ? last_done(standing.weeks_since) : "never measured";
    if (advice.beyond_goal_log10 > 0.0)
        words.append("; a factor of ")
            .append(significant(std::pow(10.0, advice.beyond_goal_log10), 2))
            .append(" above the goal");
    return words + ".";
}

Advice advice_for(const Standing& standing, std::size_t index, const Settings& settings) {
    Advice advice;
    advice.standing = index;
    const double aged = standing.log10 ? standing.weeks_since * (std::pow(settings.walk_log10, 2.0) +
                                                                 std::pow(settings.drift_sd_log10, 2.0))
                                       : 0.0;
    const double now = standing.sd_log10 * standing.sd_log10 + aged;
    const double answers = measurement_sd_log10(standing.presentations, standing.width_log10, standing.lapse);
    const double measured = answers * answers + settings.jitter_log10 * settings.jitter_log10;
    advice.sd_now_log10 = std::sqrt(now);
    advice.stale_share = aged / now;
    advice.sd_after_log10 = std::sqrt(now * measured / (now + measured));
    advice.precision_gain = std::log(advice.sd_now_log10 / advice.sd_after_log10);
    if (standing.log10 && standing.goal_log10)
        advice.beyond_goal_log10 = std::max(*standing.log10 - *standing.goal_log10, 0.0);
    advice.gain = advice.precision_gain * (1.0 + advice.beyond_goal_log10 / goal_scale_log10);
    advice.gain_per_cup = advice.gain / static_cast<double>(standing.cups);
    advice.gain_per_minute = advice.gain / standing.minutes;
    advice.words = words_for(standing, advice);
    return advice;
}

}  // namespace

std::vector<Advice> what_next(const std::vector<Standing>& standings, const Settings& settings) {
    check(standings);
    std::vector<Advice> found;
    for (std::size_t i = 0; i < standings.size(); ++i) found.push_back(advice_for(standings[i], i, settings));
    std::stable_sort(found.begin(), found.end(),
                     [](const Advice& a, const Advice& b) { return a.gain_per_cup > b.gain_per_cup; });
    return found;
}

}  // namespace sipladder::trend
