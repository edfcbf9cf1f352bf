#include "tools/cli/grouped.hpp"

#include "drills/sheets/chart_file.hpp"
#include "engine/content/csv.hpp"
#include "engine/instant.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"
#include "engine/threshold/certainty.hpp"
#include "engine/threshold/quick_look.hpp"
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
    std::size_t answer{};  ///< correct, or rating
    std::optional<std::size_t> presentations;
    std::optional<std::size_t> certainty;
    std::size_t group{};
    Scale scale{};
    Telling telling{};
};

Columns columns_of(const content::Table& table, const std::string& group, std::vector<std::string> names,
                   Telling telling) {
    std::vector<Problem> problems;
    const bool is_graded = telling == Telling::grades;
    const std::string answer = is_graded ? "rating" : "correct";
    for (const std::string& shared :
         {std::string("concentration_g_per_L"), std::string("concentration_pct_vol"), answer, group})
        names.push_back(shared);
    if (!is_graded) names.insert(names.end(), {"presentations", "certainty"});
    content::only_columns(table, names, problems);
    const auto key = content::wanted_column(table, group, problems);
    const auto concentration = concentration_column(table, problems);
    const auto answers = content::wanted_column(table, answer, problems);
    if (!problems.empty()) throw Refused(problems);
    return {concentration->column, *answers, table.column("presentations"), table.column("certainty"), *key,
            concentration->scale,  telling};
}

using Pooled = std::map<double, threshold::Counts>;

std::vector<threshold::Counts> in_order(const Pooled& pooled) {
    std::vector<threshold::Counts> counts;
    for (const auto& [level, at] : pooled) counts.push_back(at);
    return counts;
}

/// Everybody's levels; the prior is placed by them.
std::vector<threshold::Counts> levels_in(const Pooled& all, const std::string& file) {
    if (all.empty()) throw Refused(file, "holds blanks only", "rows of at least one level above 0");
    return in_order(all);
}

/// One person's, or one day's, rows while they are read.
struct Own {
    Pooled counts;  ///< right or wrong of all
    Pooled plain;   ///< of those that said no more
    threshold::HabitAnswers told;
};

void add_grade(const content::Table& table, const content::Table::Row& row, const Columns& columns, Own& own,
               Pooled& all, std::vector<Problem>& problems) {
    constexpr long best = threshold::quick_look_grades - 1;
    const auto level = content::number_in(table, row, columns.concentration, 0.0, strongest_level, problems);
    const auto grade = content::integer_in(table, row, columns.answer, 0, best, problems);
    if (!level || !grade) return;
    own.told.by = threshold::HabitAnswers::By::grades;
    if (*level > 0.0 && *level < weakest_level) {
        problems.push_back({content::where_in(table, row, columns.concentration), "is " + exact(*level),
                            "0 for a blank, or from " + exact(weakest_level) + " up"});
        return;
    }
    std::optional<double> x_log10;
    if (*level > 0.0) all[*level].x_log10 = *(x_log10 = std::log10(*level));
    own.told.answers.push_back({x_log10, static_cast<std::size_t>(*grade), 0.0});
}

void add_certainty(const content::Table& table, const content::Table::Row& row, const Columns& columns,
                   const threshold::Counts& answer, Own& own, std::vector<Problem>& problems) {
    if (answer.presentations != 1) {
        problems.push_back({content::where_in(table, row, *columns.certainty),
                            "stands beside " + std::to_string(answer.presentations) + " presentations",
                            "certainty wants one row a presentation"});
        return;
    }
    const auto certainty = content::integer_in(table, row, *columns.certainty, 1, 3, problems);
    if (!certainty) return;
    own.told.by = threshold::HabitAnswers::By::certainty;
    own.told.answers.push_back(
        {answer.x_log10,
         threshold::outcome_of(answer.correct == 1, static_cast<threshold::Certainty>(*certainty - 1)), 0.0});
}

/// Adds a row's answers to both; a problem is noted where it holds none.
void add_answers(const content::Table& table, const content::Table::Row& row, const Columns& columns,
                 Own& own, Pooled& all, std::vector<Problem>& problems) {
    if (columns.telling == Telling::grades) return add_grade(table, row, columns, own, all, problems);
    const auto level =
        content::number_in(table, row, columns.concentration, weakest_level, strongest_level, problems);
    const auto presentations = columns.presentations ? content::integer_in(table, row, *columns.presentations,
                                                                           1, most_answers, problems)
                                                     : std::optional<long>{1};
    const auto correct =
        content::integer_in(table, row, columns.answer, 0, presentations.value_or(most_answers), problems);
    if (!level || !presentations || !correct) return;
    const threshold::Counts answer{std::log10(*level), static_cast<std::size_t>(*presentations),
                                   static_cast<std::size_t>(*correct)};
    const auto add_to = [&](Pooled& pooled) {
        threshold::Counts& at = pooled[*level];
        at.x_log10 = answer.x_log10;
        at.presentations += answer.presentations;
        at.correct += answer.correct;
    };
    add_to(own.counts);
    add_to(all);
    if (columns.certainty && columns.telling == Telling::certainty)
        add_certainty(table, row, columns, answer, own, problems);
    else
        add_to(own.plain);
}

std::vector<threshold::HabitAnswers> told_by(const Own& own) {
    if (own.told.answers.empty()) return {};
    return {own.told};
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
    Own own;
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

Telling telling_from(const std::string& task, const std::string& certainty) {
    if (certainty != "fit" && certainty != "leave")
        throw Refused("--certainty", "\"" + certainty + "\" is none", "fit or leave");
    if (task == "rating:4") return Telling::grades;
    if (task.starts_with("rating:"))
        throw Refused("--task", "\"" + task + "\" is not pooled",
                      "rating:4, the quick look; `fit` takes other numbers of grades");
    return certainty == "fit" && task == "3-afc" ? Telling::certainty : Telling::right_or_wrong;
}

PanelAnswers read_panel_answers(const std::string& text, const std::string& file, Telling telling) {
    const content::Table table = content::read_csv(text, file);
    const Columns columns = columns_of(table, "assessor", {}, telling);
    std::vector<Problem> problems;
    PanelAnswers answers{columns.scale, {}, {}, {}};
    std::map<std::string, std::size_t> numbers;
    std::vector<Own> own;
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
    for (std::size_t i = 0; i < own.size(); ++i) {
        panel::Member& member = answers.members[i];
        if (telling != Telling::grades)
            answers.right_or_wrong.push_back({member.name, in_order(own[i].counts)});
        member.counts = in_order(own[i].plain);
        member.told = told_by(own[i]);
    }
    answers.all_counts = levels_in(all, file);
    return answers;
}

TrendAnswers read_trend_answers(const std::string& text, const std::string& file, Telling telling) {
    const content::Table table = content::read_csv(text, file);
    const Columns columns = columns_of(table, "date", {"mix", "lot", "base", "blinding", "note"}, telling);
    std::vector<Problem> problems;
    std::map<double, Day> days;
    Pooled all;
    for (const content::Table::Row& row : table.rows) {
        const auto at = day_of(table, row, columns.group, problems);
        if (!at) continue;
        const auto [day, is_new] = days.try_emplace(*at);
        if (is_new) day->second.sitting.date = row.cells[columns.group];
        add_row(table, row, is_new, day->second, problems);
        add_answers(table, row, columns, day->second.own, all, problems);
    }
    if (table.rows.empty())
        problems.push_back({file, "holds no answers", "give at least one row below the heading"});
    if (!problems.empty()) throw Refused(problems);
    TrendAnswers answers{columns.scale, {}, levels_in(all, file)};
    constexpr double days_in_week = 7.0;
    for (auto& [at, day] : days) {
        day.sitting.week = (at - days.begin()->first) / days_in_week;
        day.sitting.counts = in_order(day.own.plain);
        day.sitting.told = told_by(day.own);
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
