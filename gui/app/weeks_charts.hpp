#pragma once

#include "engine/chart/chart.hpp"
#include "gui/app/handlers.hpp"
#include "gui/app/weeks.hpp"

#include <cstddef>
#include <optional>
#include <string>

/// The charts of Weeks, for the window and for files.
namespace sipladder::gui {

std::string title_of(const WeeksEntry& entry);  ///< "sucrose in spring water"
/// On the trend's scale; nothing: none is set.
std::optional<double> goal_of(const App& app, const WeeksEntry& entry);
/// One substance over the weeks of all of them, with its goal and the periods that are compared.
/// @param number  index into the entries of `app.weeks`, which are there
chart::Chart weeks_chart(const App& app, std::size_t number);

/// Keeps every chart, as it is seen, as PDF, PNG and SVG.
/// @throws Refused when there is none, or what was done last is not in it yet
void print_weeks(Next& next);

}  // namespace sipladder::gui
