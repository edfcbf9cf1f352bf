#pragma once

#include "drills/classroom/ballots.hpp"

/// Invented people who fill in the ballots of a class: for the demo and for trying a plan out.
namespace sipladder::drills::classroom {

/// How these people are drawn; all of it invented.
struct InventedPeople {
    double threshold_log10{};       ///< of the class, on the scale of the levels
    double spread_log10 = 0.25;     ///< SD between people
    double rank_noise_log10 = 0.1;  ///< SD of a strength felt while ranking or grading
    double named_right = 0.75;      ///< chance of the right name; else any of the others
};

/// Everybody answers everything: which_of_three by the person's curve, names at random around the right ones,
/// orders and grades by strengths felt with noise.
/// @checked tests/classroom/results_test.cpp
Ballots invented_answers(const Service& service, const InventedPeople& people, Seed seed);

}  // namespace sipladder::drills::classroom
