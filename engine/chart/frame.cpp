// Rows first, then columns. Title, y title, tick row and note take their rows from the area; what is left is
// the height of the plot, which settles the y labels and with them the left margin. The x labels depend on
// the width of the plot and the width on how far the outermost x labels hang over, so that part is repeated
// until it holds; the margins only ever grow, so it ends.
#include "engine/chart/frame.hpp"

#include "engine/chart/ticks.hpp"
#include "engine/chart/words.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace sipladder::chart {

namespace {

// Lengths in units of the small text's height.
constexpr double tick_gap = 0.55;    // from axis to label
constexpr double label_space = 0.9;  // least room between two labels of one axis
constexpr double unit_space = 0.35;  // from the last label to the unit
constexpr double row_space = 0.25;   // between rows of text
constexpr double least_plot = 3.2;   // the plot's height before title, y title or note give way

struct Rows {
    double top{};
    double bottom{};
    std::vector<PlacedText> texts;
};

void add_lines(Rows& rows, const std::vector<std::string>& lines, Rect area, TextStyle style, double space,
               const Painter& painter) {
    for (const std::string& line : lines) {
        rows.texts.push_back(placed(line, {area.x, rows.top}, style, painter));
        rows.top += painter.text_height(style.size);
    }
    rows.top += space;
}

/// The title on one line if a smaller size makes that possible, else on two; too long for that, it ends in
/// "…".
void add_title(Rows& rows, const Chart& chart, Rect area, double room, double em, const Painter& painter) {
    if (chart.title.empty()) return;
    for (const std::size_t most : {std::size_t{1}, std::size_t{2}}) {
        for (const TextSize size : {TextSize::title, TextSize::normal, TextSize::small}) {
            const double height = painter.text_height(size) * static_cast<double>(most);
            const auto lines = broken(chart.title, area.width, size, painter, most);
            const double two = 2.0 * painter.text_height(TextSize::small);
            const bool is_last = size == TextSize::small && (most == 2 || room < two);
            if (height > room || (lines.back().ends_with("…") && !is_last)) continue;
            return add_lines(rows, lines, area, {size, Anchor::left, Ink::text}, row_space * em, painter);
        }
    }
}

/// The note at the foot, whole or not at all.
void add_note(Rows& rows, const Chart& chart, Rect area, double em, const Painter& painter) {
    constexpr std::size_t most = 3;
    constexpr double space = 0.4;
    if (chart.note.empty()) return;
    const auto lines = broken(chart.note, area.width, TextSize::small, painter, most);
    const double height = em * static_cast<double>(lines.size());
    if (rows.bottom - rows.top - least_plot * em < height + space * em || lines.back().ends_with("…")) return;
    double y = area.bottom() - height;
    for (const std::string& line : lines) {
        rows.texts.push_back(placed(line, {area.x, y}, {TextSize::small, Anchor::left, Ink::muted}, painter));
        y += em;
    }
    rows.bottom -= height + space * em;
}

Rows rows_of(const Chart& chart, Rect area, double em, const Painter& painter) {
    Rows rows{area.y, area.bottom(), {}};
    const double least = least_plot * em;
    if (chart.x.shown) rows.bottom -= em * (1.0 + tick_gap);
    add_title(rows, chart, area, rows.bottom - rows.top - least, em, painter);
    add_note(rows, chart, area, em, painter);
    if (!chart.y_title.empty() && rows.bottom - rows.top - least >= em * (1.0 + row_space))
        add_lines(rows, broken(chart.y_title, area.width, TextSize::small, painter, 1), area,
                  {TextSize::small, Anchor::left, Ink::muted}, row_space * em, painter);
    if (!chart.x.shown) rows.bottom = std::max(rows.bottom, rows.top);
    return rows;
}

/// The densest choice whose labels keep their distance along the axis, and the labels as placed.
struct Labels {
    std::vector<Tick> ticks;
    std::vector<PlacedText> texts;
};

Labels y_labels(const Axis& axis, double top, double height, double right, double em,
                const Painter& painter) {
    for (const std::vector<Tick>& ticks : tick_choices(axis)) {
        Labels labels{ticks, {}};
        double before = top + height + 2.0 * em;
        bool fits = true;
        for (std::size_t i = 0; i < ticks.size(); ++i) {
            const double y = top + height * (1.0 - share_along(axis, ticks[i].at));
            const bool is_last = i + 1 == ticks.size();
            const std::string label = ticks[i].label + (is_last && !axis.unit.empty() ? " " + axis.unit : "");
            labels.texts.push_back(
                placed(label, {right, y - 0.5 * em}, {TextSize::small, Anchor::right, Ink::muted}, painter));
            fits = fits && before - y >= 1.1 * em;
            before = y;
        }
        if (fits) return labels;
    }
    return {};
}

Labels x_labels(const Axis& axis, Rect plot, double em, const Painter& painter) {
    const TextStyle style{TextSize::small, Anchor::centre, Ink::muted};
    for (const std::vector<Tick>& ticks : tick_choices(axis)) {
        Labels labels{ticks, {}};
        bool fits = true;
        for (const Tick& tick : ticks) {
            const double x = plot.x + plot.width * share_along(axis, tick.at);
            PlacedText text = placed(tick.label, {x, plot.bottom() + tick_gap * em}, style, painter);
            if (!labels.texts.empty())
                fits = fits && text.box.x - labels.texts.back().box.right() >= label_space * em;
            labels.texts.push_back(std::move(text));
        }
        if (!fits) continue;
        if (!axis.unit.empty() && !labels.texts.empty()) {
            const Rect last = labels.texts.back().box;
            labels.texts.push_back(placed(axis.unit, {last.right() + unit_space * em, last.y},
                                          {TextSize::small, Anchor::left, Ink::muted}, painter));
        }
        return labels;
    }
    return {};
}

/// Narrows the plot until no x label hangs out of the area.
Labels settle_columns(const Chart& chart, Rect area, double em, Rect& plot, const Painter& painter) {
    if (!chart.x.shown) return {};
    constexpr int most_rounds = 8;
    Labels labels;
    for (int round = 0; round < most_rounds; ++round) {
        labels = x_labels(chart.x, plot, em, painter);
        if (labels.texts.empty()) return {};
        const double left_over = std::max(0.0, area.x - labels.texts.front().box.x);
        const double right_over = std::max(0.0, labels.texts.back().box.right() - area.right());
        if (left_over + right_over <= 0.0) return labels;
        // A little more than is needed, so that it ends.
        const double more_left = left_over > 0.0 ? left_over + 0.05 * em : 0.0;
        const double more_right = right_over > 0.0 ? right_over + 0.05 * em : 0.0;
        plot.x += more_left;
        plot.width = std::max(em, plot.width - more_left - more_right);
    }
    std::erase_if(labels.texts, [&](const PlacedText& text) {
        return text.box.x < area.x || text.box.right() > area.right();
    });
    return labels;
}

}  // namespace

PlacedText placed(std::string text, Point at, TextStyle style, const Painter& painter) {
    const double width = painter.text_width(text, style.size);
    const double share = style.anchor == Anchor::left ? 0.0 : style.anchor == Anchor::centre ? 0.5 : 1.0;
    return {std::move(text), {at.x - share * width, at.y, width, painter.text_height(style.size)}, style};
}

double Frame::x(const Axis& axis, double value) const {
    return plot.x + plot.width * share_along(axis, value);
}
double Frame::y(const Axis& axis, double value) const {
    return plot.y + plot.height * (1.0 - share_along(axis, value));
}

namespace {

/// The largest plot of this width over height in the middle of the one that there is.
Rect shaped(Rect plot, double shape) {
    const double width = std::min(plot.width, shape * plot.height);
    const double height = width / shape;
    return {plot.x + 0.5 * (plot.width - width), plot.y + 0.5 * (plot.height - height), width, height};
}

}  // namespace

Frame frame_of(const Chart& chart, Rect area, const Painter& painter) {
    Frame frame;
    frame.em = painter.text_height(TextSize::small);
    const double em = frame.em;
    Rows rows = rows_of(chart, area, em, painter);
    // Half a label stands above the highest tick and below the lowest one.
    if (chart.y.shown) rows.top += 0.5 * em;
    const double bottom = chart.y.shown && !chart.x.shown ? rows.bottom - 0.5 * em : rows.bottom;
    frame.plot = {area.x, rows.top, area.width, std::max(0.0, bottom - rows.top)};
    if (chart.shape > 0.0) frame.plot = shaped(frame.plot, chart.shape);
    frame.texts = std::move(rows.texts);
    Labels y_side;
    if (chart.y.shown) {
        y_side = y_labels(chart.y, frame.plot.y, frame.plot.height, area.x, em, painter);
        double widest = 0.0;
        for (const PlacedText& text : y_side.texts) widest = std::max(widest, text.box.width);
        frame.plot.x += widest + tick_gap * em;
        frame.plot.width = std::max(em, frame.plot.width - widest - tick_gap * em);
    }
    Labels x_side = settle_columns(chart, area, em, frame.plot, painter);
    for (PlacedText& text : y_side.texts) text.box.x = frame.plot.x - tick_gap * em - text.box.width;
    frame.x_ticks = std::move(x_side.ticks);
    frame.y_ticks = std::move(y_side.ticks);
    for (std::vector<PlacedText>* texts : {&y_side.texts, &x_side.texts})
        std::move(texts->begin(), texts->end(), std::back_inserter(frame.texts));
    return frame;
}

}  // namespace sipladder::chart
