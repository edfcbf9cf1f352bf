#pragma once

#include "drills/programme.hpp"
#include "gui/app/app.hpp"

#include <cstddef>
#include <string>
#include <variant>
#include <vector>

/// What is prepared as a whole: one drill or several, the ladders that they draw from, and what that costs.
namespace sipladder::gui {

/// Every ladder of the sitting, in order, the open one among them.
std::vector<const Bench*> benches(const App& app);
Bench& bench_at(App& app, std::size_t place);

/// The forms of all ladders once this is the form of the open one: as many as the drill or programme wants,
/// each keeping what is its own.
struct Forms {
    std::vector<Setup> all;
    std::size_t open = 0;
};
Forms forms_with(const App& app, const Setup& open);

/// What the form's drill or programme stands for, on these ladders.
drills::WantedSitting wanted_sitting(const App& app, const Setup& setup,
                                     std::vector<solution::Ladder> ladders);
/// How the form's drill is served.
drills::Blinding blinding_of(const Setup& setup);
/// The number of presentations that is chosen first: the usual one, or fewer where a cap asks for it.
std::size_t usual_presentations(const App& app, const Setup& setup);

/// The request of each form, or what is wrong with it, field by field (`where` is the field's label).
using Asked = std::variant<solution::PlanRequest, std::vector<Problem>>;
std::vector<Asked> requests_of(const App& app, const std::vector<Setup>& forms);

/// The sitting that is prepared, its ladders as mixed (or as planned, or on target where there is no plan
/// yet), and the drills on them. Nothing where a form is not complete or a drill cannot be made of it.
struct Prepared {
    drills::WantedSitting sitting;
    std::vector<drills::Plan> plans;
};
std::optional<Prepared> prepared(const App& app);

/// What the drills would take in at worst and what stands against keeping the mixes, in one sentence each.
std::vector<std::string> against_keeping(const App& app);
/// "Acid and sugar", or what the drill is called.
std::string sitting_name(const App& app);
/// One drill in a line: "recognition of sugar, acid and salt: 15 cups, a helper pours".
std::string line_of(const drills::Plan& plan);
/// Cups or minutes that one drill takes beyond a sitting; it may be gone on with another day. Empty: none.
std::string beyond_one_sitting(const App& app, const Prepared& prepared);

/// How far the sitting has come that the newest mixes were made for.
struct Progress {
    const PlannedSitting* planned{};  ///< nothing: there is none, or it is too long ago
    std::vector<bool> done;           ///< by drill
    std::optional<std::size_t> next{};
};
Progress progress_of(const App& app);
/// "recognition, sucrose, tartaric acid, a helper pours": one drill of such a sitting.
std::string line_of(const App& app, const drills::record::PlannedDrill& drill);
/// The line of the one that is next; empty where none is, or the sitting has one drill only.
std::string next_drill_of(const App& app);
/// The drill that is next becomes what is chosen, unless the person chooses for themselves.
void follow_sitting(App& app);

}  // namespace sipladder::gui
