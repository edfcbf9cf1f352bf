#include "engine/threshold/warnings.hpp"
#include "tools/benchmark/accuracy.hpp"
#include "tools/simulate/drill_run.hpp"
#include "tools/simulate/parallel.hpp"

#include <algorithm>
#include <array>
#include <memory>

// How often a warning comes where nothing is wrong, and how often it comes where something is: with the prior
// that ships and the first ladder that a person gets, six rungs of ratio 3, and with the finest one, twelve
// of 1.6.

namespace sipladder::benchmark {

namespace {

using Kind = threshold::Warning::Kind;
using simulate::Figure;

constexpr std::array<std::size_t, 5> checkpoints{12, 16, 24, 32, 48};
constexpr std::array<Kind, 8> kinds{Kind::guessing,       Kind::all_correct, Kind::against_prior,
                                    Kind::position_habit, Kind::fatigue,     Kind::carry_over,
                                    Kind::lapses,         Kind::shallow};

struct Trouble {
    std::string name;
    Kind kind;
    simulate::Population population;
};

std::vector<Trouble> troubles() {
    std::vector<Trouble> all;
    const auto add = [&](const std::string& name, Kind kind) -> simulate::Population& {
        all.push_back({name, kind, {}});
        return all.back().population;
    };
    add("cannot taste it at all", Kind::guessing).theta_mean = 6.0;
    add("tastes the weakest easily", Kind::all_correct).theta_mean = -3.0;
    add("threshold 1.4 log10 units off the prior's centre", Kind::against_prior).theta_mean = 1.4;
    all.back().population.theta_sd = 0.0;
    add("position bias 1 d'", Kind::position_habit).habits.place_bias =
        std::make_shared<const drills::PlaceBias>(1.0);
    add("fatigue +0.02 a presentation", Kind::fatigue).habits.fatigue_log10 = 0.02;
    add("carry-over +0.15", Kind::carry_over).habits.carry_over_log10 = 0.15;
    add("lapse 0.10", Kind::lapses).lapse = 0.10;
    add("lapse 0.20", Kind::lapses).lapse = 0.20;
    simulate::Population& wide = add("width 2.0", Kind::shallow);
    wide.width_lower = wide.width_upper = 2.0;
    return all;
}

/// What was warned of after each checkpoint, and whether the interval held the truth.
struct Seen {
    std::array<std::array<bool, kinds.size()>, checkpoints.size()> warned{};
    std::array<bool, checkpoints.size()> held{};
};

void look(const simulate::Adaptive& method, const threshold::Posterior& choosing,
          const threshold::Posterior& reporting, std::span<const simulate::Tasted> tasted,
          std::array<bool, kinds.size()>& warned) {
    std::vector<threshold::Asked> asked;
    std::vector<threshold::Counts> counts;
    for (const double x : method.levels_log10()) counts.push_back({x, 0, 0, 0.0});
    for (const simulate::Tasted& one : tasted) {
        asked.push_back({method.levels_log10()[one.level], one.spiked, one.picked});
        ++counts[one.level].presentations;
        if (one.correct) ++counts[one.level].correct;
    }
    std::erase_if(counts, [](const threshold::Counts& at) { return at.presentations == 0; });
    std::vector<threshold::Warning> all = threshold::warnings_for(reporting, counts, Scale::g_per_L);
    for (threshold::Warning& one : threshold::warnings_in_order(choosing, asked))
        all.push_back(std::move(one));
    for (std::size_t k = 0; k < kinds.size(); ++k)
        warned[k] =
            std::any_of(all.begin(), all.end(), [&](const auto& one) { return one.kind == kinds[k]; });
}

Seen seen_by(const simulate::Adaptive& method, const simulate::Person& person) {
    simulate::SittingRules rules;
    rules.checkpoints.assign(checkpoints.begin(), checkpoints.end());
    const simulate::Sitting sat = simulate::sitting(method, person, rules);
    threshold::Posterior choosing = method.choosing();
    threshold::Posterior reporting = method.reporting();
    Seen seen;
    std::size_t k = 0;
    for (std::size_t i = 0; i < sat.tasted.size(); ++i) {
        const simulate::Tasted& one = sat.tasted[i];
        choosing.update(method.chooser().table(one.level), one.correct);
        reporting.update(method.report_tables().table(one.level), one.correct);
        if (i + 1 != checkpoints[k]) continue;
        look(method, choosing, reporting, std::span(sat.tasted).first(i + 1), seen.warned[k]);
        const double truth = simulate::target(person, checkpoints[k]);
        seen.held[k] = sat.estimates[k].lower <= truth && truth <= sat.estimates[k].upper;
        ++k;
    }
    return seen;
}

std::vector<Seen> seen_by_all(const std::string& what, const simulate::Adaptive& method,
                              const simulate::Population& population, const Run& run) {
    std::vector<Seen> all(run.people);
    simulate::for_each_index(
        run.people, run.threads,
        [&](std::size_t i) {
            all[i] = seen_by(method, simulate::person_of(population, run.seed, i, checkpoints.back()));
        },
        [&](std::size_t done) {
            if (run.progress) run.progress("warnings, " + what, done, run.people);
        });
    return all;
}

std::size_t slot_of(Kind kind) {
    return static_cast<std::size_t>(std::find(kinds.begin(), kinds.end(), kind) - kinds.begin());
}

Row share_warned(const std::string& name, std::span<const Seen> all, std::size_t slot,
                 bool only_misses = false) {
    Row row{name, {}};
    for (std::size_t k = 0; k < checkpoints.size(); ++k) {
        std::vector<char> hits;
        for (const Seen& one : all)
            if (!only_misses || !one.held[k]) hits.push_back(one.warned[k][slot] ? 1 : 0);
        row.cells.push_back(hits.size() < 2 ? Cell() : Cell(simulate::share_of(hits)));
    }
    return row;
}

}  // namespace

void add_warnings(Report& report, const Run& run) {
    constexpr threshold::Grid reporting{201, 0.025, 16};
    constexpr double most_false_alarms = 0.05;
    const simulate::Adaptive first(shipped_engine_prior(), simulate::centred_ladder(6, 3.0),
                                   threshold::coarse_grid, reporting);
    const simulate::Adaptive finest(shipped_engine_prior(), simulate::centred_ladder(12, 1.6),
                                    threshold::coarse_grid, reporting);
    std::vector<std::string> headings;
    for (const std::size_t n : checkpoints) headings.push_back(std::to_string(n));
    Table alarms{"false_alarms",
                 "Share of nominal people who are warned, after so many presentations",
                 "",
                 headings,
                 {}};
    for (const bool is_first : {true, false}) {
        const std::string ladder = is_first ? "6 rungs of 3" : "12 rungs of 1.6";
        const auto all = seen_by_all("nominal, " + ladder, is_first ? first : finest, {}, run);
        for (std::size_t slot = 0; slot < kinds.size(); ++slot) {
            alarms.rows.push_back(share_warned(simulate::name_of(kinds[slot]) + ", " + ladder, all, slot));
            Figure most{};
            for (const Cell& cell : alarms.rows.back().cells)
                if (cell && cell->value >= most.value) most = *cell;
            report.goals.push_back({"false alarms, " + alarms.rows.back().name + ", most of all lengths",
                                    "at most 0.05", most, most.value <= most_false_alarms});
        }
    }
    report.tables.push_back(std::move(alarms));
    Table power{
        "power",
        "Share of people with a trouble who are warned of it, 6 rungs of 3",
        "\"Of those outside\": only of those whose interval misses the truth, as far as there are any.",
        headings,
        {}};
    for (const Trouble& trouble : troubles()) {
        const auto all = seen_by_all(trouble.name, first, trouble.population, run);
        const std::string name = trouble.name + ": " + simulate::name_of(trouble.kind);
        power.rows.push_back(share_warned(name, all, slot_of(trouble.kind)));
        power.rows.push_back(share_warned("  of those outside", all, slot_of(trouble.kind), true));
    }
    report.tables.push_back(std::move(power));
}

}  // namespace sipladder::benchmark
