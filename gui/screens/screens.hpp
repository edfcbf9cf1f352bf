#pragma once

#include "gui/app/intent.hpp"
#include "gui/theme/theme.hpp"
#include "gui/views/frame.hpp"
#include "gui/views/waits.hpp"

#include <optional>

/// Every screen is a function of its view: it draws, and gives back what the person wants.
namespace sipladder::gui {

/// What is not yet a value; losing it loses nothing.
struct Edit {
    int screen = -1;             ///< which was drawn last, to put the focus right on a new one
    bool is_new = false;         ///< the present screen has just come
    float notice_height = 1.0F;  ///< of the notice as last drawn, pixels; it is known once it is drawn
    bool by_keys = true;         ///< the hands were on the keyboard last: where the focus is shows at once
};

std::optional<Intent> draw_frame(const FrameView& view, const Theme& theme, Edit& edit);

/// What stands in the window until the record is read.
void draw_opening(const Theme& theme);
std::optional<Intent> draw_first_start(const Theme& theme);
std::optional<Intent> draw_people(const PeopleView& view, const Theme& theme, const Edit& edit);
std::optional<Intent> draw_cautions(const CautionsView& view, const Theme& theme);
std::optional<Intent> draw_settings(const SettingsView& view, const Theme& theme, const Edit& edit);
std::optional<Intent> draw_prepare(const PrepareView& view, const Theme& theme);
std::optional<Intent> draw_taste_start(const TasteStartView& view, const Theme& theme);
std::optional<Intent> draw_drill(const DrillView& view, const Theme& theme);
std::optional<Intent> draw_finding(const FindingView& view, const Theme& theme);
std::optional<Intent> draw_palate(const PalateView& view, const Theme& theme);
std::optional<Intent> draw_weeks(const WeeksView& view, const Theme& theme);
std::optional<Intent> draw_classroom(const ClassroomView& view, const Theme& theme, const Edit& edit);
std::optional<Intent> draw_class_entry(const ClassEntryView& view, const Theme& theme);
std::optional<Intent> draw_class_results(const ClassResultsView& view, const Theme& theme);
std::optional<Intent> draw_handbook(const HandbookView& view, const Theme& theme);
std::optional<Intent> draw_records(const RecordsView& view, const Theme& theme);
void draw_waits(const Waits& view, const Theme& theme);
void draw_help(const HelpView& view, const Theme& theme);

}  // namespace sipladder::gui
