#include "tests/threshold/graded_people.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <string>

// How often does the 95 % interval of graded single cups hold the truth, for people of unknown grading
// habits, 24 spiked cups and 12 blanks each? SIPLADDER_LONG=1 asks 2000 people in place of 40.

using namespace sipladder;
using namespace sipladder::threshold;
using namespace sipladder::tests;

TEST_CASE("intervals of graded cups hold the truth about as often as they say") {
    const int people = std::getenv("SIPLADDER_LONG") != nullptr ? 2000 : 40;
    Prior prior;
    prior.sd_log10 = 0.45;
    int held = 0;
    double square = 0.0;
    for (int i = 1; i <= people; ++i) {
        Random random{Seed{static_cast<std::uint64_t>(i)}};
        const Curve truth{0.35 * random.normal(), 0.5 * std::pow(2.4, random.uniform()), 0.03};
        const double first = 0.9 * random.uniform();
        const double spacing = 0.4 * std::pow(2.75, random.uniform());
        const GradedFit fit =
            graded_threshold(graded_cups(along(truth), truth.lapse,
                                         {first, first + spacing, first + 2.0 * spacing}, 3, 12, random),
                             prior, Scale::g_per_L);
        if (fit.threshold.lower_log10 <= truth.theta_log10 && truth.theta_log10 <= fit.threshold.upper_log10)
            ++held;
        square += std::pow(fit.threshold.log10 - truth.theta_log10, 2);
    }
    const double coverage = static_cast<double>(held) / people;
    const double rmse = std::sqrt(square / people);
    MESSAGE("graded cups, 24 + 12 blanks, ", people, " people: coverage ", coverage, ", RMSE ", rmse);
    CHECK(coverage >= 0.95 - 3.0 * std::sqrt(0.95 * 0.05 / people));
    CHECK(rmse < 0.25);
}
