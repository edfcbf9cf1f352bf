#pragma once

#include "engine/threshold/graded.hpp"

#include <cstddef>
#include <map>
#include <span>
#include <vector>

/// What both fits of graded cups share; for graded and graded_likelihood only.
namespace sipladder::threshold::graded {

/// Cups pooled by level; blanks apart.
struct Pooled {
    std::vector<std::size_t> blanks;
    std::map<double, std::vector<std::size_t>> levels;
    std::size_t grades{};
};

/// @throws Refused  as graded_threshold
Pooled pooled(std::span<const GradedCounts> counts);
/// ln of the multinomial coefficient.
double ln_ways(const std::vector<std::size_t>& grades);
/// The common mixing uncertainty, added in squares to SD and interval.
void widen(Threshold& threshold, double u_shared_log10);
/// Sentences about blanks, about unusual grading and about a threshold beyond the levels.
/// @param outermost  probability of the outermost habits that were thought possible
void warn(const Pooled& cups, double outermost, Threshold& threshold);

}  // namespace sipladder::threshold::graded
