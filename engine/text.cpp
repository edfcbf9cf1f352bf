#include "engine/text.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace sipladder {

namespace {

constexpr int most_decimals = 15;

/// Position of the leading digit: 0 for 1 to 9.99, -2 for 0.012.
int decade(double value) {
    return value == 0.0 ? 0 : static_cast<int>(std::floor(std::log10(std::abs(value))));
}

int decimals_for(double size, int digits) {
    return std::clamp(digits - 1 - decade(size), 0, most_decimals);
}

double rounded(double value, int digits) {
    if (value == 0.0) return 0.0;
    const double step = std::pow(10.0, decade(value) - digits + 1);
    return std::round(value / step) * step;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
    std::string text = std::to_string(count);
    return text.append(" ").append(count == 1 ? one : many);
}

std::string fixed(double value, int decimals) {
    SIPLADDER_EXPECT(decimals >= 0 && decimals <= most_decimals);
    std::array<char, 400> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   std::chars_format::fixed, decimals);
    std::string text(buffer.data(), end.ptr);
    if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
    return text;
}

std::string exact(double value) {
    std::array<char, 400> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    return std::string(buffer.data(), end.ptr);
}

std::string significant(double value, int digits) {
    // Rounding first, so that 0.0996 with two digits becomes 0.10 and not 0.100.
    const double shown = rounded(value, digits);
    return fixed(shown, decimals_for(shown, digits));
}

std::string shortest(double value, int digits) {
    std::string text = significant(value, digits);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string with_interval(double value, double lower, double upper) {
    // A value that may be nought has the digits of its interval, not of itself.
    const double size =
        lower <= 0.0 && upper >= 0.0 ? std::max(std::abs(value), (upper - lower) / 4.0) : value;
    int decimals = decimals_for(rounded(size, 2), 2);
    // A lower end that would read 0.0 gets the decimals of its own leading digit.
    if (lower > 0.0 && std::round(lower * std::pow(10.0, decimals)) == 0.0) decimals = decimals_for(lower, 1);
    return fixed(value, decimals) + " (" + fixed(lower, decimals) + " to " + fixed(upper, decimals) + ")";
}

std::string with_uncertainty(double value, double u) {
    if (u <= 0.0) return significant(value, 4);
    const int decimals = decimals_for(rounded(u, 2), 2);
    return fixed(value, decimals) + " ± " + fixed(u, decimals);
}

std::string percent(double fraction) {
    return significant(100.0 * fraction, 2) + " %";
}

std::string unit_text(Scale scale) {
    return scale == Scale::g_per_L ? "g/L" : "% vol";
}

std::optional<double> number_from_file(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with('+')) text.remove_prefix(1);
    double value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::optional<double> number_from_typed(std::string_view text) {
    std::string pointed(trimmed(text));
    if (std::count(pointed.begin(), pointed.end(), ',') + std::count(pointed.begin(), pointed.end(), '.') > 1)
        return std::nullopt;
    std::replace(pointed.begin(), pointed.end(), ',', '.');
    return number_from_file(pointed);
}

std::string clock_text(long seconds) {
    const long rest = seconds % 60;
    return std::to_string(seconds / 60) + (rest < 10 ? ":0" : ":") + std::to_string(rest);
}

}  // namespace sipladder
