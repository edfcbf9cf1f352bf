#pragma once

#include "engine/trend/trend.hpp"

#include <cstddef>
#include <string>

/// What a rota of sittings could show, worked out before anything is mixed.
namespace sipladder::trend {

struct Rota {
    std::size_t sittings = 8;        ///< 2 to 500, baseline ones: practice not counted
    std::size_t presentations = 12;  ///< 3-AFC, in each
    double weeks_between = 1.0;
    double width_log10 = 0.775;  ///< of the person, or what is assumed
    double lapse = 0.03;
    double u_mix_log10 = 0.0;  ///< common error of each mix
    bool one_mix = false;      ///< all sittings from one mix: its error then cancels
};

struct Smallest {
    double sitting_sd_log10{};  ///< of one sitting's own answers
    double half_log10{};  ///< a steady fall that would be declared every second time, over the whole rota
    double four_in_five_log10{};
};

/// @throws Refused  naming the field that is out of range
/// @checked         tests/trend/trend_test.cpp, tests/slow/weeks_test.cpp
Smallest smallest_fall(const Rota& rota, const Settings& settings = {});
/// "With this rota, a fall of less than 45 % would probably go unseen; one of 60 % would show four times in
/// five."
std::string words(const Smallest& smallest);

/// SD of a threshold from so many well-placed presentations alone, no prior: what planning and advice reckon
/// with.
double measurement_sd_log10(std::size_t presentations, double width_log10, double lapse);

}  // namespace sipladder::trend
