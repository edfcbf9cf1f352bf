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
