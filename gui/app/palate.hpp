#pragma once

#include "drills/palate.hpp"
#include "drills/palate_detail.hpp"
#include "drills/palate_next.hpp"
#include "gui/app/fit_job.hpp"
#include "gui/app/history.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace sipladder::gui {

struct App;

/// What all done drills of a person told when they were last looked at. A drill that is left open is no part
/// of it.
struct PalateFound {
    Uuid person;
    std::shared_ptr<const History> history;  ///< `tasted` points into it
    std::vector<drills::Tasted> tasted;
    drills::Palate palate;
    std::string date;  ///< of today: what comes next depends on it
    std::vector<drills::NextDrill> next;
};

/// A row that is opened.
struct PalateOpened {
    std::shared_ptr<const PalateFound> found;  ///< the row is of this
    drills::PalateQuestion question{};
    std::size_t row{};
    drills::PalateDetail detail;
};

/// Fits anew if the history is another one (another person is there, or something was written), opens the row
/// that is asked for, and says what comes next. Done when the place is looked at and not for every frame. A
/// long record is asked for (App::palate_awaited), and what was found before stays until it is there.
void look_at_palate(App& app);

/// Reads and fits, for any thread.
/// @param stop  once it asks for that, what comes back is not whole and of no use
/// @throws Refused naming the row that cannot be read
PalateFound palate_of(const FitJob& job, const std::stop_token& stop = {});

/// Of the open row the substance, base and scale that a goal can be set for; nothing: none can.
struct GoalOf {
    std::string substance;  ///< id
    std::string base_name;
    Scale scale{};
};
std::optional<GoalOf> goal_of_open_row(const App& app);

/// What would fill a tab, and what Prepare is to be set to for it.
struct PalateOffer {
    std::string text;       ///< which drill, in one sentence
    std::string label;      ///< of the button
    std::string drill;      ///< id of an offer, where it is one drill
    std::string programme;  ///< id in content, where it is a ready-made sitting
};
PalateOffer offer_for(drills::PalateQuestion question);

}  // namespace sipladder::gui
