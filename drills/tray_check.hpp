#pragma once

#include "drills/drill.hpp"

#include <string>
#include <vector>

/// Can the level be told on this tray without tasting? The tray is filled once, with the strongest rung under
/// one sign, and spun anew for each round; look and sniff only.
namespace sipladder::drills::tray_check {

constexpr std::size_t usual_rounds = 12;

struct Result {
    std::size_t rounds{};
    std::size_t right{};
    double p_value{};                 ///< P(as many or more right by chance), exact binomial at 1 in 3
    bool is_seen_through{};           ///< p below 0.05: with 12 rounds from 8 right on, p = 0.019
    std::vector<std::string> advice;  ///< how to mend the tray; empty where it holds
};
Result result(const State& drill);

}  // namespace sipladder::drills::tray_check
