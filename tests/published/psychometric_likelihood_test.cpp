#include "engine/threshold/likelihood.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

struct Fitted {
    LikelihoodFit fit;
    Shape shape{};
    double guess{};
    std::vector<double> xs;
};

Fitted fit_of(const PublishedCase& c) {
    std::vector<Counts> counts;
    const std::vector<double> xs = c.data("x").numbers();
    const std::vector<double> presentations = c.data("presentations").numbers();
    const std::vector<double> correct = c.data("correct").numbers();
    for (std::size_t i = 0; i < xs.size(); ++i)
        counts.push_back({xs[i], static_cast<std::size_t>(presentations.at(i)),
                          static_cast<std::size_t>(correct.at(i)), 0.0});
    LikelihoodSettings settings;
    const std::string shape = c.data("shape").text();
    settings.shape = shape == "gaussian"  ? Shape::gaussian
                     : shape == "weibull" ? Shape::weibull
                                          : Shape::logistic;
    const bool is_free = c.id().find("lapse_free") != std::string::npos || c.id() == "demo_2afc_printed";
    settings.lapse = is_free ? std::nullopt : std::optional<double>(c.data("lapse").number());
    const double guess = c.data("guess").number();
    return {maximum_likelihood(counts, Task{guess}, settings), settings.shape, guess, xs};
}

/// The share right at x, less the floor that is asked for: for checking an inverse.
double share_at(const Fitted& f, double x) {
    const double height = 1.0 - f.guess - f.fit.lapse;
    return f.guess + height * rise(f.fit.slope_per_log10 * (x - f.fit.theta_log10), f.shape);
}

double number_named(const std::string& name, const Fitted& f) {
    constexpr double gaussian_05_95 = 3.289707253902945;  // 2 z(0.95)
    constexpr double logistic_05_95 = 5.888877957332880;  // 2 ln 19
    const LikelihoodFit& fit = f.fit;
    if (name == "alpha") return fit.theta_log10;
    if (name == "slope" || name == "slope_by_glm") return fit.slope_per_log10;
    if (name == "one_over_slope") return 1.0 / fit.slope_per_log10;
    if (name == "lambda") return fit.lapse;
    if (name == "deviance") return fit.deviance;
    if (name == "loglik") return fit.log_likelihood;
    if (name == "loglik_of_answers") return fit.log_likelihood_of_answers;
    if (name == "profile_upper_alpha") return fit.upper_log10;
    if (name == "step_loglik") return fit.step_log_likelihood;
    if (name == "intercept") return -fit.slope_per_log10 * fit.theta_log10;
    if (name == "intercept_cloglog")
        return std::log(std::numbers::ln2) - fit.slope_per_log10 * fit.theta_log10;
    if (name == "threshold_concentration") return std::pow(10.0, fit.theta_log10);
    if (name == "se_alpha_observed") return fit.se_theta_observed.value();
    if (name == "se_slope_observed") return fit.se_slope_observed.value();
    if (name == "se_lambda_observed") return fit.se_lapse_observed.value();
    if (name == "se_alpha_expected") return fit.se_theta_expected.value();
    if (name == "se_slope_expected" || name == "se_slope_expected_by_glm")
        return fit.se_slope_expected.value();
    if (name == "width_05_95")
        return (f.shape == Shape::gaussian ? gaussian_05_95 : logistic_05_95) / fit.slope_per_log10;
    FAIL("no such figure of a fit: ", name);
    return 0.0;
}

void check(const Fitted& f, const PublishedExpectation& expected) {
    CAPTURE(expected.name);
    if (expected.name == "separable") {
        CHECK(f.fit.separable == expected.value.boolean());
    } else if (expected.name == "profile_ci95_alpha") {
        CHECK(within(std::vector<double>{f.fit.lower_log10, f.fit.upper_log10}, expected));
    } else if (expected.name == "fitted") {
        std::vector<double> shares;
        for (const double x : f.xs) shares.push_back(share_at(f, x));
        CHECK(within(shares, expected));
    } else if (expected.name == "x_at_75pct") {
        const double reach = expected.abs + expected.rel * std::abs(expected.number());
        CHECK(share_at(f, expected.number() - reach) < 0.75);
        CHECK(share_at(f, expected.number() + reach) > 0.75);
    } else {
        const double got = number_named(expected.name, f);
        CAPTURE(got);
        CAPTURE(expected.number());
        CHECK(within(got, expected));
    }
}

}  // namespace

TEST_CASE("curves of greatest likelihood agree with published and recomputed fits") {
    for (const PublishedCase& c : published("psychometric_likelihood.json")) {
        CAPTURE(c.id());
        CAPTURE(c.source_text());
        const Fitted f = fit_of(c);
        if (!c.expects("separable")) CHECK(!f.fit.separable);
        for (const PublishedExpectation& expected : c.expected()) check(f, expected);
    }
}

TEST_CASE("degrees of freedom are levels less fitted parameters") {
    const Fitted fixed = fit_of(published("psychometric_likelihood.json", "simulated_3afc_person_1"));
    CHECK(fixed.fit.deviance_df == 5);
    const Fitted free =
        fit_of(published("psychometric_likelihood.json", "five_levels_2afc_gauss_lapse_free"));
    CHECK(free.fit.deviance_df == 2);
}
