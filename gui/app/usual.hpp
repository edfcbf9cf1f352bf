#pragma once

#include "engine/volume.hpp"
#include "gui/app/bench.hpp"

#include <string>

/// What a new form in Prepare begins with on this machine, and the unit in which volumes are shown; kept with
/// the window's settings, no part of the journal.
namespace sipladder::gui {

struct App;

struct Usual {
    Pours pours = Pours::alone;  ///< alone or helper
    double cup_mL = 10.0;
    std::string kitchen;  ///< id of the equipment; empty, or one that is not there: the first of content
    VolumeUnit volume = VolumeUnit::mL;

    bool operator==(const Usual&) const = default;
};

constexpr double smallest_cup_mL = 2.0;
constexpr double largest_cup_mL = 50.0;

/// With the shipped value wherever one is out of range: a settings file may say anything.
Usual mended(Usual usual);
/// A form as new: what is met first, with what is usual here.
Setup first_setup(const App& app);

}  // namespace sipladder::gui
