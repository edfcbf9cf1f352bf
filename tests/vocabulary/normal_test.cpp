#include "engine/normal.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace sipladder;

TEST_CASE("the normal distribution agrees with R in its middle and far in its tails") {
    // Computed with R 4.2.2: pnorm, pnorm(lower.tail = FALSE), dnorm; 17 digits.
    CHECK(normal_below(0.0) == 0.5);
    CHECK(normal_below(1.0) == doctest::Approx(8.4134474606854293e-01).epsilon(1e-14));
    CHECK(normal_below(-1.0) == doctest::Approx(1.5865525393145705e-01).epsilon(1e-14));
    CHECK(normal_below(-6.0) / 9.8658764503769809e-10 == doctest::Approx(1.0).epsilon(1e-13));
    CHECK(normal_above(3.0) / 1.3498980316300946e-03 == doctest::Approx(1.0).epsilon(1e-13));
    CHECK(normal_above(8.0) / 6.2209605742717849e-16 == doctest::Approx(1.0).epsilon(1e-13));
    CHECK(normal_density(0.0) == doctest::Approx(0.39894228040143270).epsilon(1e-15));
    CHECK(normal_density(-2.5) == doctest::Approx(0.01752830049356854).epsilon(1e-14));
    CHECK(normal_below(normal_975) == doctest::Approx(0.975).epsilon(1e-15));
    CHECK(normal_below(-std::numeric_limits<double>::infinity()) == 0.0);
}
