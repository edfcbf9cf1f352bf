#include "gui/app/own_words.hpp"

#include "drills/plans.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "gui/app/drilling.hpp"

#include <algorithm>

namespace sipladder::gui {

namespace {

using drills::Kind;

constexpr std::size_t wine_sips = 6;  // a finish is long: six take half an hour; judgement
constexpr double most_wine_pct_vol = 18.0;

/// Words begin where a component does: those for sugar are none for acid. Of a finish they are the same for
/// all.
bool is_about(const drills::Plan& plan, Kind kind, const App& app, const std::string& substance) {
    if (plan.kind != kind || plan.words.empty()) return false;
    return kind == Kind::persistence ||
           plan.substance.component == app.content->substance(substance).component;
}

}  // namespace

bool takes_own_words(Kind kind) {
    return kind == Kind::scaling || kind == Kind::persistence;
}

std::vector<std::string> words_in(const std::string& typed) {
    std::vector<std::string> words;
    std::string one;
    for (const char c : typed + ",") {
        if (c != ',') {
            one += c;
            continue;
        }
        if (!trimmed(one).empty()) words.emplace_back(trimmed(one));
        one.clear();
    }
    return words;
}

std::string joined_words(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text.append(text.empty() ? "" : ", ").append(word);
    return text;
}

std::vector<std::string> own_words(const App& app, Kind kind, const std::string& substance) {
    if (!takes_own_words(kind)) return {};
    if (std::vector<std::string> typed = words_in(app.typed_words); !typed.empty()) return typed;
    if (!app.history) return {};
    const PastDrill* last = nullptr;
    const auto& done = app.history->done;
    for (std::size_t i = 0; i < done.size(); ++i) {
        const PastLine& line = done.lines()[i];
        if (line.kind != drills::name_of(kind)) continue;
        if (last != nullptr && line.started.utc_ms <= last->started.utc_ms) continue;
        const PastDrill* past = done.if_readable(i);
        if (past != nullptr && is_about(past->state.plan, kind, app, substance)) last = past;
    }
    return last == nullptr ? std::vector<std::string>{} : last->state.plan.words;
}

std::variant<drills::Plan, std::vector<Problem>> own_wine_drill(const App& app) {
    if (!app.history) return std::vector<Problem>{{"Taste", "nobody is set to taste", "add a person first"}};
    const std::optional<double> strength = number_from_typed(app.own_wine.strength);
    if (!strength || *strength < 0.1 || *strength > most_wine_pct_vol)
        return std::vector<Problem>{
            {"Strength", app.own_wine.strength.empty() ? "is empty" : "is \"" + app.own_wine.strength + "\"",
             "what its label says, 0.1 to 18 % vol"}};
    const OpenSitting* sitting = sitting_to_join(app);
    try {
        drills::DrillOptions options;
        options.blinding = drills::Blinding::served;
        options.presentations = wine_sips;
        options.cup = app.chosen_cup;
        if (std::vector<std::string> typed = words_in(app.typed_words); !typed.empty()) options.words = typed;
        const std::string name{trimmed(app.own_wine.name)};
        drills::Plan plan =
            drills::own_wine_plan(*app.content, name.empty() ? "my own wine" : name, PercentVol{*strength},
                                  static_cast<int>(wine_sips), options, app.history->taken_today,
                                  sitting ? taken_in(*app.history, sitting->id) : safety::Intake{});
        if (sitting != nullptr) plan.codes_before = codes_in(*app.history, sitting->id);
        drills::check_shape(plan);
        if (!app.history->no_ethanol_reasons.empty()) safety::refuse_ethanol(app.history->no_ethanol_reasons);
        drills::check_caps(plan);
        return plan;
    } catch (const Refused& refused) {
        return refused.problems();
    }
}

}  // namespace sipladder::gui
