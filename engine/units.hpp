#pragma once

#include <compare>

/// Quantities with their unit in the type. A scalar that crosses a header of engine/solution, engine/safety
/// or drills is one of these; arrays, formulas, JSON keys, SQL columns and CSV headings use suffixes (_g,
/// _mL, _g_per_L, _pct_vol, _mass_fraction, _mmol_per_L, _degC, _s, _log10) on plain doubles.
namespace sipladder {

template <class Unit>
struct Quantity {
    double value{};

    constexpr Quantity() = default;
    constexpr explicit Quantity(double v) : value(v) {}
    auto operator<=>(const Quantity&) const = default;

    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value + b.value}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value - b.value}; }
    friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value}; }
    friend constexpr Quantity operator*(double k, Quantity q) { return Quantity{k * q.value}; }
    friend constexpr Quantity operator*(Quantity q, double k) { return Quantity{k * q.value}; }
    friend constexpr Quantity operator/(Quantity q, double k) { return Quantity{q.value / k}; }
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value / b.value; }
    constexpr Quantity& operator+=(Quantity other) {
        value += other.value;
        return *this;
    }
    constexpr Quantity& operator-=(Quantity other) {
        value -= other.value;
        return *this;
    }
};

using Grams = Quantity<struct GramsUnit>;
using Milligrams = Quantity<struct MilligramsUnit>;
using Millilitres = Quantity<struct MillilitresUnit>;
using GramsPerLitre = Quantity<struct GramsPerLitreUnit>;
using GramsPerMillilitre = Quantity<struct GramsPerMillilitreUnit>;
using GramsPerMole = Quantity<struct GramsPerMoleUnit>;
using MillimolesPerLitre = Quantity<struct MillimolesPerLitreUnit>;
using PercentVol = Quantity<struct PercentVolUnit>;      ///< alcoholic strength by volume at 20 degC
using MassFraction = Quantity<struct MassFractionUnit>;  ///< 0 to 1
using Celsius = Quantity<struct CelsiusUnit>;
using Brix = Quantity<struct BrixUnit>;              ///< grams of sucrose in 100 g of solution
using Log10Level = Quantity<struct Log10LevelUnit>;  ///< log10 of g/L or of % vol: the axis of every fit

constexpr Grams operator*(GramsPerLitre c, Millilitres v) {
    return Grams{c.value * v.value / 1000.0};
}
constexpr Millilitres operator/(Grams m, GramsPerLitre c) {
    return Millilitres{1000.0 * m.value / c.value};
}
constexpr GramsPerLitre operator/(Grams m, Millilitres v) {
    return GramsPerLitre{1000.0 * m.value / v.value};
}
constexpr Grams operator*(GramsPerMillilitre d, Millilitres v) {
    return Grams{d.value * v.value};
}
constexpr Millilitres operator/(Grams m, GramsPerMillilitre d) {
    return Millilitres{m.value / d.value};
}

/// The scale that a ladder's plain numbers are on. It is data, so it cannot be a type.
enum class Scale { g_per_L, pct_vol };

}  // namespace sipladder
