#pragma once

#include "engine/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

/// The only place where numbers become text, over std::to_chars, so that no locale ever changes a file.
namespace sipladder {

/// Fixed notation with this many decimals (0 to 15); -0 is written 0.
std::string fixed(double value, int decimals);
/// Shortest text that reads back as the same double.
std::string exact(double value);
/// This many significant digits in fixed notation: significant(0.012345, 2) = "0.012".
std::string significant(double value, int digits);
/// The same without zeros at the end of its decimals: shortest(0.9, 2) = "0.9", shortest(8.22, 2) = "8.2".
std::string shortest(double value, int digits);
/// A value with its interval, all with the decimals that give the value two significant digits: "1.4 (0.8
/// to 2.6)"; where nought lies in the interval, those that suit its width.
std::string with_interval(double value, double lower, double upper);
/// Value and standard uncertainty: the uncertainty has two digits and the value as many decimals
/// (GUM, 7.2.6).
std::string with_uncertainty(double value, double u);
/// A fraction as percent, two significant digits: percent(0.0283) = "2.8 %".
std::string percent(double fraction);
/// "g/L" or "% vol".
std::string unit_text(Scale scale);
/// Without blanks, tabs and line ends around it.
std::string_view trimmed(std::string_view text);
/// "1 cup", "2 cups", "0 cups".
std::string counted(std::size_t count, std::string_view one, std::string_view many);
/// A number as a person types it: point or comma as decimal sign, surrounding blanks allowed. Nothing else:
/// no thousands signs, no NaN, no infinity.
std::optional<double> number_from_typed(std::string_view text);
/// A number in a file: decimal point only.
std::optional<double> number_from_file(std::string_view text);
/// Whole minutes and seconds of a rest: "1:48".
std::string clock_text(long seconds);

}  // namespace sipladder
