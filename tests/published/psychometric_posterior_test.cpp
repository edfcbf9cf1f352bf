#include "engine/threshold/posterior.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::tests;
using namespace sipladder::threshold;

namespace {

/// The reference is a plain normal in ln slope, six standard deviations each way; ln width = ln(width in s) -
/// ln slope.
Prior prior_of(const PublishedCase& c, Shape shape) {
    constexpr double reach = 6.0;
    Prior prior;
    prior.kind = Prior::Kind::normal;
    prior.mean_log10 = c.data("theta_mean").number();
    prior.sd_log10 = c.data("theta_sd").number();
    prior.width_ln_mean = std::log(width_in_s(shape)) - c.data("ln_slope_mean").number();
    prior.width_ln_sd = c.data("ln_slope_sd").number();
    prior.width_lower = std::exp(prior.width_ln_mean - reach * prior.width_ln_sd);
    prior.width_upper = std::exp(prior.width_ln_mean + reach * prior.width_ln_sd);
    if (c.data().has("lapse_beta")) {
        const std::vector<double> beta = c.data("lapse_beta").numbers();
        prior.lapses = beta_lapses(beta.at(0), beta.at(1), 16, c.data("lapse_most").number());
    } else {
        prior.lapses = {{c.data("lapse").number(), 1.0}};
    }
    return prior;
}

/// ln slope of each width, with probabilities: ascending in ln slope.
struct LnSlopes {
    std::vector<double> values;
    std::vector<double> probabilities;
    double step{};
};

LnSlopes ln_slopes(const Posterior& posterior) {
    const std::vector<double> marginal = posterior.width_marginal();
    LnSlopes slopes;
    for (std::size_t w = marginal.size(); w-- > 0;) {
        slopes.values.push_back(std::log(width_in_s(posterior.shape()) / posterior.widths()[w]));
        slopes.probabilities.push_back(marginal[w]);
    }
    slopes.step = slopes.values[1] - slopes.values[0];
    return slopes;
}

double mean_of(const std::vector<double>& values, const std::vector<double>& probabilities) {
    double mean = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i) mean += values[i] * probabilities[i];
    return mean;
}

double sd_of(const std::vector<double>& values, const std::vector<double>& probabilities) {
    const double mean = mean_of(values, probabilities);
    double square = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i)
        square += probabilities[i] * (values[i] - mean) * (values[i] - mean);
    return std::sqrt(square);
}

double correlation(const Posterior& posterior) {
    const LnSlopes slopes = ln_slopes(posterior);
    const double mean_theta = posterior.mean();
    const double mean_slope = mean_of(slopes.values, slopes.probabilities);
    double product = 0.0;
    std::size_t cell = 0;
    for (const double theta : posterior.thetas())
        for (const double width : posterior.widths())
            for (std::size_t l = 0; l < posterior.lapses().size(); ++l)
                product += posterior.cells()[cell++] * (theta - mean_theta) *
                           (std::log(width_in_s(posterior.shape()) / width) - mean_slope);
    return product / posterior.sd() / sd_of(slopes.values, slopes.probabilities);
}

/// The probability below x, found by asking for quantiles.
double theta_below(const Posterior& posterior, double x) {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 30; ++i) {
        const double middle = 0.5 * (low + high);
        (posterior.quantile(middle) < x ? low : high) = middle;
    }
    return low;
}

std::vector<double> values_of(const std::string& name, const Posterior& posterior) {
    const LnSlopes slopes = ln_slopes(posterior);
    std::vector<double> quantiles;
    if (name == "theta_quantiles") {
        for (const double p : {0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975})
            quantiles.push_back(posterior.quantile(p));
        return quantiles;
    }
    if (name == "ln_slope_quantiles") {
        for (const double p : {0.025, 0.5, 0.975})
            quantiles.push_back(cell_quantile(slopes.values, slopes.step, slopes.probabilities, p));
        return quantiles;
    }
    const std::vector<double> lapses(posterior.lapses().begin(), posterior.lapses().end());
    if (name == "theta_mean") return {posterior.mean()};
    if (name == "theta_sd") return {posterior.sd()};
    if (name == "ln_slope_mean") return {mean_of(slopes.values, slopes.probabilities)};
    if (name == "ln_slope_sd") return {sd_of(slopes.values, slopes.probabilities)};
    if (name == "correlation") return {correlation(posterior)};
    if (name == "log_evidence") return {posterior.log_evidence()};
    if (name == "lapse_mean") return {mean_of(lapses, posterior.lapse_marginal())};
    if (name == "theta_below_0.7") return {theta_below(posterior, 0.7)};
    FAIL("no such figure of a posterior: ", name);
    return {};
}

}  // namespace

TEST_CASE("the grid posterior agrees with brute-force integration on a hundred times as many points") {
    for (const PublishedCase& c : published("psychometric_posterior.json")) {
        CAPTURE(c.id());
        CAPTURE(c.source_text());
        const Shape shape = c.data("shape").text() == "gaussian" ? Shape::gaussian : Shape::logistic;
        Posterior posterior{prior_of(c, shape), Task{c.data("guess").number()}, Grid{401, 0.02, 240}, shape};
        const std::vector<double> xs = c.data("x").numbers();
        const std::vector<double> presentations = c.data("presentations").numbers();
        const std::vector<double> correct = c.data("correct").numbers();
        for (std::size_t i = 0; i < xs.size(); ++i)
            posterior.update(Counts{xs[i], static_cast<std::size_t>(presentations.at(i)),
                                    static_cast<std::size_t>(correct.at(i)), 0.0});
        for (const PublishedExpectation& expected : c.expected()) {
            CAPTURE(expected.name);
            const std::vector<double> got = values_of(expected.name, posterior);
            CAPTURE(got.front());
            CHECK((got.size() == 1 ? within(got.front(), expected) : within(got, expected)));
        }
    }
}
