#pragma once

#include "engine/threshold/psychometric.hpp"
#include "engine/threshold/threshold.hpp"
#include "tools/cli/prior_option.hpp"
#include "tools/cli/verb.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

/// What the two halves of `fit` share: counted answers (fit.cpp) and graded single cups (fit_graded.cpp).
namespace sipladder::cli {

struct FitOptions {
    std::string file;
    std::string task = "3-afc";
    std::string method = "posterior";
    std::string shape = "logistic";
    std::string certainty = "fit";  ///< or "leave"
    bool unordered = false;         ///< graded cups: the rows are not in the order of tasting
    PriorOptions prior;
    double u_shared_rel = 0.0;
    std::size_t replicates = 999;  ///< of the bootstrap
    std::uint64_t seed = 1;
};

/// Everything that a fit has to say, in the keys of the command line.
struct Fit {
    threshold::Threshold threshold;
    threshold::Shape shape = threshold::Shape::logistic;
    double log_likelihood{};  ///< of the counts, at the curve reported
    double deviance{};
    int deviance_df{};
    std::optional<double> deviance_p;  ///< by bootstrap
    Json curve = Json::array();
    Json more = Json::object();      ///< keys of one method only
    std::vector<std::string> notes;  ///< on the input
};

constexpr std::size_t curve_points = 61;
constexpr double curve_margin_log10 = 0.5;  // beyond the weakest and strongest level, so that both ends show

/// log10 levels for `curve[]`.
std::vector<double> curve_levels(double weakest_log10, double strongest_log10);

/// A ladder that holds exactly these levels, with this uncertainty common to all of them.
solution::MixedLadder ladder_of(Scale scale, std::span<const double> levels_log10, double u_shared_rel);

/// The fit of graded single cups, task rating:K.
Fit graded_fit(const Common& common, const FitOptions& options);

Json as_json(const Fit& fit);
void say_fit(const Fit& fit);

}  // namespace sipladder::cli
