#pragma once

#include <string>

/// How a change of a threshold and a probability are said, wherever they are.
namespace sipladder::trend {

/// "down 31 %", "up 9 %"
std::string moved(double log10);
/// "95 of 100", never 0 or 100.
std::string of_100(double probability);

}  // namespace sipladder::trend
