#include "engine/text.hpp"
#include "engine/threshold/threshold.hpp"
#include "tools/benchmark/accuracy.hpp"

#include <array>
#include <memory>
#include <numbers>

// People who break an assumption of the fit, and bottles that break theirs.

namespace sipladder::benchmark {

namespace {

using simulate::Figure;

constexpr std::array<std::size_t, 3> checkpoints{16, 32, 48};

struct Condition {
    std::string name;
    simulate::Population population;
    /// Coverage at every checkpoint that is wanted of the shipped prior; 0: better than the plain
    /// reference's.
    double wanted = 0.0;
    /// The plain reference's coverage as measured beforehand, the bar where `wanted` is 0; 0: nothing is
    /// wanted.
    double bar = 0.0;
};

std::vector<Condition> conditions() {
    std::vector<Condition> all;
    const auto add = [&](const std::string& name, double wanted, double bar) -> simulate::Population& {
        all.push_back({name, {}, wanted, bar});
        return all.back().population;
    };
    add("nominal", 0.94, 0.0);
    add("lapse 0.10", 0.94, 0.0).lapse = 0.10;
    add("position bias 1 d'", 0.94, 0.0).habits.place_bias = std::make_shared<const drills::PlaceBias>(1.0);
    add("fatigue +0.02 a presentation", 0.0, 0.0).habits.fatigue_log10 = 0.02;
    add("lapse 0.20", 0.0, 0.84).lapse = 0.20;
    add("carry-over +0.15", 0.0, 0.94).habits.carry_over_log10 = 0.15;
    simulate::Population& wide = add("width 2.0", 0.0, 0.82);
    wide.width_lower = wide.width_upper = 2.0;
    return all;
}

std::vector<std::string> headings() {
    std::vector<std::string> names;
    for (const char* what : {"RMSE ", "coverage "})
        for (const std::size_t n : checkpoints) names.push_back(what + std::to_string(n));
    names.emplace_back("bias 32");
    return names;
}

Row row_of(const std::string& name, const Outcome& found) {
    Row row{name, {}};
    for (std::size_t k = 0; k < checkpoints.size(); ++k)
        row.cells.push_back(simulate::rmse_of(found.errors[k]));
    for (std::size_t k = 0; k < checkpoints.size(); ++k) row.cells.push_back(coverage_of(found, k));
    row.cells.push_back(simulate::mean_of(found.errors[1]));
    return row;
}

void add_goals(Report& report, const Condition& condition, const Outcome& own, const Outcome& plain) {
    for (std::size_t k = 0; k < checkpoints.size(); ++k) {
        const std::string at = ", shipped prior, coverage at " + std::to_string(checkpoints[k]);
        const Figure coverage = coverage_of(own, k);
        if (condition.wanted > 0.0)
            report.goals.push_back({condition.name + at, "at least " + fixed(condition.wanted, 2), coverage,
                                    coverage.value >= condition.wanted});
        if (condition.bar <= 0.0) continue;
        const Figure more = simulate::share_difference(own.hits[k], plain.hits[k]);
        report.goals.push_back(
            {condition.name + at + " less the plain reference's", "above 0", more, more.value > 0.0});
        if (checkpoints[k] == 32)
            report.goals.push_back({condition.name + at, "above " + fixed(condition.bar, 2), coverage,
                                    coverage.value > condition.bar});
    }
}

}  // namespace

void add_other_people(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::vector<Method> methods{
        own_method("Sipladder, shipped prior", shipped_engine_prior(), levels, threshold::fine_grid),
        wide_reference(levels)};
    Table table{"other_people",
                "People who are not as the model says, prior for people of whom nothing is known",
                "Fatigue: the target after N presentations is the mean of the thresholds so far.",
                headings(),
                {}};
    for (const Condition& condition : conditions()) {
        const auto found = outcomes(condition.name, condition.population, methods, checkpoints, run);
        for (std::size_t m = 0; m < methods.size(); ++m)
            table.rows.push_back(row_of(condition.name + ": " + methods[m].name, found[m]));
        add_goals(report, condition, found[0], found[1]);
    }
    report.tables.push_back(std::move(table));
}

void add_mixing(Report& report, const Run& run) {
    // Errors far larger than a kitchen makes, so that leaving them out would show.
    constexpr double own_rel = 0.15;
    constexpr double shared_rel = 0.20;
    constexpr std::array<std::size_t, 1> presentations{24};
    const std::vector<double> levels = simulate::centred_ladder(8, 2.0);
    const threshold::Prior prior = matched_engine_prior();
    const simulate::Adaptive method(prior, levels, threshold::coarse_grid, threshold::Grid{1, 4.0, 1});
    const auto fit = [&](bool with_mixing) {
        return [&, with_mixing](const simulate::Person& person, std::span<const std::size_t> at) {
            Random bottles{person.bottles};
            const double common = shared_rel / std::numbers::ln10 * bottles.normal();
            simulate::SittingRules rules{.checkpoints = {at.begin(), at.end()}};
            for (std::size_t i = 0; i < levels.size(); ++i)
                rules.bottle_errors_log10.push_back(common + own_rel / std::numbers::ln10 * bottles.normal());
            std::vector<threshold::Counts> counts(levels.size());
            for (std::size_t i = 0; i < levels.size(); ++i)
                counts[i] = {levels[i], 0, 0, with_mixing ? own_rel / std::numbers::ln10 : 0.0};
            for (const simulate::Tasted& one : simulate::sitting(method, person, rules).tasted) {
                ++counts[one.level].presentations;
                if (one.correct) ++counts[one.level].correct;
            }
            std::erase_if(counts, [](const threshold::Counts& one) { return one.presentations == 0; });
            const threshold::Threshold found =
                threshold::threshold(counts, prior, threshold::three_afc,
                                     {.u_shared_log10 = with_mixing ? shared_rel / std::numbers::ln10 : 0.0,
                                      .grid = {151, 0.03, 12}});
            return std::vector<simulate::Estimate>{
                {found.log10, found.lower_log10, found.upper_log10, found.sd_log10}};
        };
    };
    const std::vector<Method> methods{{"mixing uncertainty in the interval", true, fit(true)},
                                      {"the same, left out", true, fit(false)}};
    const auto found = outcomes("badly mixed bottles", {}, methods, presentations, run);
    Table table{
        "mixing",
        "Bottles off by 15 % each and 20 % together (standard uncertainties), 8 rungs of 2, 24 presentations",
        "",
        {"RMSE", "claimed SD", "coverage"},
        {}};
    for (std::size_t m = 0; m < methods.size(); ++m)
        table.rows.push_back({methods[m].name,
                              {simulate::rmse_of(found[m].errors[0]), simulate::mean_of(found[m].sds[0]),
                               coverage_of(found[m], 0)}});
    const Figure coverage = coverage_of(found[0], 0);
    report.goals.push_back({"bottles off by 15 % and 20 %, coverage", "0.94 to 0.97", coverage,
                            coverage.value >= 0.94 && coverage.value <= 0.97});
    report.tables.push_back(std::move(table));
}

}  // namespace sipladder::benchmark
