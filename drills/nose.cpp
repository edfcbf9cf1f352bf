// The two thresholds share a person and bottles. Given the answers they are fitted apart, each with its own
// prior, width and lapse, so the difference is the convolution of two posteriors; the bottles' common error
// is left out of both, since it moves them together.

#include "drills/nose.hpp"

#include "drills/rules.hpp"
#include "engine/text.hpp"

#include <cmath>

namespace sipladder::drills {

namespace {

void check(const Plan& plan, Problems& problems) {
    problems.want(plan.blinding == Blinding::served || plan.blinding == Blinding::shuffled_tray, "blinding",
                  "has no way to say how the nose is held", "a helper pours, or a shuffled tray");
    problems.want(plan.order == Order::adaptive, "order", "is ascending", "adaptive");
    problems.want(plan.most_presentations >= 2, "presentations",
                  "are " + std::to_string(plan.most_presentations), "at least one for each way");
}

Question question(const Plan& plan) {
    return {.text = "Which cup holds the " + plan.substance.asked_for + "?",
            .choices = place_words(cups_together(plan)),
            .about_places = true,
            .asks_certainty = true};
}

/// Open or closed first in each pair, by chance.
std::optional<Wanted> choose(const State& drill) {
    constexpr std::uint64_t first_pair_use = 30'000;  // away from the uses of drills/blinding
    const std::size_t number = drill.trials.size();
    Random random(derived(drill.seed, first_pair_use + number / 2));
    const std::size_t series = (random.below(2) + number) % 2;
    const auto level = level_for(drill, series);
    return level ? std::optional(Wanted{series, *level, false}) : std::nullopt;
}

Finding found(const State& drill) {
    const nose::Result result = nose::result(drill);
    Finding finding;
    finding.thresholds.push_back({"nose open", result.open});
    finding.thresholds.push_back({"nose closed", result.closed});
    finding.measures.push_back(
        {"closed over open", result.ratio, result.ratio_lower, result.ratio_upper, ""});
    finding.sentences.push_back(percent(result.closed_is_higher) +
                                " sure that it takes more with the nose closed.");
    return finding;
}

threshold::Threshold without_common_error(const State& drill, std::size_t series) {
    solution::MixedLadder ladder = drill.plan.ladder;
    for (solution::MixedLevel& level : ladder.levels) level.u_shared_rel = 0.0;
    return threshold::threshold(ladder, answered(drill, series), drill.plan.prior, task_of(drill.plan));
}

struct Difference {
    double lower{};
    double middle{};
    double upper{};
    double above_zero{};
};

/// Of two thetas on the same grid.
Difference difference_of(const threshold::Threshold& more, const threshold::Threshold& less) {
    const std::size_t cells = more.theta_grid_log10.size();
    SIPLADDER_EXPECT(cells > 1 && less.theta_grid_log10.size() == cells);
    const double step = more.theta_grid_log10[1] - more.theta_grid_log10[0];
    std::vector<double> masses(2 * cells - 1, 0.0);
    std::vector<double> centres(masses.size());
    for (std::size_t i = 0; i < cells; ++i)
        for (std::size_t j = 0; j < cells; ++j)
            masses[i + cells - 1 - j] += more.theta_density[i] * less.theta_density[j];
    double total = 0.0;
    for (const double mass : masses) total += mass;
    Difference found;
    for (std::size_t k = 0; k < masses.size(); ++k) {
        masses[k] /= total;
        centres[k] = (static_cast<double>(k) - static_cast<double>(cells - 1)) * step;
        if (k == cells - 1) found.above_zero += 0.5 * masses[k];
        if (k > cells - 1) found.above_zero += masses[k];
    }
    found.lower = threshold::cell_quantile(centres, step, masses, 0.025);
    found.middle = more.log10 - less.log10;
    found.upper = threshold::cell_quantile(centres, step, masses, 0.975);
    return found;
}

}  // namespace

const Rules& nose_rules() {
    static constexpr Rules rules{.name = "nose",
                                 .cups_together = places,
                                 .check = check,
                                 .choose = choose,
                                 .believe = believe_right_or_wrong,
                                 .is_precise = all_series_precise,
                                 .question = question,
                                 .finding = found};
    return rules;
}

namespace nose {

Result result(const State& drill) {
    const Difference ratio = difference_of(without_common_error(drill, 1), without_common_error(drill, 0));
    return {threshold_so_far(drill, 0),  threshold_so_far(drill, 1),  std::pow(10.0, ratio.middle),
            std::pow(10.0, ratio.lower), std::pow(10.0, ratio.upper), ratio.above_zero};
}

}  // namespace nose

}  // namespace sipladder::drills
