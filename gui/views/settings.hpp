#pragma once

#include "drills/sheets/paper.hpp"
#include "engine/volume.hpp"
#include "gui/app/app.hpp"
#include "gui/views/own_things.hpp"
#include "gui/views/shown.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

/// How the window looks, prints and shows, and what a new form begins with.
struct WindowSettingsView {
    bool dark = false;
    double scale = 1.0;
    drills::sheets::Paper paper{};
    std::vector<Choice> volumes;
    std::vector<VolumeUnit> volume_units;
    std::string volume_note;
    std::vector<Choice> pours;
    std::vector<Pours> pours_kinds;
    Field cup;
    std::string cup_note;
    std::vector<Choice> kitchens;
    std::vector<std::string> kitchen_ids;
    std::string kitchen_note;  ///< what the chosen one holds
    std::string kept;          ///< where these are kept
};

struct SettingsView {
    SettingsPart part{};
    std::vector<Choice> parts;
    std::optional<WindowSettingsView> window;
    content::OwnKind kind{};          ///< of list and form
    std::optional<OwnListView> list;  ///< of one kind of own things
    std::optional<OwnFormView> form;  ///< being filled in, in place of the list
    std::string adds;                 ///< label of the button that begins a form
    std::string explains;
};

SettingsView settings_view(const App& app);

}  // namespace sipladder::gui
