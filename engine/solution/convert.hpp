#pragma once

#include "engine/solution/mixture.hpp"
#include "engine/solution/substance.hpp"
#include "engine/units.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::solution {

/// Ways to state the strength of a solution. g_per_L, mmol_per_L, ta_tartaric_g_per_L and kg_per_m3 (the
/// density) are at the temperature asked for; pct_vol and sg_20_20 are at 20 degC by definition.
enum class Unit {
    pct_vol,             ///< alcoholic strength by volume
    pct_mass,            ///< grams of substance in 100 g of solution
    g_per_L,             ///< grams of substance in a litre of solution
    mmol_per_L,          ///< amount of substance in a litre of solution
    brix,                ///< grams of sucrose in 100 g of solution
    sg_20_20,            ///< ratio of true densities of solution and water at 20 degC
    kg_per_m3,           ///< density of the solution
    ta_tartaric_g_per_L  ///< acid hydrogen of an acid, as grams of tartaric acid in a litre
};

/// "pct_vol", … as written on the command line and in files.
std::string unit_name(Unit unit);
/// Nothing if it names none of them.
std::optional<Unit> unit_from_name(std::string_view name);
/// All names, in the order of the enum.
std::vector<std::string> unit_names();

struct Converted {
    double value{};
    Unit unit{};
};

/// A strength in another unit.
///
/// @param value     finite and possible in `from` (at most 100 % vol, at least 0, a density that the solution
/// can have)
/// @param of        what is dissolved; null for ethanol where a unit is pct_vol, for sucrose where one is
/// brix or sg_20_20, for tartaric acid where one is ta_tartaric_g_per_L
/// @param at        temperature, 0 to 40 degC
/// @throws Refused  for a pair of units that does not fit the substance, and outside these ranges
/// @source          oiml_r22, icumsa_sps4, oiv_acidity
/// @checked         tests/published/ethanol_water_test.cpp, tests/published/sucrose_test.cpp,
///                  tests/published/acid_test.cpp
Converted convert(double value, Unit from, Unit to, const Substance* of, Celsius at = bench_temperature);

}  // namespace sipladder::solution
