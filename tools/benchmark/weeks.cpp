#include "tools/benchmark/weeks.hpp"

#include "engine/text.hpp"
#include "engine/trend/trend.hpp"
#include "tools/benchmark/demo_weeks.hpp"
#include "tools/benchmark/weeks_reference.hpp"
#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

// One sitting of 16 a week for eight weeks. This program's own way: each sitting is placed from its own
// forecast, and the trend is what the Weeks screen shows. The reference places and fits as its own page says.
// Both see the same people with the same luck.

namespace sipladder::benchmark {

namespace {

using simulate::Estimate;
using simulate::Figure;

constexpr double still_walked = 0.113;    // widening between sittings, no drift
constexpr double drifted_walked = 0.124;  // with the drift of -0.05

threshold::Prior lean_matched_prior() {
    threshold::Prior prior = matched_engine_prior();
    prior.lapses = threshold::beta_lapses(1.5, 48.5, 4);
    return prior;
}

std::vector<threshold::Counts> counts_of(const simulate::Sitting& sitting, std::span<const double> levels) {
    std::map<std::size_t, threshold::Counts> pooled;
    for (const simulate::Tasted& tasted : sitting.tasted) {
        threshold::Counts& at = pooled[tasted.level];
        at.x_log10 = levels[tasted.level];
        ++at.presentations;
        at.correct += tasted.correct ? 1U : 0U;
    }
    std::vector<threshold::Counts> counts;
    for (const auto& [level, at] : pooled) counts.push_back(at);
    return counts;
}

trend::Settings baseline_settings() {
    trend::Settings settings;
    settings.practice = 0;  // the simulated people need none
    return settings;
}

/// What one person was found to be, by one way.
struct Judged {
    double sitting_rms{};
    double line_rms{};
    double sittings_held{};  ///< share of intervals
    double line_held{};
    double statistic{};
    bool declared = false;  ///< own cut
    double cut{};
    double power_said{};  ///< for the true drift, as the program reckons it
    double fell{};
};

void judge(Judged& judged, const std::vector<Estimate>& sittings, const std::vector<Estimate>& line,
           const WeeklyPerson& person) {
    const auto count = static_cast<double>(sittings.size());
    for (std::size_t k = 0; k < sittings.size(); ++k) {
        const double theta = person.sittings[k].truth.theta_log10;
        judged.sitting_rms += std::pow(sittings[k].value - theta, 2.0) / count;
        judged.line_rms += std::pow(line[k].value - person.line_log10[k], 2.0) / count;
        const auto held = [](const Estimate& found, double truth) {
            return found.lower <= truth && truth <= found.upper ? 1.0 : 0.0;
        };
        judged.sittings_held += held(sittings[k], theta) / count;
        judged.line_held += held(line[k], person.line_log10[k]) / count;
    }
    judged.sitting_rms = std::sqrt(judged.sitting_rms);
    judged.line_rms = std::sqrt(judged.line_rms);
}

Judged by_reference(const WeeksReference& reference, const WeeklyPerson& person, bool carried) {
    const WeeklyFound found = reference.run(person, carried);
    Judged judged;
    judge(judged, found.sittings, found.line, person);
    judged.statistic = found.statistic;
    return judged;
}

Estimate plain(const threshold::Estimate& found) {
    return {found.log10, found.lower_log10, found.upper_log10, found.sd_log10};
}

/// @param prior  of the first sitting, and of the fit
Judged by_engine(const threshold::Prior& prior, const std::vector<double>& levels, const WeeklyPerson& person,
                 bool carried, double true_drift) {
    const trend::Settings settings = baseline_settings();
    constexpr threshold::Grid unused{2, 10.0, 1};  // the trend reports, not the sitting
    std::vector<trend::Sitting> sittings;
    for (std::size_t k = 0; k < person.sittings.size(); ++k) {
        const auto week = static_cast<double>(k);
        const threshold::Prior placing =
            k > 0 && carried ? trend::forecast(sittings, week, true, prior, threshold::three_afc, settings)
                             : prior;
        const simulate::Adaptive method(placing, levels, threshold::coarse_grid, unused);
        const simulate::Sitting tasted =
            simulate::sitting(method, person.sittings[k], {.checkpoints = {person.sittings[k].luck.size()}});
        trend::Sitting sitting;
        sitting.week = week;
        sitting.counts = counts_of(tasted, levels);
        sitting.mix = "one";
        sittings.push_back(std::move(sitting));
    }
    const trend::Trend found = trend::trend(sittings, prior, threshold::three_afc, settings);
    std::vector<Estimate> smoothed;
    std::vector<Estimate> line;
    for (const trend::Point& point : found.points) {
        smoothed.push_back(plain(point.smoothed));
        line.push_back(plain(point.line));
    }
    Judged judged;
    judge(judged, smoothed, line, person);
    const trend::Change& change = *found.stretches.back().change;
    judged.statistic = change.probability_drifting;
    judged.fell = change.probability_fell;
    judged.declared = change.declared;
    judged.cut = change.cut;
    constexpr double one_sided = 1.6448536269514722;  // standard normal, 95 %
    const double weeks = sittings.back().week;
    const double se = change.smallest_seen_half_log10 / weeks / one_sided;
    judged.power_said = 0.5 * std::erfc(-(-true_drift / se - one_sided) / std::numbers::sqrt2);
    return judged;
}

template <class Part>
std::vector<double> all(const std::vector<Judged>& people, Part part) {
    std::vector<double> values;
    for (const Judged& person : people) values.push_back(static_cast<double>(person.*part));
    return values;
}

/// The value that 5 % of those who do not drift exceed.
double cut_of(std::vector<double> still, double false_alarms) {
    const auto at = static_cast<std::ptrdiff_t>((1.0 - false_alarms) * static_cast<double>(still.size()));
    std::nth_element(still.begin(), still.begin() + at, still.end());
    return still[static_cast<std::size_t>(at)];
}

double share_above(const std::vector<double>& values, double cut) {
    const auto above = std::count_if(values.begin(), values.end(), [&](double v) { return v > cut; });
    return static_cast<double>(above) / static_cast<double>(values.size());
}

/// Share of the drifting above the cut; its standard error includes that of the cut.
Figure power_of(const std::vector<double>& drifting, const std::vector<double>& still) {
    constexpr double alarms = 0.05;
    const auto n = static_cast<double>(drifting.size());
    const double power = share_above(drifting, cut_of(still, alarms));
    constexpr double aside = 0.02;  // by how much the cut's share is moved to see what that does
    const double slope = (share_above(drifting, cut_of(still, alarms + aside)) -
                          share_above(drifting, cut_of(still, alarms - aside))) /
                         (2.0 * aside);
    const double own = power * (1.0 - power) / n;
    const double cuts = slope * slope * alarms * (1.0 - alarms) / static_cast<double>(still.size());
    return {power, std::sqrt(own + cuts)};
}

struct Way {
    std::string name;
    std::vector<Judged> drifting;
    std::vector<Judged> still;
};

Row row_of(const Way& way) {
    return {way.name,
            {simulate::rmse_of(all(way.drifting, &Judged::sitting_rms)),
             simulate::mean_of(all(way.drifting, &Judged::sittings_held)),
             simulate::rmse_of(all(way.drifting, &Judged::line_rms)),
             simulate::mean_of(all(way.drifting, &Judged::line_held)),
             power_of(all(way.drifting, &Judged::statistic), all(way.still, &Judged::statistic)),
             Figure{cut_of(all(way.still, &Judged::statistic), 0.05), 0.0}}};
}

Goal at_most(std::string what, Figure measured, double limit) {
    return {std::move(what), "at most " + significant(limit, 3), measured, measured.value <= limit};
}
Goal at_least(std::string what, Figure measured, double limit) {
    return {std::move(what), "at least " + significant(limit, 2), measured, measured.value >= limit};
}

void add_goals(Report& report, const Way& own, const Way& plain, const std::string& placed) {
    report.goals.push_back(at_most("weeks, " + placed + ": sitting RMSE over the plain reference's",
                                   simulate::rmse_ratio(all(own.drifting, &Judged::sitting_rms),
                                                        all(plain.drifting, &Judged::sitting_rms)),
                                   1.02));
    report.goals.push_back(at_most(
        "weeks, " + placed + ": line RMSE over the plain reference's",
        simulate::rmse_ratio(all(own.drifting, &Judged::line_rms), all(plain.drifting, &Judged::line_rms)),
        1.02));
    report.goals.push_back(at_least("weeks, " + placed + ": sitting coverage",
                                    simulate::mean_of(all(own.drifting, &Judged::sittings_held)), 0.94));
    report.goals.push_back(at_least("weeks, " + placed + ": line coverage",
                                    simulate::mean_of(all(own.drifting, &Judged::line_held)), 0.94));
}

void add_cut_table(Report& report, const std::vector<const Way*>& ways) {
    Table table{"weeks_cut",
                "A fall declared at the cut that the program itself works out for each person",
                "\"Said\": the power for this drift as the program reckons it beforehand.",
                {"false alarms", "declared", "said", "mean cut", "power of P(fell)"},
                {}};
    for (const Way* way : ways) {
        const Figure alarms = simulate::mean_of(all(way->still, &Judged::declared));
        table.rows.push_back({way->name,
                              {alarms, simulate::mean_of(all(way->drifting, &Judged::declared)),
                               simulate::mean_of(all(way->drifting, &Judged::power_said)),
                               simulate::mean_of(all(way->still, &Judged::cut)),
                               power_of(all(way->drifting, &Judged::fell), all(way->still, &Judged::fell))}});
        report.goals.push_back({"weeks, false alarms at the program's own cut (" + way->name + ")",
                                "0.03 to 0.07", alarms, alarms.value >= 0.03 && alarms.value <= 0.07});
    }
    report.tables.push_back(std::move(table));
}

/// The demo's weeks whole, from planner to trend: a quarter as many seeds as the run names people.
void add_demo_weeks(Report& report, const Run& run) {
    const std::size_t seeds = std::max<std::size_t>(run.people / 4, 2);
    Table table{"weeks_demo",
                "The demo's eight weeks over " + std::to_string(seeds) +
                    " seeds: bands of the trend that hold the true threshold",
                "Planned, mixed, tasted, kept, read and fitted. The seed is the unit; seeds whose ladder "
                "around what was found cannot be mixed are left out.",
                {"share", "seeds"},
                {}};
    for (const bool as_drawn : {true, false}) {
        const std::string who = as_drawn ? "a person drawn for each seed" : "the demo's own person";
        const DemoWeeks found = demo_weeks(seeds, run.seed, run.threads, as_drawn, [&](std::size_t done) {
            if (run.progress) run.progress("weeks, " + who, done, seeds);
        });
        table.rows.push_back({who, {found.held, Figure{static_cast<double>(found.seeds), 0.0}}});
        report.goals.push_back({"weeks of the demo, " + who + ": bands that hold the true threshold",
                                "0.93 to 0.97", found.held,
                                found.held.value >= 0.93 && found.held.value <= 0.97});
    }
    report.tables.push_back(std::move(table));
}

}  // namespace

void add_weeks(Report& report, const Run& run) {
    const std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    const std::size_t people = std::max<std::size_t>(run.people / 2, 2);
    const WeeksReference drifting(levels, drifted_walked);
    const WeeksReference still(levels, still_walked);
    const threshold::Prior matched = lean_matched_prior();
    const threshold::Prior shipped = shipped_engine_prior();
    enum Slot : std::size_t { own_carried, plain_carried, own_separate, plain_separate, own_shipped, ways };
    const char* const names[ways] = {
        "Sipladder, placed from its forecast", "plain reference, placement carried",
        "Sipladder, each placed from the population", "plain reference, each placed from the population",
        "Sipladder, shipped prior, placed from its forecast"};
    std::vector<Way> found(ways);
    for (std::size_t w = 0; w < ways; ++w)
        found[w] = {names[w], std::vector<Judged>(people), std::vector<Judged>(people)};
    simulate::for_each_index(
        people, run.threads,
        [&](std::size_t i) {
            for (const double drift : {-0.05, 0.0}) {
                const WeeklyPerson person = weekly_person({.drift_log10 = drift}, run.seed, i);
                const WeeksReference& reference = drift < 0.0 ? drifting : still;
                const auto put = [&](Slot slot, Judged judged) {
                    (drift < 0.0 ? found[slot].drifting : found[slot].still)[i] = judged;
                };
                put(own_carried, by_engine(matched, levels, person, true, -0.05));
                put(plain_carried, by_reference(reference, person, true));
                put(own_separate, by_engine(matched, levels, person, false, -0.05));
                put(plain_separate, by_reference(reference, person, false));
                put(own_shipped, by_engine(shipped, levels, person, true, -0.05));
            }
        },
        [&](std::size_t done) {
            if (run.progress) run.progress("weeks", done, people);
        });
    Table table{"weeks",
                "Eight weekly sittings of 16 presentations, drift -0.05 log10 a week, jitter 0.08",
                std::to_string(people) +
                    " people with the drift and the same without. The person is the unit. "
                    "Cut: what 5 % of those without drift exceed.",
                {"sitting RMSE", "coverage", "line RMSE", "coverage", "power", "cut"},
                {}};
    for (const Way& way : found) table.rows.push_back(row_of(way));
    report.tables.push_back(std::move(table));
    add_goals(report, found[own_carried], found[plain_carried], "carried");
    add_goals(report, found[own_separate], found[plain_separate], "each alone");
    report.goals.push_back(at_least("weeks, carried: power at the cut that 5 % without drift exceed",
                                    *row_of(found[own_carried]).cells[4], 0.57));
    add_cut_table(report, {&found[own_carried], &found[own_separate], &found[own_shipped]});
    add_demo_weeks(report, run);
}

}  // namespace sipladder::benchmark
