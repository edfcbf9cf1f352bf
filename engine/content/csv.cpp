#include "engine/content/csv.hpp"

#include "engine/content/json_file.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace sipladder::content {

namespace {

/// Splits a text into records, one character at a time; knows the line it is on.
class Reader {
  public:
    Reader(std::string_view text, const std::string& file, std::vector<Problem>& problems)
        : text_(text), file_(file), problems_(problems) {}

    std::vector<Table::Row> records() {
        std::vector<Table::Row> all;
        while (at_ < text_.size()) {
            if (text_[at_] == '#') {
                skip_line();
                continue;
            }
            Table::Row row = record();
            if (row.cells.size() > 1 || !row.cells.front().empty()) all.push_back(std::move(row));
        }
        return all;
    }

  private:
    bool at_line_end() const {
        return at_ >= text_.size() || text_[at_] == '\n' ||
               (text_[at_] == '\r' && (at_ + 1 >= text_.size() || text_[at_ + 1] == '\n'));
    }

    void skip_line() {
        while (!at_line_end()) ++at_;
        end_line();
    }

    void end_line() {
        if (at_ < text_.size() && text_[at_] == '\r') ++at_;
        if (at_ < text_.size()) ++at_;
        ++line_;
    }

    void note(std::string what, std::string right) {
        problems_.push_back({file_ + ": line " + std::to_string(line_), std::move(what), std::move(right)});
    }

    Table::Row record() {
        Table::Row row{line_, {}};
        while (true) {
            row.cells.push_back(at_ < text_.size() && text_[at_] == '"' ? quoted() : plain());
            if (at_ < text_.size() && text_[at_] == ',') {
                ++at_;
                continue;
            }
            end_line();
            return row;
        }
    }

    std::string plain() {
        std::string cell;
        while (!at_line_end() && text_[at_] != ',') {
            if (text_[at_] == '"' && cell.find('"') == std::string::npos)
                note("has a quote inside a cell", "put the whole cell in quotes and double the one inside");
            cell += text_[at_++];
        }
        return std::string(trimmed(cell));
    }

    std::string quoted() {
        std::string cell;
        const std::size_t opened = line_;
        for (++at_; at_ < text_.size(); ++at_) {
            if (text_[at_] == '"') {
                if (at_ + 1 < text_.size() && text_[at_ + 1] == '"')
                    ++at_;
                else
                    return closed(std::move(cell));
            }
            if (text_[at_] == '\n') ++line_;
            cell += text_[at_];
        }
        line_ = opened;
        note("opens a quote that is never closed", "close it with \"");
        return cell;
    }

    std::string closed(std::string cell) {
        ++at_;
        if (at_line_end() || text_[at_] == ',') return cell;
        note("goes on after a closing quote", "a comma or the end of the line is wanted");
        while (!at_line_end() && text_[at_] != ',') ++at_;
        return cell;
    }

    std::string_view text_;
    const std::string& file_;
    std::vector<Problem>& problems_;
    std::size_t at_ = 0;
    std::size_t line_ = 1;
};

/// Length of the UTF-8 character that starts here (RFC 3629), or 0 if none does.
std::size_t utf8_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return static_cast<unsigned>(static_cast<unsigned char>(text[i]));
    };
    const unsigned first = byte(at);
    if (first < 0x80u) return 1;
    const std::size_t length = first >= 0xF0u ? 4 : first >= 0xE0u ? 3 : 2;
    if (first < 0xC2u || first > 0xF4u || at + length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((byte(at + i) & 0xC0u) != 0x80u) return 0;
    const unsigned second = byte(at + 1);
    const bool overlong = (first == 0xE0u && second < 0xA0u) || (first == 0xF0u && second < 0x90u);
    const bool surrogate_or_beyond = (first == 0xEDu && second > 0x9Fu) || (first == 0xF4u && second > 0x8Fu);
    return overlong || surrogate_or_beyond ? 0 : length;
}

void check_text(std::string_view text, const std::string& file) {
    if (text.size() > largest_file_bytes)
        throw Refused(file, "is " + std::to_string(text.size()) + " bytes long",
                      "at most " + std::to_string(largest_file_bytes) + " are read");
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = text[at] == '\0' ? 0 : utf8_length(text, at);
        if (length == 0)
            throw Refused(file + ": " + line_and_column(text, at), "is no UTF-8 text",
                          "save the file as CSV in UTF-8");
        at += length;
    }
}

void check_heading(const Table& table, std::size_t line, std::vector<Problem>& problems) {
    const std::string where = table.file + ": line " + std::to_string(line);
    std::set<std::string> seen;
    for (std::size_t i = 0; i < table.heading.size(); ++i) {
        const std::string& name = table.heading[i];
        if (name.empty())
            problems.push_back(
                {where, "has no name for column " + std::to_string(i + 1), "name every column"});
        else if (!seen.insert(name).second)
            problems.push_back({where, "names the column \"" + name + "\" twice", "name each column once"});
    }
}

void check_cells(const Table& table, std::vector<Problem>& problems) {
    for (const Table::Row& row : table.rows)
        if (row.cells.size() != table.heading.size())
            problems.push_back({table.file + ": line " + std::to_string(row.line),
                                "has " + std::to_string(row.cells.size()) + " cells",
                                "the heading has " + std::to_string(table.heading.size()) +
                                    "; a decimal comma splits a cell, so write decimal points"});
}

}  // namespace

std::optional<std::size_t> Table::column(std::string_view name) const {
    const auto found = std::find(heading.begin(), heading.end(), name);
    if (found == heading.end()) return std::nullopt;
    return static_cast<std::size_t>(found - heading.begin());
}

Table read_csv(std::string_view text, const std::string& file) {
    check_text(text, file);
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // spreadsheets put a byte order mark first
    std::vector<Problem> problems;
    Table table{file, {}, Reader(text, file, problems).records()};
    if (table.rows.empty()) {
        problems.push_back({file, "holds no row", "a heading row and rows beneath it are wanted"});
    } else {
        table.heading = std::move(table.rows.front().cells);
        check_heading(table, table.rows.front().line, problems);
        table.rows.erase(table.rows.begin());
        check_cells(table, problems);
    }
    if (!problems.empty()) throw Refused(std::move(problems));
    return table;
}

std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
    std::string quoted(1, '"');
    for (const char c : text) {
        if (c == '"') quoted.push_back('"');
        quoted.push_back(c);
    }
    quoted.push_back('"');
    return quoted;
}

std::string where_in(const Table& table, const Table::Row& row, std::size_t column) {
    SIPLADDER_EXPECT(column < table.heading.size());
    return table.file + ": line " + std::to_string(row.line) + ", " + table.heading[column];
}

std::optional<double> number_in(const Table& table, const Table::Row& row, std::size_t column, double lo,
                                double hi, std::vector<Problem>& problems) {
    SIPLADDER_EXPECT(column < row.cells.size());
    const std::string& cell = row.cells[column];
    const std::optional<double> value = number_from_file(cell);
    if (value && *value >= lo && *value <= hi) return value;
    const std::string found = cell.empty() ? "is empty" : "is \"" + cell + "\"";
    if (value)
        problems.push_back({where_in(table, row, column), found,
                            "a number from " + exact(lo) + " to " + exact(hi) + " is wanted"});
    else if (cell.find(',') != std::string::npos && number_from_typed(cell))
        problems.push_back(
            {where_in(table, row, column), found + ", with a decimal comma", "write a decimal point"});
    else
        problems.push_back({where_in(table, row, column), found, "a number is wanted"});
    return std::nullopt;
}

std::optional<long> integer_in(const Table& table, const Table::Row& row, std::size_t column, long lo,
                               long hi, std::vector<Problem>& problems) {
    const auto value =
        number_in(table, row, column, static_cast<double>(lo), static_cast<double>(hi), problems);
    if (!value) return std::nullopt;
    if (*value == std::floor(*value)) return static_cast<long>(*value);
    problems.push_back(
        {where_in(table, row, column), "is \"" + row.cells[column] + "\"", "a whole number is wanted"});
    return std::nullopt;
}

void only_columns(const Table& table, const std::vector<std::string>& names, std::vector<Problem>& problems) {
    for (const std::string& name : table.heading)
        if (std::find(names.begin(), names.end(), name) == names.end())
            problems.push_back({table.file + ": heading", "has the unknown column \"" + name + "\"",
                                name.find(';') == std::string::npos
                                    ? "check the spelling"
                                    : "set columns apart by commas, not by semicolons"});
}

std::optional<std::size_t> wanted_column(const Table& table, std::string_view name,
                                         std::vector<Problem>& problems) {
    const auto found = table.column(name);
    if (!found)
        problems.push_back(
            {table.file + ": heading", "has no column \"" + std::string(name) + "\"", "give it one"});
    return found;
}

}  // namespace sipladder::content
