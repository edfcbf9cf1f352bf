#pragma once

#include <cstddef>
#include <span>
#include <vector>

/// Figures of a simulation, each with its standard error; the person is the unit.
namespace sipladder::simulate {

struct Figure {
    double value{};
    double standard_error{};
};

Figure mean_of(std::span<const double> values);
/// Share of the ones among zeros and ones.
Figure share_of(std::span<const char> hits);
/// Root mean square of errors (delta method).
Figure rmse_of(std::span<const double> errors);
/// RMSE of `errors` over that of `others`, of the same people (paired, delta method).
Figure rmse_ratio(std::span<const double> errors, std::span<const double> others);
/// RMSE of `errors` less that of `others`, of the same people (paired, delta method).
Figure rmse_difference(std::span<const double> errors, std::span<const double> others);
/// Share of `hits` less that of `others`, of the same people (paired).
Figure share_difference(std::span<const char> hits, std::span<const char> others);

}  // namespace sipladder::simulate
