#pragma once

#include "engine/chart/chart.hpp"
#include "engine/chart/dilution_tree.hpp"
#include "engine/chart/seen.hpp"
#include "gui/theme/theme.hpp"
#include "gui/views/shown.hpp"

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

/// The few things that screens are made of. They draw and tell what was done to them; they keep nothing.
namespace sipladder::gui {

/// About 80 characters, or what there is.
float reading_width(const Theme& theme);
void heading(const Theme& theme, const std::string& text);
void section(const Theme& theme, const std::string& text);
void paragraph(const Theme& theme, const std::string& text);
void large_paragraph(const Theme& theme, const std::string& text, float most_ems = 58.0F);
void emphasis(const Theme& theme, const std::string& text);  ///< what must not be overlooked
void faint(const Theme& theme, const std::string& text);
/// As wide as its column.
void cell_text(const Theme& theme, const std::string& text, bool is_faint = false);
void caution(const Theme& theme, const std::string& text);  ///< with the caution sign
void shown(const Theme& theme, const Shown& number);        ///< hovering tells where it came from
void gap(const Theme& theme, float ems);
/// A line across what is read, no further.
void rule(const Theme& theme, float most_ems = 58.0F);

/// The thing to do next: clicked, chosen by keyboard, or Ctrl+Enter. One a screen.
bool primary(const Theme& theme, const std::string& label, bool enabled = true,
             const std::string& key = "Ctrl+Enter");
bool quiet(const Theme& theme, const std::string& label, const std::string& key = {});
/// Keeps the next button on the line if it fits there with the room that its key needs.
void beside(const Theme& theme, const std::string& label, float key_ems = 4.0F);
bool tick(const Theme& theme, const std::string& label, bool is_on);
/// One of several as a row of words that wraps; the index of the one that was chosen now.
/// @param takes_focus  now: the chosen one, or the first
std::optional<std::size_t> choose(const Theme& theme, const char* id, const std::vector<Choice>& choices,
                                  bool takes_focus = false);
/// The same one below the other, each with what it is for on its line.
std::optional<std::size_t> choose_line(const Theme& theme, const char* id,
                                       const std::vector<Choice>& choices);
/// The parts of a place: a row of words, the index of the one that was chosen now; F6 takes the one before,
/// F7 the one after.
std::optional<std::size_t> choose_part(const Theme& theme, const std::vector<Choice>& parts);
/// A new screen does not begin with what is drawn between these, unless there is nothing else.
void begin_passed_over();
void end_passed_over();
/// What the field holds after an edit.
/// @param takes_focus  now; Enter or typing is still the person's
std::optional<std::string> field(const Theme& theme, const char* id, const Field& field, float width_em,
                                 bool takes_focus = false);
/// The same with its problem marked and not told, for a line of several; nor its unit.
std::optional<std::string> bare_field(const Theme& theme, const char* id, const Field& field, float width_em,
                                      bool takes_focus = false);
/// Scrolls until what was drawn between these heights of the window is seen; its top, where it is higher.
void bring_into_view(float top, float bottom);

void tooltip(const Theme& theme, const std::string& text);
/// A faint word before a field of this width; the field stays on its line where there is room for both.
void word_before(const Theme& theme, const std::string& text, float width_em);
/// As much of a text as this width holds, with an ellipsis where it is cut.
std::string elided(const std::string& text, float width);
/// Label at the left where there is room, above where there is not; everything until end_row belongs to it.
void begin_row(const Theme& theme, const std::string& label);
void end_row();

/// The mark of a component at the cursor, one line high.
void mark(const Theme& theme, solution::Component component);
/// The same at a place, taking up no room.
void mark_at(const Theme& theme, solution::Component component, ImVec2 at);
void caution_sign(ImDrawList& list, ImVec2 top_left, float size, ImU32 colour);
/// A ring of which a part is left.
void countdown_ring(const Theme& theme, double share, const std::string& text);
/// A chart with the words of its marks on hover; by keyboard, Space walks through them.
void draw_chart(const Theme& theme, const char* id, const chart::Chart& chart, float width, float height);

/// A chart of which a part can be looked at: nearer and farther with the wheel, or + and -; along its axis
/// by pulling it, or with Q and W; 0 shows all again. Its keys stand below it.
/// @param chart  as it is seen
/// @param whole  its x axis
/// @return       what is to be seen from now on
std::optional<chart::Seen> draw_seen_chart(const Theme& theme, const char* id, const chart::Chart& chart,
                                           const chart::Axis& whole, float width, float height);

/// Where the mouse is on the axes of a chart.
struct Pointed {
    chart::Point at;
    bool is_clicked = false;
};
/// A chart (both axes linear) on which places are pointed at; nothing while the mouse is elsewhere. By
/// keyboard, Space walks through the words of its marks.
std::optional<Pointed> draw_pointed_chart(const Theme& theme, const char* id, const chart::Chart& chart,
                                          float width, float height);
void draw_tree(const Theme& theme, const char* id, const chart::DilutionTree& tree, float width);

/// An end of a ladder that is being pulled.
struct Pulled {
    bool is_highest = false;
    double to{};
};
/// A ladder on its axis: either end is pulled with the mouse, or with keys while the strip has the focus (Q
/// and W the weakest rung, O and P the strongest).
/// @param ends  the weakest and the strongest rung
std::optional<Pulled> draw_strip(const Theme& theme, const chart::Chart& chart,
                                 const std::vector<double>& ends, float width, float height);

}  // namespace sipladder::gui
