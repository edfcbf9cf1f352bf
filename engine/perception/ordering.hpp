#pragma once

#include "engine/perception/draws.hpp"

#include <cstddef>
#include <vector>

/// Cups of one ladder put in order of strength: how small a step is still put right?
namespace sipladder::perception {

/// Rungs in the order that was given, weakest first: each of 0 … k-1 once.
using Order = std::vector<std::size_t>;

/// Neighbouring rungs that stand the wrong way round, by the lower of each pair: 1 for wrong.
/// @pre a permutation
std::vector<std::size_t> adjacent_errors(const Order& order);

/// Probability of this order when each cup is perceived as its place on a log axis plus independent normal
/// noise (Thurstone's case V): an integral over the percepts, one after the other.
/// @param x_log10  of each rung  @param noise_log10  standard deviation of one percept, > 0
/// @source         thurstone_1927
/// @checked        tests/perception/perception_test.cpp
double order_probability(const std::vector<double>& x_log10, double noise_log10, const Order& order);

/// What is assumed of a person of whom nothing is known (judgement): the step that is put right three times
/// of four is a fifth, within a factor of 1.8 either way for two of three people.
struct StepPrior {
    double ln_mean = -2.53;  ///< ln of log10(1.2)
    double ln_sd = 0.6;
    double lapse = 0.02;  ///< share of orders that are given at random
};

/// The difference threshold: by what part of the weaker level two cups differ that are put right three times
/// of four, as its log10; with what the rungs may each be off by.
/// @param u_own_log10  of each rung
/// @throws Refused     for fewer than two rungs, no orders, or orders that are none
Estimate difference_log10(const std::vector<double>& x_log10, const std::vector<double>& u_own_log10,
                          const std::vector<Order>& orders, const StepPrior& prior, Seed seed);

/// Noise of one percept that makes this step right three times of four.
double noise_of_step(double step_log10);

}  // namespace sipladder::perception
