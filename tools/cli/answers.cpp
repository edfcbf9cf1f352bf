#include "tools/cli/answers.hpp"

#include "engine/content/csv.hpp"
#include "engine/problem.hpp"

#include <cmath>
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
    for (const content::Table::Row& row : table.rows) {
        const auto level =
            content::number_in(table, row, columns->concentration, weakest_level, strongest_level, problems);
        const auto presentations =
            columns->presentations
                ? content::integer_in(table, row, *columns->presentations, 1, most_answers, problems)
                : std::optional<long>{1};
        if (columns->certainty) content::integer_in(table, row, *columns->certainty, 1, 3, problems);
        const auto correct = content::integer_in(table, row, columns->correct, 0,
                                                 presentations.value_or(most_answers), problems);
        if (!level || !presentations || !correct) continue;
        threshold::Counts& counts = pooled[*level];
        counts.x_log10 = std::log10(*level);
        counts.presentations += static_cast<std::size_t>(*presentations);
        counts.correct += static_cast<std::size_t>(*correct);
    }
    if (!problems.empty()) throw Refused(problems);
    if (pooled.empty()) throw Refused(file, "holds no answers", "give at least one row below the heading");
    Answers answers{columns->scale, {}, columns->certainty.has_value()};
    for (const auto& [level, counts] : pooled) answers.counts.push_back(counts);
    return answers;
}

}  // namespace sipladder::cli
