#include "tools/simulate/figures.hpp"

#include "engine/problem.hpp"

#include <cmath>

namespace sipladder::simulate {

Figure mean_of(std::span<const double> values) {
    SIPLADDER_EXPECT(!values.empty());
    const double n = static_cast<double>(values.size());
    double sum = 0.0;
    for (const double value : values) sum += value;
    const double mean = sum / n;
    double square = 0.0;
    for (const double value : values) square += (value - mean) * (value - mean);
    return {mean, n > 1.0 ? std::sqrt(square / (n - 1.0) / n) : 0.0};
}

namespace {

std::vector<double> as_numbers(std::span<const char> hits) {
    std::vector<double> numbers;
    numbers.reserve(hits.size());
    for (const char hit : hits) numbers.push_back(hit != 0 ? 1.0 : 0.0);
    return numbers;
}

std::vector<double> squares(std::span<const double> errors) {
    std::vector<double> result;
    result.reserve(errors.size());
    for (const double error : errors) result.push_back(error * error);
    return result;
}

}  // namespace

Figure share_of(std::span<const char> hits) {
    return mean_of(as_numbers(hits));
}

Figure rmse_of(std::span<const double> errors) {
    const Figure square = mean_of(squares(errors));
    const double rmse = std::sqrt(square.value);
    return {rmse, rmse > 0.0 ? square.standard_error / (2.0 * rmse) : 0.0};
}

Figure rmse_ratio(std::span<const double> errors, std::span<const double> others) {
    SIPLADDER_EXPECT(errors.size() == others.size());
    const double ours = mean_of(squares(errors)).value;
    const double theirs = mean_of(squares(others)).value;
    SIPLADDER_EXPECT(ours > 0.0 && theirs > 0.0);
    std::vector<double> influence;
    for (std::size_t i = 0; i < errors.size(); ++i)
        influence.push_back(errors[i] * errors[i] / ours - others[i] * others[i] / theirs);
    const double ratio = std::sqrt(ours / theirs);
    return {ratio, 0.5 * ratio * mean_of(influence).standard_error};
}

Figure rmse_difference(std::span<const double> errors, std::span<const double> others) {
    SIPLADDER_EXPECT(errors.size() == others.size());
    const double ours = rmse_of(errors).value;
    const double theirs = rmse_of(others).value;
    SIPLADDER_EXPECT(ours > 0.0 && theirs > 0.0);
    std::vector<double> influence;
    for (std::size_t i = 0; i < errors.size(); ++i)
        influence.push_back(errors[i] * errors[i] / (2.0 * ours) - others[i] * others[i] / (2.0 * theirs));
    return {ours - theirs, mean_of(influence).standard_error};
}

Figure share_difference(std::span<const char> hits, std::span<const char> others) {
    SIPLADDER_EXPECT(hits.size() == others.size());
    std::vector<double> differences;
    for (std::size_t i = 0; i < hits.size(); ++i)
        differences.push_back((hits[i] != 0 ? 1.0 : 0.0) - (others[i] != 0 ? 1.0 : 0.0));
    return mean_of(differences);
}

}  // namespace sipladder::simulate
