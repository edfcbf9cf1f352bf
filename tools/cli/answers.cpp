#include "tools/cli/answers.hpp"

#include "engine/content/csv.hpp"
#include "engine/problem.hpp"

#include <cmath>
#include <iterator>
#include <map>
#include <optional>

namespace sipladder::cli {

namespace {

constexpr long most_answers = 1'000'000;

struct Columns {
    std::size_t concentration{};
    std::size_t correct{};
    std::optional<std::size_t> presentations;
    std::optional<std::size_t> certainty;
    Scale scale{};
};

std::optional<Columns> columns_of(const content::Table& table, std::vector<Problem>& problems) {
    content::only_columns(
        table, {"concentration_g_per_L", "concentration_pct_vol", "presentations", "correct", "certainty"},
        problems);
    const auto concentration = concentration_column(table, problems);
    const auto correct = content::wanted_column(table, "correct", problems);
    if (!problems.empty() || !concentration || !correct) return std::nullopt;
    return Columns{concentration->column, *correct, table.column("presentations"), table.column("certainty"),
                   concentration->scale};
}

/// A row as one presentation with its certainty, kept by concentration until all levels are known.
struct SaidTrial {
    double level{};
    threshold::Answered answer;
};

void add_trial(const content::Table& table, const content::Table::Row& row, std::size_t column, double level,
               long presentations, long correct, std::vector<SaidTrial>& trials,
               std::vector<Problem>& problems) {
    if (presentations != 1) {
        problems.push_back({content::where_in(table, row, column),
                            "stands beside " + std::to_string(presentations) + " presentations",
                            "certainty wants one row a presentation"});
        return;
    }
    const auto certainty = content::integer_in(table, row, column, 1, 3, problems);
    if (!certainty) return;
    trials.push_back({level, {0, correct == 1, static_cast<threshold::Certainty>(*certainty - 1)}});
}

}  // namespace

std::optional<ConcentrationColumn> concentration_column(const content::Table& table,
                                                        std::vector<Problem>& problems) {
    const auto grams = table.column("concentration_g_per_L");
    const auto volume = table.column("concentration_pct_vol");
    if (grams.has_value() != volume.has_value())
        return ConcentrationColumn{grams ? *grams : *volume, grams ? Scale::g_per_L : Scale::pct_vol};
    problems.push_back({table.file + ": heading", "has no one column of concentrations",
                        "head it concentration_g_per_L or concentration_pct_vol"});
    return std::nullopt;
}

Answers read_answers(const std::string& text, const std::string& file) {
    const content::Table table = content::read_csv(text, file);
    std::vector<Problem> problems;
    const auto columns = columns_of(table, problems);
    if (!columns) throw Refused(problems);
    std::map<double, threshold::Counts> pooled;
    std::vector<SaidTrial> trials;
    for (const content::Table::Row& row : table.rows) {
        const auto level =
            content::number_in(table, row, columns->concentration, weakest_level, strongest_level, problems);
        const auto presentations =
            columns->presentations
                ? content::integer_in(table, row, *columns->presentations, 1, most_answers, problems)
                : std::optional<long>{1};
        const auto correct = content::integer_in(table, row, columns->correct, 0,
                                                 presentations.value_or(most_answers), problems);
        if (!level || !presentations || !correct) continue;
        if (columns->certainty)
            add_trial(table, row, *columns->certainty, *level, *presentations, *correct, trials, problems);
        threshold::Counts& counts = pooled[*level];
        counts.x_log10 = std::log10(*level);
        counts.presentations += static_cast<std::size_t>(*presentations);
        counts.correct += static_cast<std::size_t>(*correct);
    }
    if (!problems.empty()) throw Refused(problems);
    if (pooled.empty()) throw Refused(file, "holds no answers", "give at least one row below the heading");
    Answers answers{columns->scale, {}, columns->certainty.has_value()};
    for (const auto& [level, counts] : pooled) answers.counts.push_back(counts);
    for (SaidTrial& trial : trials) {
        trial.answer.level =
            static_cast<std::size_t>(std::distance(pooled.begin(), pooled.find(trial.level)));
        answers.trials.push_back(trial.answer);
    }
    return answers;
}

}  // namespace sipladder::cli
