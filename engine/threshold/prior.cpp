#include "engine/threshold/prior.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <boost/math/special_functions/beta.hpp>

#include <cmath>

// The assumed prior is a judgement for a person of whom nothing is known. Its shape was set by simulation: a
// normal heart, and a second one wide enough that a person far from the rest is found; spreads scale with sd
// / 0.35.

namespace sipladder::threshold {

namespace {

constexpr double reference_sd = 0.35;  // the heart that the wide part and the cut below were chosen for
constexpr double wide_sd = 0.8;        // judgement
constexpr double wide_share = 0.15;    // judgement
constexpr double cut = 1.8;            // judgement
constexpr double normal_reach = 6.0;   // standard deviations: 2e-9 of a normal lies outside

double normal_shape(double z) {
    return std::exp(-0.5 * z * z);
}

}  // namespace

Range theta_range(const Prior& prior) {
    if (prior.kind == Prior::Kind::flat || prior.upper_log10 > prior.lower_log10)
        return {prior.lower_log10, prior.upper_log10};
    const double reach = prior.kind == Prior::Kind::normal ? normal_reach : cut / reference_sd;
    return {prior.mean_log10 - reach * prior.sd_log10, prior.mean_log10 + reach * prior.sd_log10};
}

double theta_density(const Prior& prior, double theta_log10) {
    const Range range = theta_range(prior);
    if (theta_log10 < range.lower || theta_log10 > range.upper) return 0.0;
    if (prior.kind == Prior::Kind::flat) return 1.0;
    const double z = (theta_log10 - prior.mean_log10) / prior.sd_log10;
    if (prior.kind == Prior::Kind::normal) return normal_shape(z);
    const double wider = wide_sd / reference_sd;
    return (1.0 - wide_share) * normal_shape(z) + wide_share * normal_shape(z / wider) / wider;
}

void check(const Prior& prior) {
    std::vector<Problem> problems;
    const auto want = [&](bool holds, const char* where, double found, const char* right) {
        if (!holds) problems.push_back({where, "is " + exact(found), right});
    };
    const Range range = theta_range(prior);
    if (prior.kind != Prior::Kind::flat) {
        want(std::isfinite(prior.mean_log10), "prior mean_log10", prior.mean_log10, "a finite number");
        want(std::isfinite(prior.sd_log10) && prior.sd_log10 > 0.0, "prior sd_log10", prior.sd_log10,
             "greater than 0");
    }
    want(std::isfinite(range.upper - range.lower) && range.upper > range.lower &&
             range.upper - range.lower < 100.0,
         "prior range", range.upper - range.lower, "lower below upper, by less than 100 decades");
    want(prior.width_ln_sd >= 0.0 && std::isfinite(prior.width_ln_sd), "prior width_ln_sd", prior.width_ln_sd,
         "0 or greater");
    want(prior.width_lower > 0.0 && std::isfinite(prior.width_lower), "prior width_lower", prior.width_lower,
         "greater than 0");
    want(prior.width_upper >= prior.width_lower && std::isfinite(prior.width_upper), "prior width_upper",
         prior.width_upper, "not below width_lower");
    double weight = 0.0;
    for (const Prior::LapseNode& node : prior.lapses) {
        want(node.lapse >= 0.0 && node.lapse < 1.0, "prior lapse", node.lapse, "0 to below 1");
        want(node.weight >= 0.0 && std::isfinite(node.weight), "prior lapse weight", node.weight,
             "0 or greater");
        weight += node.weight;
    }
    want(weight > 0.0, "prior lapse weights", weight, "at least one lapse rate with a weight above 0");
    if (!problems.empty()) throw Refused(std::move(problems));
}

std::vector<Prior::LapseNode> beta_lapses(double a, double b, std::size_t nodes, double most) {
    if (!(a > 0.0 && b > 0.0 && std::isfinite(a) && std::isfinite(b)))
        throw Refused("lapse prior", "beta(" + exact(a) + ", " + exact(b) + ")",
                      "both numbers greater than 0");
    if (!(most > 0.0 && most < 1.0 && nodes >= 1 && nodes <= 1000))
        throw Refused("lapse prior", "cut at " + exact(most), "a cut between 0 and 1, and 1 to 1000 nodes");
    const double whole = boost::math::ibeta(a, b, most);
    const double mean = a / (a + b);
    std::vector<Prior::LapseNode> result;
    double moment_below = 0.0;  // E[lapse; lapse < edge] = mean · I(edge; a + 1, b)
    for (std::size_t k = 1; k <= nodes; ++k) {
        const double share = static_cast<double>(k) / static_cast<double>(nodes);
        const double edge = k == nodes ? most : boost::math::ibeta_inv(a, b, share * whole);
        const double moment = mean * boost::math::ibeta(a + 1.0, b, edge);
        const double probability = whole / static_cast<double>(nodes);
        result.push_back({(moment - moment_below) / probability, 1.0 / static_cast<double>(nodes)});
        moment_below = moment;
    }
    return result;
}

}  // namespace sipladder::threshold
