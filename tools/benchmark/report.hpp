#pragma once

#include "tools/simulate/figures.hpp"

#include <optional>
#include <string>
#include <vector>

/// What a benchmark says: tables of figures with their standard errors, and goals that they meet or miss.
namespace sipladder::benchmark {

using Cell = std::optional<simulate::Figure>;

struct Row {
    std::string name;
    std::vector<Cell> cells;
};

struct Table {
    std::string id;  ///< key in the JSON
    std::string title;
    std::string note;
    std::vector<std::string> columns;
    std::vector<Row> rows;
};

struct Goal {
    std::string what;
    std::string wanted;
    simulate::Figure measured;
    bool met = false;
};

struct Report {
    std::vector<std::string> lines;  ///< what was run, on what
    std::vector<Table> tables;
    std::vector<Goal> goals;
};

/// As aligned text. A figure stands with its standard error in brackets, in units of its last digit.
std::string as_text(const Report& report);
/// One JSON object: lines, tables (by id; value and standard_error in full precision), goals.
std::string as_json(const Report& report);

}  // namespace sipladder::benchmark
