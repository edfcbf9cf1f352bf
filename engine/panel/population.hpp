#pragma once

#include "engine/threshold/estimate.hpp"

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

/// Location, spread and width of a population, integrated on a grid that is narrowed to where the answers
/// leave them; for panel only.
namespace sipladder::panel::population {

/// Everybody's likelihood of theta at one population width: [person][theta], each person's scaled alike in
/// all widths.
using Likelihoods = std::vector<double>;

struct Input {
    std::span<const double> thetas;
    double theta_step{};
    std::size_t people{};
    std::function<Likelihoods(double width_ln)> at_width;  ///< asked for several population widths
    std::function<double(double mean)> mean_ln_prior;
    std::function<double(double width_ln)> width_ln_prior;
    double spread_scale{};
    double width_ln_lower{};  ///< equal to upper: the width is no unknown
    double width_ln_upper{};
};

struct Person {
    std::vector<double> thetas;  ///< probabilities
    double above{};              ///< that theta lies above the population's mean
    double log_likelihood{};     ///< at the posterior means of the population, of the likelihoods as scaled
};

struct Fit {
    threshold::Estimate mean;
    threshold::Estimate spread;
    threshold::Estimate people_mean;
    double width_ln{};
    std::vector<Person> people;
};

Fit fit(const Input& input);

}  // namespace sipladder::panel::population
