#include "tools/benchmark/speed.hpp"

#include "engine/text.hpp"
#include "engine/threshold/next_level.hpp"
#include "engine/threshold/threshold.hpp"
#include "tools/benchmark/joint_entropy.hpp"
#include "tools/benchmark/methods.hpp"
#include "tools/benchmark/quest.hpp"
#include "tools/benchmark/timing.hpp"

#include <algorithm>
#include <chrono>

namespace sipladder::benchmark {

namespace {

using Clock = std::chrono::steady_clock;

bool usually_right(std::size_t round) {
    return round % 3 != 0;
}

/// The grid of the goal: 101 thresholds, 21 widths, 7 lapses.
struct Duel {
    std::vector<double> levels = simulate::centred_ladder(12, 1.6);
    threshold::Posterior start;
    JointGrid grid;

    Duel() {
        threshold::Prior prior = matched_engine_prior();
        prior.lapses = threshold::beta_lapses(1.5, 48.5, 7);
        prior.lower_log10 = -1.52;
        prior.upper_log10 = 1.52;
        start = threshold::Posterior(prior, threshold::three_afc, threshold::Grid{101, 0.04, 21});
        grid.thetas.assign(start.thetas().begin(), start.thetas().end());
        grid.widths.assign(start.widths().begin(), start.widths().end());
        grid.lapses.assign(start.lapses().begin(), start.lapses().end());
        grid.cells.assign(start.cells().begin(), start.cells().end());
    }
};

}  // namespace

void add_speed(Report& report, std::size_t rounds) {
    Duel duel;
    const auto right = right_probabilities(duel.grid, duel.levels);
    const threshold::Chooser chooser(duel.start, duel.levels);
    const JointChooser quick(duel.grid, duel.levels);
    const std::vector<int> portions(duel.levels.size(), 1'000'000);
    constexpr std::size_t sitting =
        40;  // presentations, then anew: a posterior that has shrunk to a point is no use

    const double textbook = median_us(rounds, [&, cells = duel.grid.cells](std::size_t round) mutable {
        if (round % sitting == 0) duel.grid.cells = cells;
        answer(duel.grid.cells, right[textbook_choice(duel.grid, right)], usually_right(round));
    });
    const double identity = median_us(rounds, [&, cells = duel.grid.cells](std::size_t round) mutable {
        answer(cells, right[quick.choose(cells)], usually_right(round));
    });
    threshold::Posterior posterior = duel.start;
    std::vector<double> own_took;
    for (std::size_t round = 0; round < 10 * rounds; ++round) {
        if (round % sitting == 0) posterior = duel.start;
        const auto start = Clock::now();
        posterior.update(chooser.table(*next_level(posterior, chooser, portions)), usually_right(round));
        own_took.push_back(std::chrono::duration<double, std::micro>(Clock::now() - start).count());
    }
    std::nth_element(own_took.begin(), own_took.begin() + static_cast<std::ptrdiff_t>(own_took.size() / 2),
                     own_took.end());
    const double own = own_took[own_took.size() / 2];

    const threshold::Posterior coarse(shipped_engine_prior(), threshold::three_afc,
                                      threshold::Fineness::coarse);
    const threshold::Chooser coarse_chooser(coarse, duel.levels);
    threshold::Posterior asked = coarse;
    std::vector<std::size_t> served;
    const double drill = median_us(10 * rounds, [&](std::size_t round) {
        if (round % sitting == 0) {
            asked = coarse;
            served.clear();
        }
        const std::size_t level = *next_level_varied(asked, coarse_chooser, portions, served);
        served.push_back(level);
        asked.update(coarse_chooser.table(level), usually_right(round));
    });
    const std::vector<threshold::Counts> counts{
        {-0.51, 3, 1, 0.01}, {-0.31, 4, 2, 0.01}, {-0.1, 4, 3, 0.01}, {0.1, 3, 3, 0.01}, {0.31, 2, 2, 0.01}};
    const double fit = median_us(std::max<std::size_t>(rounds / 4, 3), [&](std::size_t) {
        threshold::threshold(counts, shipped_engine_prior(), threshold::three_afc, {.u_shared_log10 = 0.01});
    });
    Quest quest({.guess_sd = 1.0, .p_threshold = 0.66, .beta = 1.73, .delta = 0.02, .gamma = 1.0 / 3.0});
    const double one_axis = median_us(
        rounds, [&](std::size_t round) { quest.update(quest.recommended(), usually_right(round)); });

    const auto row = [&](std::string name, double us) {
        return Row{std::move(name), {simulate::Figure{us, 0.0}, simulate::Figure{textbook / us, 0.0}}};
    };
    report.tables.push_back(
        {"speed",
         "Time of one choice with the update after it (median, one core)",
         "Grid of 101 thresholds, 21 widths, 7 lapses and 12 levels, but where said.",
         {"microseconds", "times as fast as the textbook"},
         {row("expected joint entropy as the papers write it", textbook),
          row("the same choice as a mutual information", identity), row("Sipladder on the same grid", own),
          row("Sipladder as the drill does it (76 x 8 x 6, rules against runs)", drill),
          row("QUEST, one axis of 501 points", one_axis),
          row("a whole fit with mixing uncertainty and warnings (fine grid)", fit)}});
    report.goals.push_back({"choice and update, times as fast as the textbook's expected joint entropy",
                            "at least 35", simulate::Figure{textbook / own, 0.0}, textbook / own >= 35.0});
}

}  // namespace sipladder::benchmark
