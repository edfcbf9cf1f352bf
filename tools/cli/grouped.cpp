#include "tools/cli/grouped.hpp"

#include "drills/sheets/chart_file.hpp"
#include "engine/content/csv.hpp"
#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "tools/cli/answers.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <optional>

namespace sipladder::cli {

namespace {

constexpr long most_answers = 1'000'000;

/// The columns that both kinds of file share.
struct Columns {
    std::size_t concentration{};
    std::size_t correct{};
    std::optional<std::size_t> presentations;
    std::size_t group{};
    Scale scale{};
};

Columns columns_of(const content::Table& table, const std::string& group, std::vector<std::string> names) {
    std::vector<Problem> problems;
    for (const char* shared : {"concentration_g_per_L", "concentration_pct_vol", "presentations", "correct"})
        names.emplace_back(shared);
    names.push_back(group);
    content::only_columns(table, names, problems);
    const auto key = content::wanted_column(table, group, problems);
    const auto concentration = concentration_column(table, problems);
    const auto correct = content::wanted_column(table, "correct", problems);
    if (!problems.empty()) throw Refused(problems);
    return {concentration->column, *correct, table.column("presentations"), *key, concentration->scale};
}

using Pooled = std::map<double, threshold::Counts>;

std::vector<threshold::Counts> in_order(const Pooled& pooled) {
    std::vector<threshold::Counts> counts;
    for (const auto& [level, at] : pooled) counts.push_back(at);
    return counts;
}

/// Adds a row's answers to both; a problem is noted where it holds none.
void add_answers(const content::Table& table, const content::Table::Row& row, const Columns& columns,
                 Pooled& own, Pooled& all, std::vector<Problem>& problems) {
    const auto level =
        content::number_in(table, row, columns.concentration, weakest_level, strongest_level, problems);
    const auto presentations = columns.presentations ? content::integer_in(table, row, *columns.presentations,
                                                                           1, most_answers, problems)
                                                     : std::optional<long>{1};
    const auto correct =
        content::integer_in(table, row, columns.correct, 0, presentations.value_or(most_answers), problems);
    if (!level || !presentations || !correct) return;
    for (Pooled* pooled : {&own, &all}) {
        threshold::Counts& at = (*pooled)[*level];
        at.x_log10 = std::log10(*level);
        at.presentations += static_cast<std::size_t>(*presentations);
        at.correct += static_cast<std::size_t>(*correct);
    }
}

/// Days since 1970 of "2026-03-01" or of a moment in full; nothing, and a problem, for anything else.
std::optional<double> day_of(const content::Table& table, const content::Table::Row& row, std::size_t column,
                             std::vector<Problem>& problems) {
    const std::string& text = row.cells[column];
    const auto is_digit = [&](std::size_t at) { return text[at] >= '0' && text[at] <= '9'; };
    const auto number = [&](std::size_t from, std::size_t count) {
        int value = 0;
        for (std::size_t i = from; i < from + count; ++i) value = 10 * value + (text[i] - '0');
        return value;
    };
    const std::string where = content::where_in(table, row, column);
    if (text.size() > 10) {
        try {
            return static_cast<double>(instant_from_iso8601(text, where).utc_ms) / 86'400'000.0;
        } catch (const Refused& refused) {
            problems.insert(problems.end(), refused.problems().begin(), refused.problems().end());
            return std::nullopt;
        }
    }
    bool is_date = text.size() == 10 && text[4] == '-' && text[7] == '-';
    for (const std::size_t at : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U}) is_date = is_date && is_digit(at);
    if (is_date) {
        const std::chrono::year_month_day date{std::chrono::year{number(0, 4)},
                                               std::chrono::month{static_cast<unsigned>(number(5, 2))},
                                               std::chrono::day{static_cast<unsigned>(number(8, 2))}};
        if (date.ok()) return static_cast<double>(std::chrono::sys_days{date}.time_since_epoch().count());
    }
    problems.push_back({where, "is \"" + text + "\"", "an ISO 8601 date: 2026-03-01"});
    return std::nullopt;
}

/// One day's rows while they are read.
struct Day {
    trend::Sitting sitting;
    Pooled counts;
};

/// A text that all rows of a sitting share.
void share(const content::Table& table, const content::Table::Row& row, const char* name, bool is_new,
           std::string& kept, std::vector<Problem>& problems) {
    const auto column = table.column(name);
    if (!column) return;
    const std::string& text = row.cells[*column];
    if (is_new) kept = text;
    if (kept != text)
        problems.push_back({content::where_in(table, row, *column),
                            "is \"" + text + "\" where the sitting began with \"" + kept + "\"",
                            "one " + std::string(name) + " a sitting"});
}

void add_row(const content::Table& table, const content::Table::Row& row, bool is_new, Day& day,
             std::vector<Problem>& problems) {
    share(table, row, "mix", is_new, day.sitting.mix, problems);
    share(table, row, "lot", is_new, day.sitting.conditions.lot, problems);
    share(table, row, "base", is_new, day.sitting.conditions.base, problems);
    share(table, row, "blinding", is_new, day.sitting.conditions.blinding, problems);
    const auto note = table.column("note");
    if (!note || row.cells[*note].empty()) return;
    std::vector<std::string>& notes = day.sitting.notes;
    if (std::find(notes.begin(), notes.end(), row.cells[*note]) == notes.end())
        notes.push_back(row.cells[*note]);
}

}  // namespace

PanelAnswers read_panel_answers(const std::string& text, const std::string& file) {
    const content::Table table = content::read_csv(text, file);
    const Columns columns = columns_of(table, "assessor", {});
    std::vector<Problem> problems;
    PanelAnswers answers{columns.scale, {}, {}};
    std::map<std::string, std::size_t> numbers;
    std::vector<Pooled> own;
    Pooled all;
    for (const content::Table::Row& row : table.rows) {
        const std::string& name = row.cells[columns.group];
        if (name.empty()) {
            problems.push_back(
                {content::where_in(table, row, columns.group), "is empty", "the assessor's name"});
            continue;
        }
        const auto [known, is_new] = numbers.emplace(name, own.size());
        if (is_new) {
            own.emplace_back();
            answers.members.push_back({name, {}});
        }
        add_answers(table, row, columns, own[known->second], all, problems);
    }
    if (table.rows.empty())
        problems.push_back({file, "holds no answers", "give at least one row below the heading"});
    if (!problems.empty()) throw Refused(problems);
    for (std::size_t i = 0; i < own.size(); ++i) answers.members[i].counts = in_order(own[i]);
    answers.all_counts = in_order(all);
    return answers;
}

TrendAnswers read_trend_answers(const std::string& text, const std::string& file) {
    const content::Table table = content::read_csv(text, file);
    const Columns columns = columns_of(table, "date", {"mix", "lot", "base", "blinding", "note"});
    std::vector<Problem> problems;
    std::map<double, Day> days;
    Pooled all;
    for (const content::Table::Row& row : table.rows) {
        const auto at = day_of(table, row, columns.group, problems);
        if (!at) continue;
        const auto [day, is_new] = days.try_emplace(*at);
        if (is_new) day->second.sitting.date = row.cells[columns.group];
        add_row(table, row, is_new, day->second, problems);
        add_answers(table, row, columns, day->second.counts, all, problems);
    }
    if (table.rows.empty())
        problems.push_back({file, "holds no answers", "give at least one row below the heading"});
    if (!problems.empty()) throw Refused(problems);
    TrendAnswers answers{columns.scale, {}, in_order(all)};
    constexpr double days_in_week = 7.0;
    for (auto& [at, day] : days) {
        day.sitting.week = (at - days.begin()->first) / days_in_week;
        day.sitting.counts = in_order(day.counts);
        answers.sittings.push_back(std::move(day.sitting));
    }
    return answers;
}

void write_chart(const chart::Chart& chart, double height_pt, const std::string& file) {
    namespace sheets = drills::sheets;
    const sheets::ChartSize size{.width_pt = 640.0, .height_pt = height_pt};
    if (file.ends_with(".svg")) return sheets::write_chart_svg(chart, size, file);
    if (file.ends_with(".png")) return sheets::write_chart_png(chart, size, file);
    throw Refused("--chart", "is \"" + file + "\"", "a file that ends in .svg or .png");
}

}  // namespace sipladder::cli
