#pragma once

#include "engine/chart/seen.hpp"

#include <cstddef>
#include <map>
#include <memory>
#include <optional>

/// Which part of its charts a person looks at, in Weeks and in an opened row of the Palate. No part of the
/// journal: where the charts are other ones, all of them is seen again.
namespace sipladder::gui {

struct App;
struct PalateOpened;
struct Weeks;
struct WeeksView;

struct ChartsSeen {
    std::shared_ptr<const Weeks> weeks_of;
    std::optional<chart::Seen> weeks;  ///< of all charts there, which have one axis of time; nothing: all
    std::shared_ptr<const PalateOpened> row_of;
    std::map<std::size_t, chart::Seen> pictures;  ///< of the row, by their place; what is not there: all

    /// The charts of Weeks as they were seen last, and what they are parts of; the view's own.
    mutable std::shared_ptr<const WeeksView> shown = {};
    mutable std::shared_ptr<const WeeksView> shown_of = {};
    mutable std::optional<chart::Seen> shown_part = {};
};

/// What is seen of the charts in Weeks; nothing: all.
std::optional<chart::Seen> weeks_seen(const App& app);
/// The same of one picture of the row that is open.
std::optional<chart::Seen> picture_seen(const App& app, std::size_t picture);

}  // namespace sipladder::gui
