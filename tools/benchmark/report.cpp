#include "tools/benchmark/report.hpp"

#include "engine/text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace sipladder::benchmark {

namespace {

std::string as_text(const Cell& cell) {
    if (!cell || !std::isfinite(cell->value)) return "–";
    const bool large = std::abs(cell->value) >= 10.0;
    const int decimals = large ? 1 : 3;
    if (!(cell->standard_error > 0.0)) return fixed(cell->value, decimals);
    std::string text = fixed(cell->value, decimals);
    return text.append(" (").append(fixed(cell->standard_error, decimals + 1)).append(")");
}

/// Letters as a terminal counts them: bytes that continue a UTF-8 letter take no room.
std::size_t columns_of(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string padded(const std::string& text, std::size_t width, bool to_the_right) {
    const std::string blanks(width > columns_of(text) ? width - columns_of(text) : 0, ' ');
    std::string result = to_the_right ? blanks : text;
    return result.append(to_the_right ? text : blanks);
}

std::string as_text(const Table& table) {
    std::size_t first = 0;
    for (const Row& row : table.rows) first = std::max(first, columns_of(row.name));
    std::vector<std::size_t> widths;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        widths.push_back(columns_of(table.columns[i]));
        for (const Row& row : table.rows)
            if (i < row.cells.size()) widths[i] = std::max(widths[i], columns_of(as_text(row.cells[i])));
    }
    std::string text = table.title;
    text.append("\n").append(first, ' ');
    for (std::size_t i = 0; i < widths.size(); ++i) text += padded(table.columns[i], widths[i] + 2, true);
    text += "\n";
    for (const Row& row : table.rows) {
        text += padded(row.name, first, false);
        for (std::size_t i = 0; i < row.cells.size(); ++i)
            text += padded(as_text(row.cells[i]), widths[i] + 2, true);
        text += "\n";
    }
    if (!table.note.empty()) text += table.note + "\n";
    return text;
}

nlohmann::ordered_json figure_json(const Cell& cell) {
    if (!cell || !std::isfinite(cell->value)) return nullptr;
    return {{"value", cell->value}, {"standard_error", cell->standard_error}};
}

}  // namespace

std::string as_text(const Report& report) {
    std::string text;
    for (const std::string& line : report.lines) text += line + "\n";
    for (const Table& table : report.tables) text += std::string("\n").append(as_text(table));
    if (!report.goals.empty()) text += "\nGoals\n";
    for (const Goal& goal : report.goals) {
        text.append(goal.met ? "  met     " : "  MISSED  ").append(goal.what).append(": ");
        text.append(as_text(Cell(goal.measured))).append("; wanted ").append(goal.wanted).append("\n");
    }
    return text;
}

std::string as_json(const Report& report) {
    nlohmann::ordered_json json;
    json["run"] = report.lines;
    for (const Table& table : report.tables) {
        nlohmann::ordered_json rows = nlohmann::ordered_json::array();
        for (const Row& row : table.rows) {
            nlohmann::ordered_json cells;
            for (std::size_t i = 0; i < row.cells.size(); ++i)
                cells[table.columns[i]] = figure_json(row.cells[i]);
            rows.push_back({{"name", row.name}, {"figures", cells}});
        }
        json["tables"][table.id] = {{"title", table.title}, {"note", table.note}, {"rows", rows}};
    }
    json["goals"] = nlohmann::ordered_json::array();
    for (const Goal& goal : report.goals)
        json["goals"].push_back({{"what", goal.what},
                                 {"wanted", goal.wanted},
                                 {"measured", figure_json(goal.measured)},
                                 {"met", goal.met}});
    return json.dump(2) + "\n";
}

}  // namespace sipladder::benchmark
