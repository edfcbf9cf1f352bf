#pragma once

#include "engine/chart/chart.hpp"
#include "engine/content/handbook.hpp"
#include "gui/views/shown.hpp"

#include <map>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// One chapter, and the list of all.
struct HandbookView {
    std::vector<Choice> chapters;
    std::string title;
    std::vector<content::Block> blocks;
    std::map<std::string, chart::Chart> figures;
    std::vector<std::string> sources;  ///< "[1] Authors (year). Title. Where. How sure"

    static constexpr std::size_t most_keys = 9;  ///< chapters that a digit opens
};

HandbookView handbook_view(const App& app);

}  // namespace sipladder::gui
