#pragma once

#include "engine/solution/recipe.hpp"

#include <cstddef>
#include <optional>
#include <vector>

/// The ways of making one mixture with what stands on the bench.
namespace sipladder::solution {

/// Something that a load can be taken from.
struct Source {
    std::size_t place{ingredient_itself};
    double mass_fraction{};
    double held_g_per_L{};  ///< 0: cannot be measured by volume
    double u_rel{};
};
Source source_of(const PlanRequest& request);

/// What is wanted of one mixture.
struct Target {
    double mass_fraction{};
    double held_g_per_L{};
    double needed_mL{};
    double wanted_u_rel{};
    double most_over = 1e-9;  ///< a rounded load may be so much larger than the exact one, relative
    std::size_t most_batches = 1;
};
/// @param level  on the ladder's scale
/// @param cap    the same; a load is not rounded up across it; at least `level`
/// @param needed  at least so much of it
Target target_of(const PlanRequest& request, double level, double cap, Millilitres needed);

enum class Aim { fewest_operations, least_uncertain };

/// One way to make it.
struct Way {
    Making making;
    double volume_mL{};  ///< of all batches
    double u_rel{};      ///< of one batch, by the short way
    double u_printed{};  ///< the same as printed, where it meets what is wanted
    std::size_t operations{};
    std::size_t excess{};  ///< 0: hardly more than needed is made; 1: up to three times; 2: up to ten times
    std::size_t digits{};  ///< significant digits of its two readings
    bool met{};
};

/// The uncertainty as it is printed, two significant digits: what differs by less is a tie.
double printed(double u_rel);

bool is_better(const Way& one, const Way& other, Aim aim);

/// @param oversize  at most so many times the volume needed is made
std::optional<Way> best_way(const PlanRequest& request, const Target& wanted,
                            const std::vector<Source>& sources, double oversize, Aim aim);

/// Hand operations of one making: weighing or each fill of a syringe, filling up, and pouring over where the
/// load is not weighed where it is filled up.
std::size_t operations(const Making& making);

}  // namespace sipladder::solution
