// One cup is perceived or it is not. With d = (psi - g)/(1 - g) the assessor knows the cup, and otherwise
// picks one of the three blindly, which gives psi = d + (1 - d) g exactly. How sure it says to be follows
// from that: mostly "sure" when it knows, mostly "guessed" when it does not (the shares are a judgement, not
// a model of anybody).

#include "drills/assessor.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace sipladder::drills {

namespace {

double drawn_theta(const threshold::Prior& prior, Random& random) {
    const threshold::Range range = threshold::theta_range(prior);
    if (prior.kind == threshold::Prior::Kind::flat)
        return range.lower + (range.upper - range.lower) * random.uniform();
    for (;;) {  // rejection: the density is at most that of the centre
        const double theta = range.lower + (range.upper - range.lower) * random.uniform();
        if (random.uniform() * threshold::theta_density(prior, prior.mean_log10) <=
            threshold::theta_density(prior, theta))
            return theta;
    }
}

double drawn_width(const threshold::Prior& prior, Random& random) {
    if (prior.width_ln_sd == 0.0) return std::exp(prior.width_ln_mean);
    if (prior.width_upper <= prior.width_lower) return prior.width_lower;
    for (;;) {
        const double width = std::exp(prior.width_ln_mean + prior.width_ln_sd * random.normal());
        if (width >= prior.width_lower && width <= prior.width_upper) return width;
    }
}

double drawn_lapse(const threshold::Prior& prior, Random& random) {
    double total = 0.0;
    for (const auto& node : prior.lapses) total += node.weight;
    double left = total * random.uniform();
    for (const auto& node : prior.lapses) {
        left -= node.weight;
        if (left < 0.0) return node.lapse;
    }
    return prior.lapses.back().lapse;
}

Certainty drawn_certainty(bool knows, Random& random) {
    constexpr double usual = 0.7;
    if (random.uniform() < usual) return knows ? Certainty::sure : Certainty::guessed;
    return Certainty::leaning;
}

struct Pick {
    bool knows{};
    std::size_t place{};
};

/// Known for as much of the right answers as exceeds the share of a wrong place; otherwise one of the three,
/// drawn among what is left.
Pick picked(const std::array<double, places>& shares, std::size_t spiked, Random& random) {
    const double by_guess = *std::min_element(shares.begin(), shares.end());
    const double known = std::max(shares[spiked] - by_guess, 0.0);
    if (random.uniform() < known) return {true, spiked};
    const bool all_alike = std::all_of(shares.begin(), shares.end(), [&](double share) {
        return std::abs(share - by_guess) < 1e-12 || &share == &shares[spiked];
    });
    if (all_alike) return {false, random.below(places)};
    std::array<double, places> left = shares;
    left[spiked] -= known;
    double draw = random.uniform() * (1.0 - known);
    for (std::size_t place = 0; place + 1 < places; ++place) {
        draw -= left[place];
        if (draw < 0.0) return {false, place};
    }
    return {false, places - 1};
}

}  // namespace

double true_log10(const Assessor& assessor, const solution::MixedLadder& ladder, std::size_t level) {
    double x = std::log10(ladder.levels.at(level).mixed) + assessor.mixing_error_shared_log10;
    if (!assessor.mixing_error_own_log10.empty()) x += assessor.mixing_error_own_log10.at(level);
    return x;
}

Assessor with_drawn_mixing_errors(Assessor assessor, const solution::MixedLadder& ladder, Random& random) {
    double mean_shared = 0.0;
    for (const auto& level : ladder.levels)
        mean_shared += level.u_shared_rel / static_cast<double>(ladder.levels.size());
    const double shared = random.normal();
    assessor.mixing_error_shared_log10 = std::numbers::log10e * mean_shared * shared;
    assessor.mixing_error_own_log10.clear();
    // A rung that shares more, or less, than the others carries the difference of the same draw.
    for (const auto& level : ladder.levels)
        assessor.mixing_error_own_log10.push_back(
            std::numbers::log10e *
            (level.u_own_rel * random.normal() + (level.u_shared_rel - mean_shared) * shared));
    return assessor;
}

Assessor drawn_assessor(const Plan& plan, Random& random) {
    Assessor assessor;
    assessor.truth.theta_log10 = drawn_theta(plan.prior, random);
    assessor.truth.width_log10 = drawn_width(plan.prior, random);
    assessor.truth.lapse = drawn_lapse(plan.prior, random);
    return with_drawn_mixing_errors(std::move(assessor), plan.ladder, random);
}

State taste(State drill, const Assessor& assessor, Random& random, const Instant& at) {
    SIPLADDER_EXPECT(!std::holds_alternative<Reveal>(next(drill)));
    if (const auto now = serving(drill)) {
        const std::size_t place = now->place ? *now->place : random.below(places);  // spun by hand
        std::optional<double> before;
        if (!drill.trials.empty())
            before = true_log10(assessor, drill.plan.ladder, drill.trials.back().level);
        threshold::Curve curve = assessor.truth;
        curve.theta_log10 = theta_now(curve, assessor.habits, drill.trials.size(), before);
        const Pick pick =
            picked(pick_probabilities(curve, assessor.habits,
                                      true_log10(assessor, drill.plan.ladder, now->level), place),
                   place, random);
        drill = lock(std::move(drill), {pick.place, drawn_certainty(pick.knows, random), at});
        return now->place ? drill : reveal(std::move(drill), place, at);
    }
    return drill;
}

}  // namespace sipladder::drills
