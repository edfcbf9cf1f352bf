#include "engine/chart/confusion_table.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>

namespace sipladder::chart {

namespace {

constexpr double field_gap = 0.04;  // of a field, between fields
constexpr double deepest = 0.55;    // black words stay readable on it

Line frame_of(double x, double y, Dash dash) {
    Line line;
    line.points = {{x + field_gap, y + field_gap},
                   {x + 1.0 - field_gap, y + field_gap},
                   {x + 1.0 - field_gap, y + 1.0 - field_gap},
                   {x + field_gap, y + 1.0 - field_gap},
                   {x + field_gap, y + field_gap}};
    line.ink = Ink::muted;
    line.width = 0.8;
    line.dash = dash;
    return line;
}

}  // namespace

Chart confusion_table(const ConfusionTable& data) {
    SIPLADDER_EXPECT(!data.rows.empty() && data.counts.size() == data.rows.size() &&
                     data.inks.size() == data.rows.size());
    const std::size_t rows = data.rows.size();
    Chart chart;
    chart.title = data.title;
    chart.y_title = data.y_title;
    chart.note = data.note;
    chart.x.to = static_cast<double>(data.columns.size());
    chart.y.to = static_cast<double>(rows);
    for (std::size_t column = 0; column < data.columns.size(); ++column)
        chart.x.ticks.push_back({static_cast<double>(column) + 0.5, data.columns[column]});
    for (std::size_t row = rows; row-- > 0;)
        chart.y.ticks.push_back({static_cast<double>(rows - 1 - row) + 0.5, data.rows[row]});
    for (std::size_t row = 0; row < rows; ++row) {
        std::size_t sum = 0;
        for (const std::size_t one : data.counts[row]) sum += one;
        const double y = static_cast<double>(rows - 1 - row);
        for (std::size_t column = 0; column < data.counts[row].size(); ++column) {
            const double x = static_cast<double>(column);
            const std::size_t count = data.counts[row][column];
            if (count > 0) {
                Band field;
                field.x = {x + field_gap, x + 1.0 - field_gap};
                field.lower = {y + field_gap, y + field_gap};
                field.upper = {y + 1.0 - field_gap, y + 1.0 - field_gap};
                field.ink = data.inks[row];
                field.hover = data.rows[row] + ", called " + data.columns[column] + ": " +
                              std::to_string(count) + " of " + std::to_string(sum);
                field.opacity = deepest * static_cast<double>(count) / static_cast<double>(sum);
                chart.marks.emplace_back(std::move(field));
                Text text;
                text.at = {x + 0.5, y + 0.5};
                text.text = std::to_string(count);
                text.anchor = Anchor::centre;
                text.size = TextSize::normal;
                chart.marks.emplace_back(std::move(text));
            }
            const bool is_overlap = std::find(data.known_overlaps.begin(), data.known_overlaps.end(),
                                              std::pair(row, column)) != data.known_overlaps.end();
            if (row == column || is_overlap)
                chart.marks.emplace_back(frame_of(x, y, is_overlap ? Dash::dashed : Dash::solid));
        }
    }
    return chart;
}

double confusion_table_lines(std::size_t rows) {
    constexpr double frame = 8.0;  // title, axis, note
    constexpr double row = 2.4;
    return frame + row * static_cast<double>(rows);
}

}  // namespace sipladder::chart
