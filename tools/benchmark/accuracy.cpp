#include "tools/benchmark/accuracy.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sipladder::benchmark {

namespace {

using simulate::Figure;

constexpr std::array<std::size_t, 6> checkpoints{8, 12, 16, 24, 32, 48};
constexpr std::array<std::size_t, 4> judged{0, 2, 4, 5};  // 8, 16, 32, 48 presentations

std::vector<std::string> headings(std::span<const std::size_t> numbers) {
    std::vector<std::string> names;
    for (const std::size_t number : numbers) names.push_back(std::to_string(number));
    return names;
}

std::string per_cup_note() {
    return "A presentation is three cups, for every method alike, so the same figures hold per cup: 24, 36, "
           "48, 72, 96 "
           "and 144 of them.";
}

Goal at_most(std::string what, Figure measured, double limit) {
    return {std::move(what), "at most " + significant(limit, 3), measured, measured.value <= limit};
}
Goal between(std::string what, Figure measured, double low, double high) {
    return {std::move(what), fixed(low, 2) + " to " + fixed(high, 2), measured,
            measured.value >= low && measured.value <= high};
}

Table rmse_table(const std::vector<Method>& methods, const std::vector<Outcome>& found) {
    Table table{"rmse",
                "RMSE of the threshold (log10 units) after so many presentations",
                per_cup_note(),
                headings(checkpoints),
                {}};
    for (std::size_t m = 0; m < methods.size(); ++m) {
        Row row{methods[m].name, {}};
        for (std::size_t k = 0; k < checkpoints.size(); ++k)
            row.cells.push_back(has_estimates(found[m], k) ? Cell(simulate::rmse_of(found[m].errors[k]))
                                                           : Cell());
        table.rows.push_back(std::move(row));
    }
    Row limit{"bound for any method (van Trees), slope known", {}};
    for (const std::size_t n : checkpoints) limit.cells.push_back(Figure{bound(n), 0.0});
    table.rows.push_back(std::move(limit));
    return table;
}

Table ratio_table(const std::vector<Method>& methods, const std::vector<Outcome>& found) {
    Table table{"rmse_ratio",
                "RMSE over that of this program's method with the matched prior, same people",
                "Above 1: this program's method is nearer the truth.",
                headings(checkpoints),
                {}};
    for (std::size_t m = 1; m < methods.size(); ++m) {
        Row row{methods[m].name, {}};
        for (std::size_t k = 0; k < checkpoints.size(); ++k)
            row.cells.push_back(has_estimates(found[m], k)
                                    ? Cell(simulate::rmse_ratio(found[m].errors[k], found[0].errors[k]))
                                    : Cell());
        table.rows.push_back(std::move(row));
    }
    return table;
}

Table coverage_table(const std::vector<Method>& methods, const std::vector<Outcome>& found) {
    Table table{"coverage",
                "Share of 95 % intervals that hold the truth",
                "Ascending series and staircases: only of those people who get an interval at all.",
                headings(checkpoints),
                {}};
    for (std::size_t m = 0; m < methods.size(); ++m) {
        Row row{methods[m].name, {}};
        for (std::size_t k = 0; k < checkpoints.size(); ++k) row.cells.push_back(coverage_of(found[m], k));
        table.rows.push_back(std::move(row));
    }
    return table;
}

enum Slot : std::size_t { own, own_free, own_shipped, plain, first_published };

/// The published method that comes nearest to this program's, or passes it by most standard errors.
Goal nearest_rival(const std::vector<Method>& methods, const std::vector<Outcome>& found, std::size_t k,
                   bool knows) {
    Goal nearest{"", "", {-1e9, 1.0}, true};
    for (std::size_t m = first_published; m + 1 < methods.size(); ++m) {
        if (methods[m].knows_population != knows || !has_estimates(found[m], k)) continue;
        const Figure less = simulate::rmse_difference(found[own].errors[k], found[m].errors[k]);
        const double limit = knows ? 2.0 * less.standard_error : 0.0;
        if (less.value / less.standard_error <= nearest.measured.value / nearest.measured.standard_error)
            continue;
        nearest.what = "matched prior, RMSE less that of the nearest published method (" + methods[m].name +
                       ") at " + std::to_string(checkpoints[k]);
        nearest.measured = less;
        nearest.met = less.value <= limit;
    }
    nearest.wanted = knows ? "at most 2 standard errors (it knows the population too)" : "below 0";
    return nearest;
}

void add_accuracy_goals(Report& report, const std::vector<Method>& methods,
                        const std::vector<Outcome>& found) {
    for (const std::size_t k : judged) {
        const std::string at = " at " + std::to_string(checkpoints[k]);
        report.goals.push_back(at_most("matched prior, RMSE over the plain reference's" + at,
                                       simulate::rmse_ratio(found[own].errors[k], found[plain].errors[k]),
                                       1.02));
        for (const bool knows : {false, true})
            report.goals.push_back(nearest_rival(methods, found, k, knows));
    }
    for (const std::size_t k : judged) {
        const std::string at = " at " + std::to_string(checkpoints[k]);
        report.goals.push_back(
            between("nominal people, matched prior, coverage" + at, coverage_of(found[own], k), 0.94, 0.97));
        report.goals.push_back(between("nominal people, shipped prior, coverage" + at,
                                       coverage_of(found[own_shipped], k), 0.94, 0.98));
    }
    report.goals.push_back(at_most("nominal people, shipped prior, RMSE over matched prior's at 16",
                                   simulate::rmse_ratio(found[own_shipped].errors[2], found[own].errors[2]),
                                   1.05));
}

}  // namespace

std::vector<Curve> add_accuracy(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    std::vector<Method> methods{
        own_method("Sipladder, matched prior", matched_engine_prior(), levels, threshold::fine_grid),
        own_method("  without rules against runs", matched_engine_prior(), levels, threshold::fine_grid,
                   false),
        own_method("Sipladder, shipped prior", shipped_engine_prior(), levels, threshold::fine_grid),
        matched_reference(levels)};
    for (Method& method : published_methods()) methods.push_back(std::move(method));
    methods.push_back(floor_in_practice());
    const std::vector<Outcome> found = outcomes("all methods", {}, methods, checkpoints, run);
    report.tables.push_back(rmse_table(methods, found));
    report.tables.push_back(ratio_table(methods, found));
    report.tables.push_back(coverage_table(methods, found));
    add_accuracy_goals(report, methods, found);
    std::vector<Curve> curves;
    for (std::size_t m = 0; m < methods.size(); ++m) {
        Curve curve{methods[m].name, methods[m].knows_population, m < plain, m + 1 == methods.size(), {}, {}};
        for (std::size_t k = 0; k < checkpoints.size(); ++k)
            if (has_estimates(found[m], k)) {
                curve.presentations.push_back(checkpoints[k]);
                curve.rmse.push_back(simulate::rmse_of(found[m].errors[k]).value);
            }
        curves.push_back(std::move(curve));
    }
    Curve limit{"bound for any method", true, false, true, {checkpoints.begin(), checkpoints.end()}, {}};
    for (const std::size_t n : checkpoints) limit.rmse.push_back(bound(n));
    curves.push_back(std::move(limit));
    return curves;
}

void add_stopping(Report& report, const Run& run) {
    constexpr std::array<std::size_t, 1> most{96};
    constexpr double wanted_sd = 0.12;
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    Table table{"stopping",
                "Stopping at a claimed SD of 0.12, at most 96 presentations",
                "",
                {"presentations", "RMSE", "coverage", "90 in 100 stop by"},
                {}};
    for (const bool matched : {true, false}) {
        const simulate::Adaptive method(matched ? matched_engine_prior() : shipped_engine_prior(), levels,
                                        threshold::coarse_grid, threshold::fine_grid);
        std::vector<double> counts(run.people);
        const Method stopping{
            "", matched, [&](const simulate::Person& person, std::span<const std::size_t> at) {
                const simulate::Sitting sat = simulate::sitting(
                    method, person, {.checkpoints = {at.begin(), at.end()}, .stop_sd = wanted_sd});
                std::vector<simulate::Estimate> found = sat.estimates;
                found.back().sd = static_cast<double>(sat.tasted.size());
                return found;
            }};
        const std::string who = matched ? "matched prior" : "shipped prior";
        const Outcome found = outcomes("stopping, " + who, {}, {stopping}, most, run).front();
        std::vector<double> numbers = found.sds[0];  // the method put the number of presentations there
        const Figure mean = simulate::mean_of(numbers);
        const Figure rmse = simulate::rmse_of(found.errors[0]);
        const auto at_90 = numbers.begin() + static_cast<std::ptrdiff_t>(numbers.size() * 9 / 10);
        std::nth_element(numbers.begin(), at_90, numbers.end());
        table.rows.push_back({"Sipladder, " + who, {mean, rmse, coverage_of(found, 0), Figure{*at_90, 0.0}}});
        if (!matched) continue;
        report.goals.push_back(at_most("stopping at SD 0.12, mean presentations", mean, 27.5));
        report.goals.push_back(at_most("stopping at SD 0.12, RMSE", rmse, 0.122));
    }
    report.tables.push_back(std::move(table));
}

void add_stock(Report& report, const Run& run) {
    struct Ladder {
        std::size_t rungs;
        double ratio;
    };
    constexpr std::array<std::size_t, 4> numbers{12, 16, 24, 32};
    constexpr threshold::Grid reporting{201, 0.025, 12};  // shared by all cells: only differences count here
    constexpr double share = 0.6;
    Table table{"stock",
                "RMSE with 0.6 N portions of each rung over RMSE without end of stock",
                "",
                headings(numbers),
                {}};
    for (const double sd : {0.35, 0.45, 0.70})
        for (const Ladder ladder : {Ladder{6, 3.0}, Ladder{5, 2.0}}) {
            const simulate::Adaptive method(matched_engine_prior(sd),
                                            simulate::centred_ladder(ladder.rungs, ladder.ratio),
                                            threshold::coarse_grid, reporting);
            std::vector<Method> methods{
                {"no end", true, [&](const simulate::Person& person, std::span<const std::size_t> at) {
                     return simulate::sitting(method, person, {.checkpoints = {at.begin(), at.end()}})
                         .estimates;
                 }}};
            for (const std::size_t n : numbers)
                methods.push_back(
                    {"", true,
                     [&method, &ladder, n](const simulate::Person& person, std::span<const std::size_t> at) {
                         const int portions = static_cast<int>(std::ceil(share * static_cast<double>(n)));
                         const simulate::SittingRules rules{
                             .checkpoints = {n}, .portions = std::vector<int>(ladder.rungs, portions)};
                         return std::vector<simulate::Estimate>(
                             at.size(), simulate::sitting(method, person, rules).estimates.back());
                     }});
            simulate::Population population;
            population.theta_sd = sd;
            const std::string name = std::to_string(ladder.rungs) + " rungs of ratio " +
                                     fixed(ladder.ratio, 0) + ", SD of thresholds " + fixed(sd, 2);
            const std::vector<Outcome> found = outcomes("stock, " + name, population, methods, numbers, run);
            Row row{name, {}};
            for (std::size_t k = 0; k < numbers.size(); ++k) {
                row.cells.push_back(simulate::rmse_ratio(found[k + 1].errors[k], found[0].errors[k]));
                report.goals.push_back(
                    at_most("stock of 0.6 N, " + name + ", RMSE ratio at " + std::to_string(numbers[k]),
                            *row.cells.back(), 1.05));
            }
            table.rows.push_back(std::move(row));
        }
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark
