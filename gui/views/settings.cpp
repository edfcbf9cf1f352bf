#include "gui/views/settings.hpp"

#include "engine/text.hpp"
#include "gui/app/app.hpp"

namespace sipladder::gui {

namespace {

Choice choice(const std::string& label, bool is_chosen, const std::string& note = {}) {
    return {.label = label, .is_chosen = is_chosen, .note = note, .component = {}};
}

void show_usual(WindowSettingsView& view, const App& app) {
    const Usual& usual = app.usual;
    view.pours = {choice("I alone", usual.pours == Pours::alone, "a shuffled tray, or a sealed key"),
                  choice("a helper", usual.pours == Pours::helper, "cups are served by codes")};
    view.pours_kinds = {Pours::alone, Pours::helper};
    view.cup = {.text = app.typed_usual_cup.value_or(exact(usual.cup_mL)), .unit = "mL", .problem = {}};
    const std::optional<double> typed = number_from_typed(view.cup.text);
    if (!typed || *typed < smallest_cup_mL || *typed > largest_cup_mL)
        view.cup.problem = "a volume from 2 to 50 mL; " + exact(usual.cup_mL) + " mL holds until then";
    else if (usual.volume == VolumeUnit::us_fl_oz)
        view.cup_note = volume_text(Millilitres{*typed}, usual.volume) + "; 10 to 15 mL is usual.";
    else
        view.cup_note = "10 to 15 mL is usual.";
    const std::string kitchen = first_setup(app).kitchen;
    for (const solution::Equipment& one : app.content->equipment) {
        view.kitchens.push_back(choice(one.name, one.id == kitchen, one.note));
        view.kitchen_ids.push_back(one.id);
        if (one.id == kitchen) view.kitchen_note = instruments_text(one);
    }
}

WindowSettingsView window_view(const App& app) {
    WindowSettingsView window;
    window.dark = app.dark;
    window.scale = app.scale;
    window.paper = app.paper;
    window.volumes = {
        choice("mL", app.usual.volume == VolumeUnit::mL),
        choice("US fl oz", app.usual.volume == VolumeUnit::us_fl_oz, "1 US fl oz is 29.5735295625 mL")};
    window.volume_units = {VolumeUnit::mL, VolumeUnit::us_fl_oz};
    window.volume_note =
        "Of cups and of what is got ready, on screen and on paper. Steps and readings stay in g and mL: "
        "scales "
        "and syringes are so marked.";
    show_usual(window, app);
    window.kept = "Kept on this machine, for everyone who tastes here; no part of the journal.";
    return window;
}

void show_own(SettingsView& view, const App& app) {
    using content::OwnKind;
    switch (view.part) {
        case SettingsPart::window:
            return;
        case SettingsPart::equipment:
            view.kind = OwnKind::equipment;
            view.adds = "Add equipment";
            view.explains =
                "Scales and vessels of yours. Prepare and Class plan with one equipment at a time.";
            break;
        case SettingsPart::ladders:
            view.kind = OwnKind::ladder;
            view.adds = "Add a ladder";
            view.explains = "Rungs that you come back to. For once, Prepare takes them typed in.";
            break;
        case SettingsPart::substances:
            view.kind = OwnKind::substance;
            view.adds = "Add a substance";
            view.explains = "What is not shipped, with what it is bought as.";
            break;
    }
    if (!app.person) view.adds.clear();  // nobody to keep it with
    if (app.own_form && app.own_form->kind == view.kind)
        view.form = own_form_view(app);
    else
        view.list = own_list(app, view.kind);
}

}  // namespace

SettingsView settings_view(const App& app) {
    SettingsView view;
    view.part = app.settings_part;
    for (const auto& [part, label] : {std::pair{SettingsPart::window, "This machine"},
                                      std::pair{SettingsPart::equipment, "Own equipment"},
                                      std::pair{SettingsPart::ladders, "Own ladders"},
                                      std::pair{SettingsPart::substances, "Own substances"}})
        view.parts.push_back(choice(label, view.part == part));
    if (view.part == SettingsPart::window) view.window = window_view(app);
    show_own(view, app);
    return view;
}

}  // namespace sipladder::gui
