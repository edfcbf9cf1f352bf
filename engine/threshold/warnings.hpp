#pragma once

#include "engine/threshold/posterior.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace sipladder::threshold {

/// A thing the person should know of before believing the number.
struct Warning {
    enum class Kind {
        too_few,
        guessing,
        all_correct,
        against_prior,
        grid_edge,
        separable,
        lapses,
        position_habit,
        shallow,     ///< the curve rises slowly
        fatigue,     ///< the threshold rose during the sitting
        carry_over,  ///< missed more often after a clear cup
    };
    Kind kind{};
    std::string text;

    bool operator==(const Warning&) const = default;
};

/// What the answers call for, in plain sentences. `posterior` holds exactly these counts.
std::vector<Warning> warnings_for(const Posterior& posterior, std::span<const Counts> counts, Scale scale);

/// One presentation of the sitting, as served and answered.
struct Asked {
    double x_log10{};
    std::size_t spiked{};  ///< where the clear cup stood: 0 left, 1 middle, 2 right
    std::size_t picked{};

    bool correct() const { return spiked == picked; }
};

/// What only the order and the places tell: a habit of place, a threshold that rose during the sitting, clear
/// cups that spoil the next one. Each says what it saw and how seldom it sees it in time.
/// @param posterior  holds exactly these answers
/// @param places     cups offered together, 2 or 3
/// @checked tests/slow/warnings_test.cpp (false alarms, power)
std::vector<Warning> warnings_in_order(const Posterior& posterior, std::span<const Asked> asked,
                                       std::size_t places = 3);

}  // namespace sipladder::threshold
