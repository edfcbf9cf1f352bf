#include "engine/threshold/warnings.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <boost/math/distributions/binomial.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

// Each warning is a rule of thumb whose limit is a judgement; they are tuned so that a person who answers as
// the model says sees one seldom. They say what was seen, what it means and what to do.

namespace sipladder::threshold {

namespace {

constexpr std::size_t few = 8;      // judgement: below this the interval spans a factor of six or more
constexpr double guessing_p = 0.2;  // judgement: guessing alone does as well one time in five
constexpr std::size_t least_all_correct = 4;  // judgement
constexpr std::size_t slips_one_in = 12;      // judgement: as many slips leave "all right" as good as true
constexpr double most_surprise = 2.5;         // judgement: combined standard deviations
constexpr double edge_share = 0.02;           // of the range, at each end
constexpr double edge_mass = 0.05;            // judgement
constexpr double many_lapses = 0.10;          // judgement: a quarter of the information is lost at this rate
constexpr double wide = 1.6;                  // judgement: log10 units from 10 to 90 %, twice the usual

struct Seen {
    std::size_t presentations{};
    std::size_t correct{};
    double weakest_log10{};
    double strongest_log10{};
};

Seen seen_in(std::span<const Counts> counts) {
    Seen seen;
    for (const Counts& at : counts) {
        if (at.presentations == 0) continue;
        if (seen.presentations == 0) seen.weakest_log10 = seen.strongest_log10 = at.x_log10;
        seen.weakest_log10 = std::min(seen.weakest_log10, at.x_log10);
        seen.strongest_log10 = std::max(seen.strongest_log10, at.x_log10);
        seen.presentations += at.presentations;
        seen.correct += at.correct;
    }
    return seen;
}

/// Probability of at least this many right by guessing alone.
double by_guessing(std::size_t correct, std::size_t presentations, double guess) {
    if (correct == 0) return 1.0;
    if (guess <= 0.0) return 0.0;
    const boost::math::binomial distribution{static_cast<double>(presentations), guess};
    return boost::math::cdf(boost::math::complement(distribution, static_cast<double>(correct) - 1.0));
}

std::string strength(double log10, Scale scale) {
    return significant(std::pow(10.0, log10), 2) + " " + unit_text(scale);
}

std::string of(std::size_t part, std::size_t whole) {
    return std::to_string(part) + " of " + std::to_string(whole);
}

/// How far the answers alone lie from the prior's centre, in combined standard deviations.
double distance_from_prior(const Posterior& posterior) {
    const std::vector<double> marginal = posterior.theta_marginal();
    std::vector<double> likelihood(marginal.size(), 0.0);
    double total = 0.0;
    double mean = 0.0;
    for (std::size_t t = 0; t < marginal.size(); ++t) {
        const double density = theta_density(posterior.prior(), posterior.thetas()[t]);
        if (density > 0.0) likelihood[t] = marginal[t] / density;
        total += likelihood[t];
        mean += likelihood[t] * posterior.thetas()[t];
    }
    mean /= total;
    double variance = 0.0;
    for (std::size_t t = 0; t < marginal.size(); ++t) {
        const double off = posterior.thetas()[t] - mean;
        variance += likelihood[t] / total * off * off;
    }
    return (mean - posterior.prior().mean_log10) /
           std::hypot(std::sqrt(variance), posterior.prior().sd_log10);
}

/// Probability of the nodes above a limit, over what the prior gave them; nothing where the prior has none
/// there, or nothing else.
std::optional<double> odds_against_before(std::span<const double> nodes, std::span<const double> now,
                                          std::span<const double> before, double limit) {
    double here = 0.0;
    double there = 0.0;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (nodes[i] < limit) continue;
        here += now[i];
        there += before[i];
    }
    if (there <= 0.0 || there >= 1.0 || here >= 1.0) return std::nullopt;
    return here / (1.0 - here) * (1.0 - there) / there;
}

/// More answers tell more of the shape, so the odds of ordinary people spread with their number. The limits
/// were set by simulation: at most 5 in 100 ordinary sittings pass them, with 12 to 48 presentations.
struct OddsLimit {
    double at_one{};
    double per_ln{};  ///< per unit of the logarithm of the number of presentations

    double after(std::size_t presentations) const {
        return at_one + per_ln * std::log(static_cast<double>(std::max<std::size_t>(presentations, few)));
    }
};
constexpr OddsLimit lapse_odds{0.42, 0.60};
constexpr OddsLimit width_odds{-0.12, 0.85};

void warn_of_shape(const Posterior& posterior, std::size_t presentations, std::vector<Warning>& warnings) {
    const Posterior before{posterior.prior(), posterior.task(), Grid{1, 1e3, posterior.widths().size()},
                           posterior.shape()};
    const auto lapses = odds_against_before(posterior.lapses(), posterior.lapse_marginal(),
                                            before.lapse_marginal(), many_lapses);
    if (lapses && *lapses > lapse_odds.after(presentations))
        warnings.push_back({Warning::Kind::lapses,
                            "Some answers were wrong where the level should have been clear: slips, "
                            "tiredness or a mixed-up bottle. "
                            "Rest longer between cups. (A weak sign: of people who slip in one answer of "
                            "five, most are not seen.)"});
    const auto widths =
        odds_against_before(posterior.widths(), posterior.width_marginal(), before.width_marginal(), wide);
    if (widths && *widths > width_odds.after(presentations))
        warnings.push_back({Warning::Kind::shallow,
                            "Right answers grow slowly with strength: the threshold is less sharp than with "
                            "most people, and the "
                            "interval may be too narrow. Take more presentations. (A weak sign in a short "
                            "sitting: most people with "
                            "so slow a rise are not seen.)"});
}

void warn_of_edges(const Posterior& posterior, Scale scale, std::vector<Warning>& warnings) {
    const std::vector<double> marginal = posterior.theta_marginal();
    const auto cells =
        static_cast<std::ptrdiff_t>(std::ceil(edge_share * static_cast<double>(marginal.size())));
    const Range range = theta_range(posterior.prior());
    if (std::accumulate(marginal.begin(), marginal.begin() + cells, 0.0) > edge_mass)
        warnings.push_back({Warning::Kind::grid_edge,
                            "The answers press against the lower end of what was allowed (" +
                                strength(range.lower, scale) + "); the true threshold may lie below it."});
    if (std::accumulate(marginal.end() - cells, marginal.end(), 0.0) > edge_mass)
        warnings.push_back({Warning::Kind::grid_edge,
                            "The answers press against the upper end of what was allowed (" +
                                strength(range.upper, scale) + "); the true threshold may lie above it."});
}

void warn_of_ends(const Seen& seen, double guess, Scale scale, std::vector<Warning>& warnings) {
    const std::size_t wrong = seen.presentations - seen.correct;
    if (seen.presentations >= least_all_correct && wrong <= seen.presentations / slips_one_in) {
        const std::string how_many = wrong == 0
                                         ? "Every answer was right"
                                         : "All but " + of(wrong, seen.presentations) + " answers were right";
        warnings.push_back(
            {Warning::Kind::all_correct,
             how_many + ", down to " + strength(seen.weakest_log10, scale) +
                 ": the threshold probably lies below this ladder, and the figure leans on what "
                 "was assumed. Mix a weaker ladder."});
    } else if (by_guessing(seen.correct, seen.presentations, guess) > guessing_p) {
        warnings.push_back(
            {Warning::Kind::guessing,
             of(seen.correct, seen.presentations) +
                 " right is no more than guessing often gives: the threshold may lie above " +
                 strength(seen.strongest_log10, scale) +
                 ", and the figure leans on what was assumed. Mix a stronger ladder, or taste again "
                 "when rested."});
    }
}

}  // namespace

std::vector<Warning> warnings_for(const Posterior& posterior, std::span<const Counts> counts, Scale scale) {
    const Seen seen = seen_in(counts);
    std::vector<Warning> warnings;
    if (seen.presentations == 0) {
        warnings.push_back(
            {Warning::Kind::too_few, "No answers yet: this is only what was assumed beforehand."});
        return warnings;
    }
    if (seen.presentations < few)
        warnings.push_back({Warning::Kind::too_few,
                            "Only " + std::to_string(seen.presentations) +
                                (seen.presentations == 1 ? " answer" : " answers") +
                                " so far: the figure still leans on what was assumed. Take 12 or more."});
    warn_of_ends(seen, posterior.task().guess, scale, warnings);
    if (posterior.prior().kind != Prior::Kind::flat) {
        const double distance = distance_from_prior(posterior);
        if (std::abs(distance) > most_surprise)
            warnings.push_back(
                {Warning::Kind::against_prior,
                 std::string("The answers point to a threshold far ") + (distance < 0.0 ? "below" : "above") +
                     " what was assumed (about " + strength(posterior.prior().mean_log10, scale) +
                     "). Check that the right bottles were poured and how they were mixed; if all is "
                     "well, taste again, so that the answers outweigh the assumption."});
    }
    warn_of_edges(posterior, scale, warnings);
    warn_of_shape(posterior, seen.presentations, warnings);
    return warnings;
}

}  // namespace sipladder::threshold
