#include "engine/solution/glassware.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <string>

namespace sipladder::solution {

namespace {

struct Listed {
    double nominal_mL;
    double limit_mL;
};

constexpr std::array<Listed, 10> flasks{{{5, 0.05},
                                         {10, 0.05},
                                         {25, 0.08},
                                         {50, 0.12},
                                         {100, 0.2},
                                         {200, 0.3},
                                         {250, 0.3},
                                         {500, 0.5},
                                         {1000, 0.8},
                                         {2000, 1.2}}};  // iso_1042, class B
constexpr std::array<Listed, 8> cylinders{
    {{10, 0.2}, {25, 0.5}, {50, 1}, {100, 1}, {250, 2}, {500, 5}, {1000, 10}, {2000, 20}}};  // iso_4788,
                                                                                             // class B

template <std::size_t N>
Millilitres listed(const std::array<Listed, N>& sizes, Millilitres nominal, const std::string& what) {
    std::string known;
    for (const Listed& one : sizes) {
        if (std::abs(one.nominal_mL - nominal.value) < 1e-9) return Millilitres{one.limit_mL};
        known += (known.empty() ? "" : ", ") + exact(one.nominal_mL);
    }
    throw Refused(what, "holds " + exact(nominal.value) + " mL", "one of " + known + " mL is wanted");
}

}  // namespace

Millilitres syringe_limit(Millilitres nominal, Millilitres expelled) {
    if (!(expelled.value > 0.0 && expelled <= nominal && nominal.value <= 1000.0))
        throw Refused("syringe of " + exact(nominal.value) + " mL", "expels " + exact(expelled.value) + " mL",
                      "more than 0, at most what it holds, and that at most 1000 mL");
    const bool is_small = nominal.value < 5.0;
    if (expelled.value >= 0.5 * nominal.value) return (is_small ? 0.05 : 0.04) * expelled;
    return 0.015 * nominal + (is_small ? 0.02 : 0.01) * expelled;
}

Millilitres flask_limit(Millilitres nominal) {
    return listed(flasks, nominal, "volumetric flask");
}

Millilitres cylinder_limit(Millilitres nominal) {
    return listed(cylinders, nominal, "measuring cylinder");
}

Millilitres pipette_limit(Millilitres nominal) {
    const double mL = nominal.value;
    if (!(mL > 0.0 && mL <= 10.0))
        throw Refused("piston pipette", "holds " + exact(mL) + " mL", "more than 0, at most 10 mL");
    const double limit_rel = mL <= 0.005  ? 0.025
                             : mL <= 0.01 ? 0.012
                             : mL <= 0.05 ? 0.01
                             : mL <= 5.0  ? 0.008
                                          : 0.006;
    return limit_rel * nominal;
}

Grams smallest_load(Grams resolution, double wanted_u_rel) {
    if (!(resolution.value > 0.0 && std::isfinite(resolution.value) && wanted_u_rel > 0.0 &&
          wanted_u_rel < 1.0))
        throw Refused(
            "balance",
            "shows steps of " + exact(resolution.value) + " g, " + exact(wanted_u_rel) + " is wanted",
            "steps above 0 and a relative uncertainty between 0 and 1");
    return resolution / (std::sqrt(6.0) * wanted_u_rel);
}

}  // namespace sipladder::solution
