#include "gui/views/finding.hpp"

#include "engine/text.hpp"
#include "gui/app/drilling.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

namespace detection = drills::detection;
using threshold::Warning;

/// Where these are found no number is to be believed yet.
bool says_nothing(const threshold::Threshold& found) {
    return std::ranges::any_of(found.warnings, [](const Warning& warning) {
        return warning.kind == Warning::Kind::too_few || warning.kind == Warning::Kind::guessing;
    });
}

bool is_below_ladder(const threshold::Threshold& found) {
    return std::ranges::any_of(
        found.warnings, [](const Warning& warning) { return warning.kind == Warning::Kind::all_correct; });
}

std::string sentence_of(const detection::State& state, const threshold::Threshold& found) {
    const std::string what = state.plan.substance.name + " in " + state.plan.base_name;
    if (detection::answered(state).empty())
        return "Nothing was answered, so nothing can be said about " + what + ".";
    const std::string number =
        with_interval(found.value(), found.lower(), found.upper()) + " " + unit_text(found.scale);
    if (says_nothing(found))
        return "No threshold can be told yet for " + what + "; the answers so far leave it at " + number +
               ", and much of that is assumed.";
    if (is_below_ladder(found))
        return "You found every cup: your threshold for " + what + " lies below most of this ladder, about " +
               number + ".";
    return "You find " + what + " from about " + number +
           " on: there, beyond guessing, you are right half of the time.";
}

std::vector<std::string> next_of(const detection::State& state, const threshold::Threshold& found) {
    std::vector<std::string> next;
    if (is_below_ladder(found))
        next.emplace_back("Next: a ladder that starts lower, 5 rungs of ratio 2 around this result.");
    else if (says_nothing(found))
        next.emplace_back(
            "Next: the same again after a night's rest, with the strongest rung tasted first; or stronger "
            "rungs.");
    else
        next.emplace_back(
            "Next: 5 rungs of ratio 2 around this result would halve the interval; another substance is as "
            "good a use of the cups.");
    if (detection::answered(state).size() < state.plan.most_presentations)
        next.emplace_back("This one was ended early; what was answered counts.");
    next.emplace_back(
        "The first two sittings of a substance are practice: people get better at the task itself.");
    return next;
}

}  // namespace

std::string mixing_share(const threshold::Threshold& threshold) {
    constexpr double smallest_told = 0.001;
    const double share =
        threshold.sd_log10 > 0.0 ? std::pow(threshold.mixing_sd_log10 / threshold.sd_log10, 2) : 0.0;
    return share < smallest_told ? "less than 0.1 %" : percent(share);
}

Shown shown_of(const threshold::Threshold& threshold, const detection::State& state) {
    return {with_interval(threshold.value(), threshold.lower(), threshold.upper()) + " " +
                unit_text(threshold.scale),
            "detection threshold, posterior mean with equal-tailed 95 % interval; prior: " + threshold.prior +
                "; " + std::to_string(detection::answered(state).size()) + " answers; mixing makes " +
                mixing_share(threshold) + " of the variance"};
}

FindingView finding_view(const App&, const PastDrill& past) {
    const threshold::Threshold found = detection::result(past.state);
    FindingView view;
    view.title = past.state.plan.substance.name + " in " + past.state.plan.base_name;
    view.sentence = sentence_of(past.state, found);
    view.number = shown_of(found, past.state);
    const std::size_t answers = detection::answered(past.state).size();
    view.rests_on = "This rests on " + std::to_string(answers) + (answers == 1 ? " answer" : " answers") +
                    " and on a start from: " + found.prior + ".";
    view.curve = curve_of(past, found);
    for (const Warning& warning : found.warnings) view.warnings.push_back(warning.text);
    view.next = next_of(past.state, found);
    return view;
}

}  // namespace sipladder::gui
