#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace sipladder::threshold {

/// Where in an ascending series a best estimate lies.
enum class SeriesEnd {
    below,   ///< right from the first level on: the estimate lies below the series
    inside,  ///< between the last level missed and the next
    above    ///< the strongest level missed: the estimate lies above the series
};

/// Which step the series is thought to go on with beyond its ends. The same where all steps are equal.
enum class EndStep {
    local,  ///< the first, or the last, step of this series
    mean    ///< the mean step, (last - first) / (levels - 1)
};

/// One person's best-estimate threshold.
struct BestEstimate {
    double log10{};
    SeriesEnd end = SeriesEnd::inside;
    bool operator==(const BestEstimate&) const = default;
};

/// The geometric mean of the strongest level missed and the next one up; at an end of the series, of the end
/// level and the level that the series would have had next, which is half a step beyond the end.
///
/// @param levels_log10  log10 of the concentrations, two or more, strictly ascending
/// @param correct       one answer a level: was it right?
/// @throws Refused      for fewer than two levels, levels that do not ascend or are not finite, or another
///                      number of answers
/// @source              astm_e679_2019, rule of the calculation clause
/// @checked             tests/published/best_estimate_test.cpp
BestEstimate best_estimate(std::span<const double> levels_log10, const std::vector<bool>& correct,
                           EndStep beyond = EndStep::local);

/// A group's best-estimate threshold: the geometric mean over its members.
struct GroupEstimate {
    double log10{};
    std::optional<double> sd_log10;  ///< of the members, n - 1 in the denominator; nothing for one person
    std::optional<double> se_log10;  ///< of the mean
    std::size_t people{};
    std::size_t below{};  ///< members whose estimate lies below the series
    std::size_t above{};  ///< members whose estimate lies above it
};

/// @throws Refused  for nobody
/// @source          astm_e679_2019
/// @checked         tests/published/best_estimate_test.cpp
GroupEstimate group_estimate(std::span<const BestEstimate> members);

/// Where the share of right answers, taken straight from level to level, first passes chance-corrected 0.5
/// upwards: a check on a group's threshold that assumes no curve.
///
/// @param right   share of right answers at each level, 0 to 1
/// @param guess   chance of being right without perceiving anything, 0 to below 1
/// @return        log10; nothing where the shares never pass it
/// @throws Refused  for levels as in best_estimate, shares or guess out of range
/// @source        lawless_2010
/// @checked       tests/published/best_estimate_test.cpp
std::optional<double> interpolated_threshold(std::span<const double> levels_log10,
                                             std::span<const double> right, double guess);

/// The straight line through log10(p / (1 - p)), p the chance-corrected share, by least squares over the
/// levels with 0 < p < 1.
struct LogitLine {
    double intercept{};
    double slope{};  ///< per log10 unit
    double threshold_log10() const { return -intercept / slope; }
};
/// @return nothing where fewer than two levels have 0 < p < 1, or all these have the same p
/// @throws Refused  as interpolated_threshold
/// @source        iso_13301, from memory: logit line of a group's shares
/// @checked       tests/published/best_estimate_test.cpp
std::optional<LogitLine> logit_line(std::span<const double> levels_log10, std::span<const double> right,
                                    double guess);

}  // namespace sipladder::threshold
