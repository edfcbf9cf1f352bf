#pragma once

#include "drills/sheets/chart_file.hpp"
#include "engine/chart/chart.hpp"
#include "gui/app/handlers.hpp"

#include <filesystem>
#include <string>

/// What the places print with.
namespace sipladder::gui {

/// A file in the folder of sheets that is not there yet: bench_sheet_sucrose_2026-03-01_1905.pdf. The name
/// tells what it is and when it was made, never a level.
/// @throws Failed when the folder cannot be made
std::filesystem::path file_for(const App& app, const std::string& what, const std::string& ending = ".pdf");
/// The name of who is there, with "(invented)" where that is so.
std::string name_of_person(const App& app);

/// What is said above the files of charts.
constexpr const char* kept_as_files = "Kept as PDF, PNG and SVG:";
/// Keeps a chart as PDF, PNG and SVG; its title is followed by the name of who is there.
/// @param what  as in `file_for`
/// @return where the PDF is
/// @throws Failed when a file cannot be written
std::string keep_chart(const App& app, chart::Chart chart, const std::string& what,
                       const drills::sheets::ChartSize& size = {});

/// What is shown of the Palate: the charts of the row that is open, as PDF, PNG and SVG; else the report of
/// all six questions.
/// @throws Refused when there is nothing yet
void print_palate(Next& next);

}  // namespace sipladder::gui
