#pragma once

#include "engine/solution/equipment.hpp"
#include "engine/solution/substance.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// Small parts that several views are made of.
namespace sipladder::gui {

/// A number (or words with one) as engine/text made it, and where it came from; the second is shown on hover.
struct Shown {
    std::string text;
    std::string whence;

    bool operator==(const Shown&) const = default;
};

/// One of several, of which exactly one is chosen.
struct Choice {
    std::string label;
    bool is_chosen = false;
    std::string note;                              ///< shown on hover; may be empty
    std::optional<solution::Component> component;  ///< its mark, if it is about a sensation

    bool operator==(const Choice&) const = default;
};

/// A text field with what is wrong with it.
struct Field {
    std::string text;
    std::string unit;
    std::string problem;  ///< empty: nothing

    bool operator==(const Field&) const = default;
};

/// What an equipment holds: "pocket scale, 0.01 g; syringe, 5 mL".
inline std::string instruments_text(const solution::Equipment& equipment) {
    std::string text;
    const auto add = [&](const std::string& name) { text.append(text.empty() ? "" : "; ").append(name); };
    for (const solution::Balance& balance : equipment.balances) add(balance.name);
    for (const solution::Vessel& vessel : equipment.vessels) add(vessel.name);
    return text;
}

}  // namespace sipladder::gui
