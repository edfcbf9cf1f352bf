#include "engine/solution/sweetness_term.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

// Comparisons are done on whole tenths of a gram: 7.9 - 5.9 is a little more than 2 in binary, and would make
// a dry wine medium dry.

namespace sipladder::solution {

namespace {

long tenths(double g_per_L, double most, const std::string& where) {
    if (!(g_per_L >= 0.0 && g_per_L <= most))
        throw Refused(where, "is " + exact(g_per_L) + " g/L", "0 to " + exact(most) + " g/L is wanted");
    return std::lround(10.0 * g_per_L);
}

constexpr double most_sugar = 1000.0;
constexpr double most_acidity = 100.0;

}  // namespace

std::string sweetness_term_name(SweetnessTerm term) {
    switch (term) {
        case SweetnessTerm::dry:
            return "dry";
        case SweetnessTerm::medium_dry:
            return "medium dry";
        case SweetnessTerm::medium:
            return "medium";
        case SweetnessTerm::sweet:
            return "sweet";
    }
    SIPLADDER_EXPECT(false);
}

SweetnessLimits sweetness_limits(GramsPerLitre acidity) {
    const long a = tenths(acidity.value, most_acidity, "acidity");
    const auto g_per_L = [](long of_tenths) { return GramsPerLitre{static_cast<double>(of_tenths) / 10.0}; };
    return {g_per_L(std::clamp(a + 20, 40L, 90L)), g_per_L(std::clamp(a + 100, 120L, 180L)),
            GramsPerLitre{45.0}};
}

SweetnessTerm sweetness_term(GramsPerLitre sugar, GramsPerLitre acidity) {
    const long s = tenths(sugar.value, most_sugar, "sugar");
    const long above = s - tenths(acidity.value, most_acidity, "acidity");
    if (s <= 40 || (s <= 90 && above <= 20)) return SweetnessTerm::dry;
    if (s <= 120 || (s <= 180 && above <= 100)) return SweetnessTerm::medium_dry;
    return s < 450 ? SweetnessTerm::medium : SweetnessTerm::sweet;
}

std::string sparkling_term_name(SparklingTerm term) {
    switch (term) {
        case SparklingTerm::brut_nature:
            return "brut nature";
        case SparklingTerm::extra_brut:
            return "extra brut";
        case SparklingTerm::brut:
            return "brut";
        case SparklingTerm::extra_dry:
            return "extra dry";
        case SparklingTerm::dry:
            return "dry";
        case SparklingTerm::medium_dry:
            return "medium dry";
        case SparklingTerm::sweet:
            return "sweet";
    }
    SIPLADDER_EXPECT(false);
}

SparklingTerm sparkling_term(GramsPerLitre sugar, bool has_dosage) {
    const long s = tenths(sugar.value, most_sugar, "sugar");
    if (s < 30 && !has_dosage) return SparklingTerm::brut_nature;
    if (s <= 60) return SparklingTerm::extra_brut;
    if (s < 120) return SparklingTerm::brut;
    if (s <= 170) return SparklingTerm::extra_dry;
    if (s <= 320) return SparklingTerm::dry;
    return s <= 500 ? SparklingTerm::medium_dry : SparklingTerm::sweet;
}

}  // namespace sipladder::solution
