#pragma once

#include "engine/units.hpp"

#include <string>

/// The unit in which volumes of cups and of what is got ready are shown. It changes words only: what is
/// typed, kept and read off a tool is in mL, since balances show g and syringes are marked in mL.
namespace sipladder {

enum class VolumeUnit { mL, us_fl_oz };

/// One US fluid ounce, exactly: a gallon of 231 cubic inches of 2.54 cm, by 128.
/// @source  nist_sp811, appendix B.8
/// @checked tests/vocabulary/volume_test.cpp
constexpr double mL_per_us_fl_oz = 29.5735295625;

constexpr double in_us_fl_oz(Millilitres volume) {
    return volume.value / mL_per_us_fl_oz;
}

/// "10 mL", or "0.338 US fl oz (10 mL)": the mL stay, for a syringe has no other marks.
std::string volume_text(Millilitres volume, VolumeUnit unit);
/// The same where the mL (or L) are rounded in a way of their own.
std::string volume_text(Millilitres volume, VolumeUnit unit, const std::string& metric);
/// The number alone, three digits at most, for a column that names its unit.
std::string us_fl_oz_text(Millilitres volume);

}  // namespace sipladder
