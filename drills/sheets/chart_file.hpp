#pragma once

#include "drills/sheets/paper.hpp"
#include "engine/chart/chart.hpp"
#include "engine/chart/dilution_tree.hpp"
#include "engine/instant.hpp"

#include <filesystem>
#include <string>

/// Charts as files. Each is written beside its name and renamed; all throw Failed when that cannot be done.
namespace sipladder::drills::sheets {

/// In points; 1 pt is 1 px of a PNG at `pixels_per_pt` 1.
struct ChartSize {
    double width_pt = 520.0;
    double height_pt = 340.0;
    double pixels_per_pt = 2.0;  ///< PNG only, 1 to 8
};

void write_chart_png(const chart::Chart& chart, const ChartSize& size, const std::filesystem::path& path);
void write_chart_svg(const chart::Chart& chart, const ChartSize& size, const std::filesystem::path& path);
/// @param made  the moment that the file states as its own
void write_chart_pdf(const chart::Chart& chart, const ChartSize& size, const Instant& made,
                     const std::filesystem::path& path);
/// A whole page of this paper with the chart in its upper part, as a printer wants it.
void write_chart_page(const chart::Chart& chart, Paper paper, const Instant& made,
                      const std::filesystem::path& path);

void write_tree_png(const chart::DilutionTree& tree, const ChartSize& size,
                    const std::filesystem::path& path);
void write_tree_svg(const chart::DilutionTree& tree, const ChartSize& size,
                    const std::filesystem::path& path);
void write_tree_pdf(const chart::DilutionTree& tree, const ChartSize& size, const Instant& made,
                    const std::filesystem::path& path);

}  // namespace sipladder::drills::sheets
