#pragma once

#include "engine/trend/trend.hpp"

#include <cstddef>
#include <span>
#include <vector>

/// What follows from when the sittings were and how exact each was, with every likelihood taken as normal:
/// how mixing errors go through the fit, and how often a drift would be declared. For trend and rota only.
namespace sipladder::trend::design {

struct Sitting {
    double week{};
    double sd_log10{};     ///< of its own answers alone
    std::size_t mix{};     ///< sittings with the same number share one mixing error
    double u_mix_log10{};  ///< of that mix
};

struct Design {
    std::vector<double> line_mixing_sd;      ///< a sitting: the part of the line's SD that mixing adds
    std::vector<double> smoothed_mixing_sd;  ///< the same of the sitting's own smoothed value
    double change_mixing_sd{};               ///< of last less first
    double drift_se{};                       ///< least squares, as the fit believes: the line wanders
    double still_drift_se{};  ///< the same estimate for people whose line is straight; mixing included
};

/// @pre at least one sitting, weeks ascending; the drift's parts need two, apart in time
Design design(std::span<const Sitting> sittings, double prior_sd_log10, const Settings& settings);

/// The drift's parts alone.
Design drift_design(std::span<const Sitting> sittings, const Settings& settings);

/// The cut of P(drift < 0) that `false_alarms` of people without drift pass.
/// @param drift_sd_log10  that the fit leaves to the drift; above 0
double calibrated_cut(const Design& design, double drift_sd_log10, const Settings& settings);
/// How often a fall with this drift (below 0) is declared at that cut.
double power(const Design& design, double drift_log10, const Settings& settings);
/// The drift (above 0: a fall of this a week) that is declared with this probability.
double drift_seen(const Design& design, double probability, const Settings& settings);

}  // namespace sipladder::trend::design
