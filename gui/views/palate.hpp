#pragma once

#include "engine/chart/chart.hpp"
#include "gui/app/app.hpp"
#include "gui/views/shown.hpp"

#include <optional>
#include <string>
#include <vector>

namespace sipladder::gui {

struct PalateRowView {
    std::string title;  ///< "sucrose in still water"
    solution::Component component{};
    chart::Chart ridge;
    Shown number;
    std::string reported;  ///< "papers report 0.9 to 8 g/L, methods differ", or that none was found
    std::string age;       ///< "12 days ago"
};

struct LevelRow {
    std::string level;
    std::string right;
    std::string mixed_within;
};

/// One row opened.
struct PalateDetailView {
    std::string title;
    solution::Component component{};
    Shown number;
    chart::Chart curve;
    std::vector<LevelRow> levels;
    std::vector<Shown> facts;  ///< prior and flat fit, mixing share, blinding, date
    std::vector<std::string> warnings;
};

struct PalateView {
    std::vector<PalateRowView> rows;
    std::optional<PalateDetailView> open;
    std::string foot;
};

PalateView palate_view(const App& app);

}  // namespace sipladder::gui
