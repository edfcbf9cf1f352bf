#pragma once

#include <cstddef>
#include <span>

/// How much a measurement repeats, and how much it must change before the change is more than noise.
namespace sipladder::threshold {

/// Two readings of each of several things by one method, nothing learnt or changed in between.
struct Repeatability {
    std::size_t pairs{};
    double within_sd{};      ///< of one reading: sqrt(sum d^2 / (2 n))
    double coefficient{};    ///< 1.96 sqrt(2) within_sd: two readings differ by less in 95 of 100 cases
    double sd_about_zero{};  ///< of the differences, taken about 0: sqrt(sum d^2 / n)
};
/// @throws Refused  for unequal lengths, no pairs or values not finite
/// @source          bland_altman_1986
/// @checked         tests/published/repeatability_test.cpp
Repeatability repeatability(std::span<const double> first, std::span<const double> second);

/// One reading of each of several things by each of two methods, or by one method on two occasions.
struct Agreement {
    std::size_t pairs{};
    double mean_difference{};  ///< first less second
    double sd_difference{};    ///< n - 1 in the denominator
    double mean_lower{};       ///< 95 % of the mean difference, Student's t
    double mean_upper{};
    double lower{};  ///< limits of agreement: mean - 1.96 SD
    double upper{};
};
/// @throws Refused  for unequal lengths, fewer than two pairs or values not finite
/// @source          bland_altman_1986
/// @checked         tests/published/repeatability_test.cpp
Agreement agreement(std::span<const double> first, std::span<const double> second);

/// Whether one person's change is more than the noise of two readings.
struct ReliableChange {
    double standard_error{};     ///< of one reading: sd sqrt(1 - reliability)
    double sd_difference{};      ///< of two readings without change: sqrt(2) standard_error
    double index{};              ///< (after - before) / sd_difference
    double p_two_sided{};        ///< of a difference as large without change
    double smallest_reliable{};  ///< 1.96 sd_difference
    bool is_reliable = false;    ///< |index| > 1.96
};
/// @param sd           between people at one time, above 0
/// @param reliability  correlation of two readings of the same people, 0 to below 1
/// @throws Refused     outside these ranges, or for readings not finite
/// @source             jacobson_truax_1991
/// @checked            tests/published/repeatability_test.cpp
ReliableChange reliable_change(double before, double after, double sd, double reliability);

/// The value that lies as many standard deviations from one group's mean as from the other's.
/// @source   jacobson_truax_1991, cut-off c
/// @checked  tests/published/repeatability_test.cpp
double midway(double mean_a, double sd_a, double mean_b, double sd_b);

}  // namespace sipladder::threshold
