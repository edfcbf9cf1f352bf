// Settings of the window. The form in Prepare follows a new usual where it stood on the former one and
// nothing was noted at the bench yet: what a person set by hand, or has begun to mix, stays.

#include "engine/text.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/sitting.hpp"
#include "gui/app/usual.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::gui {

namespace {

bool is_noted(const App& app) {
    const std::vector<const Bench*> all = benches(app);
    return std::ranges::any_of(
        all, [](const Bench* one) { return !one->notes.empty() || one->waiting.has_value(); });
}

template <class Value>
void follow(App& app, Value Setup::*part, const Value& before, const Value& now) {
    Setup setup = app.bench.setup;
    if (setup.*part != before || setup.*part == now || !setup.programme.empty() || is_noted(app)) return;
    setup.*part = now;
    set_up(app, std::move(setup));
}

bool is_cup(double mL) {
    return std::isfinite(mL) && mL >= smallest_cup_mL && mL <= largest_cup_mL;
}

}  // namespace

Usual mended(Usual usual) {
    const Usual shipped;
    if (!is_cup(usual.cup_mL)) usual.cup_mL = shipped.cup_mL;
    if (usual.pours == Pours::as_written) usual.pours = shipped.pours;
    return usual;
}

void take_usual(App& app) {
    app.chosen_blinding =
        app.usual.pours == Pours::helper ? drills::Blinding::served : drills::Blinding::shuffled_tray;
    app.chosen_cup = Millilitres{app.usual.cup_mL};
}

void on(Next& next, const SetVolumeUnit& intent) {
    next.app.usual.volume = intent.unit;
}

void on(Next& next, const SetUsualPours& intent) {
    App& app = next.app;
    const Pours before = app.usual.pours;
    app.usual.pours = intent.pours;
    take_usual(app);
    if (app.history) follow_sitting(app);
    follow(app, &Setup::pours, before, intent.pours);
}

void on(Next& next, const TypeUsualCup& intent) {
    App& app = next.app;
    app.typed_usual_cup = intent.text;
    const std::optional<double> typed = number_from_typed(intent.text);
    if (!typed || !is_cup(*typed)) return;  // said beside the field; the one before holds
    const std::string before = exact(app.usual.cup_mL);
    app.usual.cup_mL = *typed;
    take_usual(app);
    if (app.history) follow_sitting(app);
    follow(app, &Setup::cup_mL, before, exact(*typed));
}

void on(Next& next, const SetUsualKitchen& intent) {
    App& app = next.app;
    const std::string before = first_setup(app).kitchen;
    app.usual.kitchen = intent.id;
    follow(app, &Setup::kitchen, before, first_setup(app).kitchen);
}

}  // namespace sipladder::gui
