#include "engine/solution/sucrose_water.hpp"

#include "engine/problem.hpp"
#include "engine/solution/invert.hpp"
#include "engine/text.hpp"

#include <array>
#include <cmath>
#include <cstddef>

// ICUMSA SPS-4 (1994), the formula of Emmerich, Bubnik and co-workers: the water of an older scale (998.2031
// kg/m3 at 20 degC) and a polynomial in the mass fraction w and in T = (t - 20 degC) / 100. Specific gravity
// uses that same water, since a ratio of two scales would be off in its last printed digit.

namespace sipladder::solution {

namespace {

constexpr Celsius reference{20.0};
constexpr double air_kg_per_m3 = 1.2;       // conventional air, OIML D 28 (from memory)
constexpr double heaviest_fraction = 0.85;  // range of the formula

// Coefficients of SPS-4, kg/m3.
constexpr std::array<double, 6> coefficients_a{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289};
constexpr std::array<double, 5> coefficients_b{-46.272, -7.172, 1.1597, 5.1126, 17.5254};
constexpr std::array<double, 4> coefficients_c{59.7712, 7.2491, 12.363, -35.4791};
constexpr std::array<double, 3> coefficients_d{-47.2207, -21.6977, 27.6301};
constexpr std::array<double, 2> coefficients_e{18.3184, 12.3081};

template <std::size_t N>
double without_constant(const std::array<double, N>& c, double w) {
    double sum = 0.0;
    for (std::size_t k = N; k-- > 0;) sum = (sum + c[k]) * w;
    return sum;
}

double water_of_formula(double t) {
    constexpr std::array<double, 6> k{999.83952,     16.952577,    -7.9905127e-3,
                                      -46.241757e-6, 105.84601e-9, -281.03006e-12};
    double sum = k.back();
    for (std::size_t i = k.size() - 1; i-- > 0;) sum = sum * t + k[i];
    return sum / (1.0 + 16.887236e-3 * t);
}

/// SPS-4, kg/m3.
double formula(double w, double t) {
    const double T = (t - reference.value) / 100.0;
    return water_of_formula(t) + without_constant(coefficients_a, w) +
           T * (without_constant(coefficients_b, w) +
                T * (without_constant(coefficients_c, w) +
                     T * (without_constant(coefficients_d, w) + T * without_constant(coefficients_e, w))));
}

void expect_temperature(Celsius at) {
    if (!(at.value >= 0.0 && at.value <= 80.0))
        throw Refused("temperature of sucrose and water", "is " + exact(at.value) + " °C",
                      "0 to 80 °C is known");
}

void expect_fraction(MassFraction sucrose) {
    if (!(sucrose.value >= 0.0 && sucrose.value <= heaviest_fraction))
        throw Refused("mass fraction of sucrose", "is " + exact(sucrose.value),
                      "a fraction from 0 to 0.85 is known");
}

/// The mass fraction at which a quantity that grows with it has this value.
template <class Function>
MassFraction found(const Function& quantity, double wanted, const std::string& name,
                   const std::string& unit) {
    const double most = quantity(heaviest_fraction);
    const double least = quantity(0.0);
    if (!(wanted >= least && wanted <= most))
        throw Refused(name, "is " + exact(wanted) + unit,
                      significant(least, 6) + " to " + significant(most, 6) + unit + " is known");
    return MassFraction{inverted(quantity, wanted, 0.0, heaviest_fraction)};
}

double true_ratio(double w) {
    return formula(w, reference.value) / formula(0.0, reference.value);
}

double apparent_ratio(double w) {
    return (formula(w, reference.value) - air_kg_per_m3) / (formula(0.0, reference.value) - air_kg_per_m3);
}

}  // namespace

GramsPerMillilitre density_of_sucrose_water(MassFraction sucrose, Celsius at) {
    expect_fraction(sucrose);
    expect_temperature(at);
    return GramsPerMillilitre{formula(sucrose.value, at.value) / 1000.0};
}

MassFraction sucrose_from_density(GramsPerMillilitre density, Celsius at) {
    expect_temperature(at);
    return found([&at](double w) { return formula(w, at.value); }, 1000.0 * density.value,
                 "density of sucrose and water", " kg/m³");
}

Brix brix_from_mass_fraction(MassFraction sucrose) {
    expect_fraction(sucrose);
    return Brix{100.0 * sucrose.value};
}

MassFraction mass_fraction_from_brix(Brix brix) {
    if (!(brix.value >= 0.0 && brix.value <= 100.0 * heaviest_fraction))
        throw Refused("degrees Brix", "is " + exact(brix.value), "0 to 85 °Brix is known");
    return MassFraction{brix.value / 100.0};
}

GramsPerLitre sucrose_held(MassFraction sucrose, Celsius at) {
    return GramsPerLitre{1000.0 * sucrose.value * density_of_sucrose_water(sucrose, at).value};
}

MassFraction mass_fraction_from_sucrose_held(GramsPerLitre sucrose, Celsius at) {
    expect_temperature(at);
    return found([&at](double w) { return w * formula(w, at.value); }, sucrose.value, "sucrose", " g/L");
}

double sg_20_20_from_mass_fraction(MassFraction sucrose) {
    expect_fraction(sucrose);
    return true_ratio(sucrose.value);
}

MassFraction mass_fraction_from_sg_20_20(double sg) {
    return found(true_ratio, sg, "specific gravity 20/20", "");
}

double apparent_sg_20_20_from_mass_fraction(MassFraction sucrose) {
    expect_fraction(sucrose);
    return apparent_ratio(sucrose.value);
}

MassFraction mass_fraction_from_apparent_sg_20_20(double sg) {
    return found(apparent_ratio, sg, "apparent specific gravity 20/20", "");
}

double hydrometer_reading(MassFraction sucrose, Celsius at) {
    constexpr double glass_per_K = 25e-6;  // soda-lime glass, cubic (OIML R 22)
    const double sg = 1000.0 * density_of_sucrose_water(sucrose, at).value / formula(0.0, reference.value);
    return sg / (1.0 - glass_per_K * (at.value - reference.value));
}

}  // namespace sipladder::solution
