#pragma once

#include "drills/assessor.hpp"
#include "drills/drill.hpp"
#include "tools/simulate/figures.hpp"

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>

/// Thousands of simulated assessors through any real drill: presentation by presentation, with its blinding,
/// its stock, its rests and its stops.
namespace sipladder::simulate {

struct Spread {
    double from{};
    double to{};  ///< equal to `from`: everybody's
};

/// What is true of the assessors and of their bottles; what is not said is drawn from the plan's own prior
/// and from what the ladder claims. A mean of theta holds for the first set of answers, the rest for all.
struct Truth {
    std::optional<double> theta_mean_log10;
    double theta_sd_log10 = 0.35;
    std::optional<Spread> width_log10;  ///< log-uniform
    std::optional<double> lapse;
    double position_bias_d_prime = 0.0;  ///< 0 to 4, towards a place drawn for each assessor
    double fatigue_log10 = 0.0;          ///< from one presentation to the next
    double carry_over_log10 = 0.0;       ///< after a clear cup
    bool weibull = false;
    bool mixing_errors = true;  ///< drawn from the ladder's uncertainties
    /// Where set, the bottles are off by these in place of what the ladder claims (relative standard
    /// deviations).
    std::optional<double> own_error_rel;
    std::optional<double> shared_error_rel;
};

struct DrillRun {
    drills::Plan plan;
    Truth truth;
    std::size_t assessors = 1000;
    Seed seed{1};
    std::size_t threads = 0;
    std::function<void(std::size_t done)> progress;
};

/// Over all thresholds that the drill gives, the person being the unit.
struct DrillFigures {
    Figure rmse_log10;
    Figure bias_log10;
    Figure coverage_95;
    Figure claimed_sd_log10;
    Figure presentations;
    Figure cups;
    /// Nose closed over open: of the logarithm of the ratio.
    std::optional<Figure> ratio_bias_log10;
    std::optional<Figure> ratio_coverage_95;
    /// Drills whose cups are drawn beforehand give no threshold; what they measure, by its name. Bias in
    /// log10 units where half and double are equally far.
    struct Measured {
        Figure bias;
        Figure coverage_95;
        bool by_ratio = false;
    };
    std::map<std::string, Measured> measured;
    std::map<std::string, Figure> warned;  ///< share of assessors, by kind of warning
    std::map<std::string, Figure> ended;   ///< share of assessors, by why the drill ended
};

/// @throws Refused for a plan that cannot be carried out
DrillFigures run_drill(const DrillRun& run);

/// "position habit", for tables and JSON.
std::string name_of(threshold::Warning::Kind kind);

}  // namespace sipladder::simulate
