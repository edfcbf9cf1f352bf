#pragma once

#include "engine/content/own.hpp"
#include "engine/uuid.hpp"
#include "engine/volume.hpp"
#include "gui/app/bench.hpp"
#include "gui/app/own_form.hpp"

#include <string>

/// What a person wants in Settings, beside look, size and paper.
namespace sipladder::gui {

struct SetVolumeUnit {
    VolumeUnit unit{};
};
struct SetUsualPours {
    Pours pours{};
};
struct TypeUsualCup {  ///< mL
    std::string text;
};
struct SetUsualKitchen {
    std::string id;
};

enum class SettingsPart;
struct ShowSettings {  ///< opened, at this part
    SettingsPart part{};
};
struct BeginOwn {  ///< a blank form
    content::OwnKind kind{};
};
struct ChangeOwn {  ///< a kept thing in its form
    Uuid fact;
};
struct TypeOwn {
    OwnPlace place;
    std::string text;
};
struct AddOwnTool {  ///< balances or vessels
    OwnList list{};
};
struct RemoveOwnTool {
    OwnList list{};
    std::size_t index{};
};
struct KeepOwn {};
struct LeaveOwn {};  ///< the form is thrown away

}  // namespace sipladder::gui
