#pragma once

#include "engine/chart/chart.hpp"

#include <optional>
#include <string>

namespace sipladder::content {
struct Content;
}

namespace sipladder::gui {

/// A drawn figure of the handbook, by its id: "curve", "class", "weeks". Invented answers through the same
/// fits and charts as everybody's.
/// @return nothing for an unknown id
std::optional<chart::Chart> handbook_figure(const std::string& id, const content::Content& content);

}  // namespace sipladder::gui
