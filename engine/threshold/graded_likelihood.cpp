#include "engine/normal.hpp"
#include "engine/problem.hpp"
#include "engine/threshold/discrimination.hpp"
#include "engine/threshold/graded.hpp"
#include "engine/threshold/graded_cups.hpp"
#include "engine/threshold/ordinal.hpp"

#include <cmath>
#include <limits>
#include <string>
#include <utility>

// Ordinal regression with two covariates: spiked or not, and for spiked cups the level. Blanks stay at 0, so
// the place of a level is its d'.

namespace sipladder::threshold {

namespace {

/// d' where this part of the rise from chance to certainty is done in 3-AFC.
double distance_at(double rise_share) {
    return d_prime_of(DifferenceTask::afc_3, (1.0 + 2.0 * rise_share) / 3.0);
}

/// Blanks first, then the levels; grades that nobody gave are left out, which merges them.
std::vector<OrdinalRow> rows_of(const graded::Pooled& cups, double middle) {
    std::vector<bool> is_given(cups.grades, false);
    const auto see = [&](const std::vector<std::size_t>& grades) {
        for (std::size_t g = 0; g < grades.size(); ++g)
            if (grades[g] > 0) is_given[g] = true;
    };
    see(cups.blanks);
    for (const auto& [x, grades] : cups.levels) see(grades);
    std::vector<OrdinalRow> rows;
    const auto add = [&](std::vector<double> covariates, const std::vector<std::size_t>& grades) {
        OrdinalRow row{std::move(covariates), {}};
        for (std::size_t g = 0; g < grades.size(); ++g)
            if (is_given[g]) row.counts.push_back(static_cast<double>(grades[g]));
        rows.push_back(std::move(row));
    };
    add({0.0, 0.0}, cups.blanks);
    for (const auto& [x, grades] : cups.levels) add({1.0, x - middle}, grades);
    return rows;
}

}  // namespace

GradedFit graded_likelihood(std::span<const GradedCounts> counts, Scale scale, double u_shared_log10) {
    const graded::Pooled cups = graded::pooled(counts);
    if (cups.levels.size() < 2)
        throw Refused("levels", std::to_string(cups.levels.size()) + " with cups",
                      "two or more; one level cannot place a line without a prior");
    const double middle = 0.5 * (cups.levels.begin()->first + cups.levels.rbegin()->first);
    const OrdinalFit line = ordinal_regression(rows_of(cups, middle), Link::probit);

    GradedFit fit;
    fit.deviance = line.deviance;
    fit.deviance_df = line.deviance_df;
    fit.log_likelihood = line.log_likelihood + graded::ln_ways(cups.blanks);
    for (const auto& [x, grades] : cups.levels) fit.log_likelihood += graded::ln_ways(grades);
    const std::size_t cuts = line.cut_points.size();
    const double height = line.coefficients[0];
    const double slope = line.coefficients[1];
    for (const double cut : line.cut_points) fit.cut_points.push_back(cut);
    Threshold& t = fit.threshold;
    t.scale = scale;
    t.prior = "none (ordinal probit, greatest likelihood)";
    const double off = (distance_at(0.5) - height) / slope;
    const auto& v = line.covariance;
    // Delta method: d(theta) = -(d(height) + (theta - middle) d(slope)) / slope.
    const double variance = v[cuts][cuts] + 2.0 * off * v[cuts][cuts + 1] + off * off * v[cuts + 1][cuts + 1];
    const bool rises = slope > normal_975 * line.standard_error(cuts + 1);
    t.log10 = middle + off;
    t.sd_log10 = rises ? std::sqrt(variance) / slope : std::numeric_limits<double>::infinity();
    t.lower_log10 = t.log10 - normal_975 * t.sd_log10;
    t.upper_log10 = t.log10 + normal_975 * t.sd_log10;
    t.width_log10 = (distance_at(0.9) - distance_at(0.1)) / std::abs(slope);
    graded::widen(t, u_shared_log10);
    if (!rises)
        t.warnings.push_back(
            {Warning::Kind::guessing,
             "The grades do not rise with the level beyond chance: no threshold can be placed."});
    graded::warn(cups, 0.0, t);
    return fit;
}

}  // namespace sipladder::threshold
