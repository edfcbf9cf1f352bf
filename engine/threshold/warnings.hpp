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
        position_habit
    };
    Kind kind{};
    std::string text;

    bool operator==(const Warning&) const = default;
};

/// What the answers call for, in plain sentences. `posterior` holds exactly these counts.
std::vector<Warning> warnings_for(const Posterior& posterior, std::span<const Counts> counts, Scale scale);

/// Whether one place was picked more often than a person without a habit would pick any.
/// @param chosen_places  0 left, 1 middle, 2 right, one for each answer
/// @param places         cups offered together, 2 or 3
std::optional<Warning> position_habit(std::span<const std::size_t> chosen_places, std::size_t places = 3);

}  // namespace sipladder::threshold
