#include "engine/solution/sweetness_term.hpp"

#include "engine/problem.hpp"
#include "tests/support/published.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::solution;
using namespace sipladder::tests;

TEST_CASE("terms for still and sparkling wines are those of the regulation, to the tenth of a gram") {
    const PublishedCase still = published("sweetness_term.json", "still_wines");
    CAPTURE(still.source_text());
    const std::vector<std::string> terms = still.data("terms").texts();
    CHECK(within(static_cast<double>(terms.size()), still.expected("cases")));
    for (std::size_t i = 0; i < terms.size(); ++i) {
        const double sugar = still.data("sugar_g_per_L").numbers()[i];
        CAPTURE(sugar);
        CHECK(sweetness_term_name(sweetness_term(
                  GramsPerLitre{sugar}, GramsPerLitre{still.data("acidity_g_per_L").numbers()[i]})) ==
              terms[i]);
    }
    const PublishedCase sparkling = published("sweetness_term.json", "sparkling_wines");
    const std::vector<std::string> names = sparkling.data("terms").texts();
    CHECK(within(static_cast<double>(names.size()), sparkling.expected("cases")));
    for (std::size_t i = 0; i < names.size(); ++i) {
        const GramsPerLitre sugar{sparkling.data("sugar_g_per_L").numbers()[i]};
        CAPTURE(sugar.value);
        CHECK(sparkling_term_name(sparkling_term(sugar, false)) == names[i]);
    }
    CHECK(sparkling_term(GramsPerLitre{1.0}, true) == SparklingTerm::extra_brut);
}

TEST_CASE("each term ends at its limit, at every acidity, with and without the clause") {
    const auto at = [](double sugar, double acidity) {
        return sweetness_term(GramsPerLitre{sugar}, GramsPerLitre{acidity});
    };
    for (int tenths = 0; tenths <= 200; ++tenths) {
        const double acidity = tenths / 10.0;
        CAPTURE(acidity);
        const SweetnessLimits limits = sweetness_limits(GramsPerLitre{acidity});
        CHECK(at(limits.dry.value, acidity) == SweetnessTerm::dry);
        CHECK(at(limits.dry.value + 0.1, acidity) == SweetnessTerm::medium_dry);
        CHECK(at(limits.medium_dry.value, acidity) == SweetnessTerm::medium_dry);
        CHECK(at(limits.medium_dry.value + 0.1, acidity) == SweetnessTerm::medium);
        CHECK(at(limits.medium.value - 0.1, acidity) == SweetnessTerm::medium);
        CHECK(at(limits.medium.value, acidity) == SweetnessTerm::sweet);
        // Hundredths are rounded to tenths before they are compared: 4.04 is 4.0, and 44.95 is 45.0.
        CHECK(at(limits.dry.value + 0.04, acidity) == SweetnessTerm::dry);
        CHECK(at(limits.dry.value + 0.06, acidity) == SweetnessTerm::medium_dry);
        CHECK(at(44.96, acidity) == SweetnessTerm::sweet);
    }
    const SweetnessLimits without = sweetness_limits(GramsPerLitre{0.0});
    CHECK(without.dry.value == 4.0);
    CHECK(without.medium_dry.value == 12.0);
    CHECK(sweetness_limits(GramsPerLitre{2.0}).dry.value == 4.0);  // the clause begins to matter here
    CHECK(sweetness_limits(GramsPerLitre{2.1}).dry.value == 4.1);
    CHECK(sweetness_limits(GramsPerLitre{7.0}).dry.value == 9.0);  // and ends here
    CHECK(sweetness_limits(GramsPerLitre{7.1}).dry.value == 9.0);
    CHECK(sweetness_limits(GramsPerLitre{2.1}).medium_dry.value == 12.1);
    CHECK(sweetness_limits(GramsPerLitre{8.0}).medium_dry.value == 18.0);
    CHECK(sweetness_limits(GramsPerLitre{8.1}).medium_dry.value == 18.0);
    CHECK(sweetness_limits(GramsPerLitre{6.04}).dry.value == 8.0);  // the acidity is rounded too
    CHECK_THROWS_AS(sweetness_limits(GramsPerLitre{-1.0}), Refused);
}

TEST_CASE("a tenth of a gram is not lost to binary fractions, and a sweeter wine never gets a drier term") {
    for (int tenths = 0; tenths <= 70; ++tenths) {
        const double acidity = tenths / 10.0;
        CHECK(sweetness_term(GramsPerLitre{std::max(4.0, acidity + 2.0)}, GramsPerLitre{acidity}) ==
              SweetnessTerm::dry);
    }
    SweetnessTerm before = SweetnessTerm::dry;
    for (int tenths = 0; tenths <= 600; ++tenths) {
        const SweetnessTerm term = sweetness_term(GramsPerLitre{tenths / 10.0}, GramsPerLitre{6.0});
        CHECK(term >= before);
        before = term;
    }
    CHECK(before == SweetnessTerm::sweet);
    for (const double absurd : {-1.0, 1e9, std::nan(""), std::numeric_limits<double>::infinity()}) {
        CHECK_THROWS_AS(sweetness_term(GramsPerLitre{absurd}, GramsPerLitre{5.0}), Refused);
        CHECK_THROWS_AS(sweetness_term(GramsPerLitre{5.0}, GramsPerLitre{absurd}), Refused);
        CHECK_THROWS_AS(sparkling_term(GramsPerLitre{absurd}, false), Refused);
    }
}
