#include "gui/views/finding.hpp"

#include "drills/charts.hpp"
#include "drills/detection.hpp"
#include "drills/palate.hpp"
#include "drills/quick_look.hpp"
#include "drills/tray_check.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"
#include "gui/app/sitting.hpp"
#include "gui/views/taste.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace sipladder::gui {

namespace {

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

std::size_t answers_of(const drills::State& state) {
    return static_cast<std::size_t>(
        std::ranges::count_if(state.trials, [](const drills::Trial& trial) { return trial.is_done(); }));
}

std::string number_of(const threshold::Threshold& found) {
    return with_interval(found.value(), found.lower(), found.upper()) + " " + unit_text(found.scale);
}

/// "20 g/L"
std::string pedestal_of(const drills::Plan& plan) {
    return significant(plan.pedestal->mixed, 3) + " " + unit_text(plan.ladder.scale);
}

/// What a threshold is one for.
std::string subject_of(const drills::Plan& plan) {
    if (plan.kind != drills::Kind::difference) return title_of(plan);
    return "more " + plan.substance.asked_for + " on " + pedestal_of(plan) + " (" + title_of(plan) + ")";
}

constexpr std::string_view recognition_of = "recognition of ";

/// What is right half of the time beyond guessing from this strength on.
/// @param is_first  of several that are told one after the other
std::string claim_of(const drills::State& state, const drills::Finding::Named& named, bool is_first = true) {
    const drills::Plan& plan = state.plan;
    const std::string number = number_of(named.threshold);
    switch (plan.kind) {
        case drills::Kind::difference:
            return "You notice about " + number + " " + subject_of(plan);
        case drills::Kind::recognition:
            return named.name.substr(named.name.find(recognition_of) == 0 ? recognition_of.size() : 0) +
                   " from about " + number + " on";
        case drills::Kind::nose:
            return (is_first ? title_of(plan) + " from about " : "from about ") + number + " on with the " +
                   named.name;
        case drills::Kind::quick_look:
            return "You grade " + title_of(plan) + " apart from the blanks from about " + number + " on";
        case drills::Kind::detection:
        case drills::Kind::naming:
        case drills::Kind::ranking:
        case drills::Kind::scaling:
        case drills::Kind::balance:
        case drills::Kind::mouth_map:
        case drills::Kind::persistence:
        case drills::Kind::weight:
        case drills::Kind::tray_check:
            break;
    }
    return "You find " + title_of(plan) + " from about " + number + " on";
}

std::string sentence_of_one(const drills::State& state, const drills::Finding::Named& named) {
    const threshold::Threshold& found = named.threshold;
    if (says_nothing(found))
        return "No threshold can be told yet for " + subject_of(state.plan) +
               "; the answers so far leave it at " + number_of(found) + ", and much of that is assumed.";
    if (is_below_ladder(found))
        return "You were right every time: your threshold for " + subject_of(state.plan) +
               " lies below most of this ladder, about " + number_of(found) + ".";
    return claim_of(state, named) + ": there, beyond guessing, you are right half of the time.";
}

/// One sentence for one threshold; several stand after each other, and the first of them says what they are.
std::string sentence_of(const drills::State& state, const drills::Finding& finding) {
    if (answers_of(state) == 0)
        return "Nothing was answered, so nothing can be said about " + title_of(state.plan) + ".";
    if (finding.thresholds.empty())
        return finding.sentences.empty() ? "Nothing can be told from these answers yet."
                                         : finding.sentences.front();
    if (finding.thresholds.size() == 1) return sentence_of_one(state, finding.thresholds.front());
    std::string all = state.plan.kind == drills::Kind::recognition
                          ? "In " + state.plan.base_name + " you name "
                          : std::string("You find ");
    for (std::size_t i = 0; i < finding.thresholds.size(); ++i)
        all += (i == 0 ? "" : "; ") + claim_of(state, finding.thresholds[i], i == 0) +
               (says_nothing(finding.thresholds[i].threshold) ? " (not to be relied on yet)" : "");
    return all + ".";
}

std::string text_of(const drills::Finding::Measure& measure) {
    return measure.name + ": " + with_interval(measure.value, measure.lower, measure.upper) +
           (measure.unit.empty() ? "" : " " + measure.unit) + ", with its 95 % interval.";
}

void show_more(FindingView& view, const drills::State& state, const drills::Finding& finding) {
    for (const drills::Finding::Measure& measure : finding.measures)
        if (!measure.is_said) view.more.push_back(text_of(measure));
    const bool first_is_said = finding.thresholds.empty() && answers_of(state) > 0;
    for (std::size_t i = first_is_said ? 1 : 0; i < finding.sentences.size(); ++i)
        view.more.push_back(finding.sentences[i]);
    if (!state.rests_cut.empty())
        view.more.push_back(counted(state.rests_cut.size(), "rest was", "rests were") +
                            " cut short; the cup after such a rest counts like any other.");
}

/// Whether a quick look and 3-AFC of the same bottles agree, where one sitting holds both.
std::vector<std::string> checks_of(const App& app, const PastDrill& past) {
    using drills::Kind;
    const Kind kind = past.state.plan.kind;
    if (kind != Kind::quick_look && kind != Kind::detection) return {};
    std::vector<drills::State> looks;
    std::vector<drills::State> picks;
    if (!app.history) return {};
    const auto& done = app.history->done;
    for (std::size_t i = 0; i < done.size(); ++i) {
        if (done.lines()[i].sitting != past.sitting) continue;
        const PastDrill* other = done.if_readable(i);
        if (other == nullptr || (other->state.plan.kind == kind && other->drill != past.drill)) continue;
        if (other->state.plan.kind == Kind::quick_look) looks.push_back(other->state);
        if (other->state.plan.kind == Kind::detection) picks.push_back(other->state);
    }
    std::vector<std::string> checks;
    for (const drills::State& look : looks)
        if (const auto check = drills::quick_look::check(look, picks))
            checks.push_back("Quick look beside 3-AFC: " + check->text);
    return checks;
}

/// Single graded cups have no share of right answers to draw.
void show_curves(FindingView& view, const PastDrill& past, const drills::Finding& finding) {
    if (past.state.plan.kind == drills::Kind::quick_look) return;
    for (chart::Chart& chart : drills::charts_of(past.state)) view.curves.push_back({{}, std::move(chart)});
    for (std::size_t series = 0; series < finding.thresholds.size(); ++series) {
        const auto& named = finding.thresholds[series];
        std::string name = finding.thresholds.size() > 1 ? named.name : std::string{};
        if (past.state.plan.kind == drills::Kind::difference)
            name = "what is added to " + pedestal_of(past.state.plan);
        view.curves.push_back({std::move(name), drills::curve_of(past.state, named.threshold, series)});
    }
}

std::vector<std::string> next_of(const drills::State& state, const threshold::Threshold& found) {
    std::vector<std::string> next;
    if (state.plan.kind == drills::Kind::tray_check) {
        if (!drills::tray_check::result(state).is_seen_through)
            next.emplace_back("Next: the drill itself, on this very tray.");
        return next;
    }
    if (drills::is_fixed(state.plan)) {
        if (answers_of(state) < state.plan.most_presentations)
            next.emplace_back("This one was ended early; what was answered counts.");
        next.emplace_back("Next: the same on another day. What comes out alike both times is yours.");
        return next;
    }
    if (is_below_ladder(found))
        next.emplace_back("Next: a ladder that starts lower, 5 rungs of ratio 2 around this result.");
    else if (says_nothing(found))
        next.emplace_back(
            "Next: the same again after a night's rest, with the strongest rung tasted first; or stronger "
            "rungs.");
    else
        next.emplace_back(
            "Next: 5 rungs of ratio 2 around this result would narrow the interval, and Palate says by how "
            "much; another substance is as good a use of the cups.");
    if (answers_of(state) < state.plan.most_presentations)
        next.emplace_back("This one was ended early; what was answered counts.");
    next.emplace_back(
        "The first two sittings of a substance are practice: people get better at the task itself.");
    return next;
}

Shown shown_of(const threshold::Threshold& threshold, const drills::State& state) {
    return {drills::text_of(threshold),
            drills::whence_of(threshold, name_of_drill(state.plan), drills::answered(state).size())};
}

}  // namespace

FindingView finding_view(const App& app, const PastDrill& past) {
    const drills::State& state = past.state;
    const drills::Finding finding = answers_of(state) > 0 ? drills::finding(state) : drills::Finding{};
    FindingView view;
    view.title = title_of(state.plan) + ": " + name_of_drill(state.plan);
    view.sentence = sentence_of(state, finding);
    show_more(view, state, finding);
    for (std::string& check : checks_of(app, past)) view.more.push_back(std::move(check));
    show_curves(view, past, finding);
    threshold::Threshold main;
    if (!finding.thresholds.empty()) {
        main = finding.thresholds.front().threshold;
        view.number = shown_of(main, state);
    }
    view.rests_on = "This rests on " + counted(answers_of(state), "answer", "answers") +
                    (main.prior.empty() ? "." : " and on a start from: " + main.prior + ".");
    for (const auto& named : finding.thresholds)
        for (const Warning& warning : named.threshold.warnings)
            view.warnings.push_back((finding.thresholds.size() > 1 ? named.name + ": " : "") + warning.text);
    view.next = next_of(state, main);
    view.sitting_goes_on = sitting_to_join(app) != nullptr;
    view.next_drill = next_drill_of(app);
    return view;
}

}  // namespace sipladder::gui
