#pragma once

#include "engine/problem.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::content {

/// A CSV file with a heading row (RFC 4180: quotes, quotes doubled inside them, line breaks inside them, CRLF
/// or LF). Lines that start with # are notes; blank lines are skipped.
struct Table {
    struct Row {
        std::size_t line{};  ///< in the file, from 1
        std::vector<std::string> cells;
    };
    std::string file;  ///< as problems name it
    std::vector<std::string> heading;
    std::vector<Row> rows;

    /// The index of this column, or nothing.
    std::optional<std::size_t> column(std::string_view name) const;
};

/// @param file  the name that problems give: "answers.csv"
/// @throws Refused  with every problem: no heading, a column without or with a repeated name, a row of
/// another number
///                  of cells, an unclosed or misplaced quote, text that is not UTF-8, over
///                  `largest_file_bytes`
Table read_csv(std::string_view text, const std::string& file);

/// A cell as a file holds it: in quotes where a comma, a quote or a line break would spoil it (RFC 4180).
std::string csv_cell(const std::string& text);

/// "answers.csv: line 3, concentration_g_per_L"
std::string where_in(const Table& table, const Table::Row& row, std::size_t column);

/// The number in a cell, lo to hi; a problem is noted, and nothing given, where it holds none. A decimal
/// comma is refused with the advice to write a point.
std::optional<double> number_in(const Table& table, const Table::Row& row, std::size_t column, double lo,
                                double hi, std::vector<Problem>& problems);
/// The same for a whole number.
std::optional<long> integer_in(const Table& table, const Table::Row& row, std::size_t column, long lo,
                               long hi, std::vector<Problem>& problems);
/// Notes every column of the heading that is not among these.
void only_columns(const Table& table, const std::vector<std::string>& names, std::vector<Problem>& problems);
/// The index of a column that must be there; a problem is noted where it is not.
std::optional<std::size_t> wanted_column(const Table& table, std::string_view name,
                                         std::vector<Problem>& problems);

}  // namespace sipladder::content
