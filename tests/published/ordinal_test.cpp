#include "engine/threshold/ordinal.hpp"

#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

Link link_of(const PublishedCase& c) {
    return c.data("link").text() == "probit" ? Link::probit : Link::logit;
}

OrdinalFit fit_of(const PublishedCase& c) {
    const auto covariates = c.data("covariates").rows();
    const auto counts = c.data("counts").rows();
    std::vector<OrdinalRow> rows;
    for (std::size_t i = 0; i < counts.size(); ++i) rows.push_back({covariates.at(i), counts[i]});
    return ordinal_regression(rows, link_of(c));
}

std::vector<double> errors(const OrdinalFit& fit, std::size_t from, std::size_t count) {
    std::vector<double> found;
    for (std::size_t i = 0; i < count; ++i) found.push_back(fit.standard_error(from + i));
    return found;
}

void check_budworm(const PublishedCase& c, const OrdinalFit& fit) {
    // Category 2 is "dead", so an intercept is a coefficient less the cut point.
    const double cut = fit.cut_points.at(0);
    const double slope = fit.coefficients.at(1);
    CHECK(within(std::vector<double>{-cut, fit.coefficients[0] - cut, slope},
                 c.expected("intercepts_then_slope")));
    CHECK(within(fit.deviance, c.expected("deviance")));
    CHECK(fit.deviance_df == 9);
    const double quarter = link_of(c) == Link::probit ? -0.674489750196082 : -std::log(3.0);
    std::vector<double> doses;
    std::vector<double> dose_errors;
    const auto& v = fit.covariance_expected;
    for (const double place : {quarter, 0.0, -quarter}) {
        doses.push_back((place + cut) / slope);
        // Delta method: d(dose) = (d(cut) - dose d(slope)) / slope.
        const double dose = doses.back();
        dose_errors.push_back(std::sqrt(v[0][0] - 2.0 * dose * v[0][2] + dose * dose * v[2][2]) / slope);
    }
    CHECK(within(doses, c.expected("dose_25_50_75")));
    CHECK(within(dose_errors, c.expected("dose_se")));
    if (!c.expects("dose_printed")) return;
    CHECK(within(doses, c.expected("dose_printed")));
    CHECK(within(dose_errors, c.expected("dose_se_printed")));
    CHECK(within(std::vector<double>{fit.standard_error(0), fit.standard_error(2)},
                 c.expected("intercept_and_slope_se")));
}

}  // namespace

TEST_CASE("ordinal probit and logit agree with published tables and R, standard errors too") {
    for (const PublishedCase& c : published("ordinal.json")) {
        CAPTURE(c.id());
        CAPTURE(c.source_text());
        const OrdinalFit fit = fit_of(c);
        if (c.id().starts_with("budworm")) {
            check_budworm(c, fit);
            continue;
        }
        const std::size_t cuts = fit.cut_points.size();
        CHECK(within(fit.coefficients, c.expected("coefficients")));
        CHECK(within(fit.cut_points, c.expected("cut_points")));
        if (c.expects("minus_two_loglik"))
            CHECK(within(-2.0 * fit.log_likelihood, c.expected("minus_two_loglik")));
        if (c.expects("loglik")) CHECK(within(fit.log_likelihood, c.expected("loglik")));
        if (c.expects("se_coefficients")) {
            CHECK(within(errors(fit, cuts, fit.coefficients.size()), c.expected("se_coefficients")));
            CHECK(within(errors(fit, 0, cuts), c.expected("se_cut_points")));
        }
        if (c.expects("se_cut_points_then_slope"))
            CHECK(within(errors(fit, 0, cuts + 1), c.expected("se_cut_points_then_slope")));
    }
}
