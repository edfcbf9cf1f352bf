#include "engine/chart/ticks.hpp"

#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <set>
#include <string>

namespace sipladder::chart {

namespace {

constexpr double slack = 1e-9;  // so that an end that is itself round keeps its tick

bool inside(const Axis& axis, double value) {
    const double share = share_along(axis, value);
    return share >= -slack && share <= 1.0 + slack;
}

int lowest_decade(const Axis& axis) {
    return static_cast<int>(std::floor(std::log10(axis.from) - slack));
}
int highest_decade(const Axis& axis) {
    return static_cast<int>(std::ceil(std::log10(axis.to) + slack));
}

std::vector<Tick> log_ticks(const Axis& axis, std::initializer_list<double> heads, int every) {
    std::vector<Tick> ticks;
    for (int decade = lowest_decade(axis); decade <= highest_decade(axis); ++decade) {
        if (decade % every != 0) continue;
        for (const double head : heads) {
            const double value = head * std::pow(10.0, decade);
            if (inside(axis, value)) ticks.push_back({value, significant(value, 1)});
        }
    }
    return ticks;
}

std::vector<Tick> linear_ticks(const Axis& axis, double step, int decimals) {
    std::vector<Tick> ticks;
    for (double n = std::ceil(axis.from / step - slack); n * step <= axis.to + slack * step; n += 1.0)
        ticks.push_back({n * step, fixed(n * step, decimals)});
    return ticks;
}

void add_linear(const Axis& axis, std::vector<std::vector<Tick>>& choices) {
    constexpr double most = 11.0;
    const double range = axis.to - axis.from;
    const int start = static_cast<int>(std::floor(std::log10(range))) - 1;
    std::vector<Tick> single;
    for (int decade = start; decade <= start + 3; ++decade) {
        for (const double head : {1.0, 2.0, 5.0}) {
            const double step = head * std::pow(10.0, decade);
            if (range / step > most) continue;
            std::vector<Tick> ticks = linear_ticks(axis, step, std::max(0, -decade));
            if (ticks.size() >= 2)
                choices.push_back(std::move(ticks));
            else if (single.empty())
                single = std::move(ticks);
        }
    }
    if (!single.empty()) choices.push_back(std::move(single));
}

void add_logarithmic(const Axis& axis, std::vector<std::vector<Tick>>& choices) {
    std::vector<Tick> single;
    const auto add = [&](std::vector<Tick> ticks) {
        if (ticks.size() >= 2)
            choices.push_back(std::move(ticks));
        else if (!ticks.empty())
            single = std::move(ticks);
    };
    add(log_ticks(axis, {1.0, 2.0, 5.0}, 1));
    if (choices.empty()) return add_linear(axis, choices);
    add(log_ticks(axis, {1.0, 3.0}, 1));
    for (int every = 1; every <= highest_decade(axis) - lowest_decade(axis); ++every)
        add(log_ticks(axis, {1.0}, every));
    if (!single.empty()) choices.push_back(std::move(single));
}

void add_explicit(const Axis& axis, std::vector<std::vector<Tick>>& choices) {
    for (std::size_t every = 1; every <= axis.ticks.size(); ++every) {
        std::vector<Tick> ticks;
        for (std::size_t i = 0; i < axis.ticks.size(); i += every) ticks.push_back(axis.ticks[i]);
        choices.push_back(std::move(ticks));
    }
}

}  // namespace

double share_along(const Axis& axis, double value) {
    SIPLADDER_EXPECT(axis.to > axis.from);
    if (axis.kind == AxisKind::linear) return (value - axis.from) / (axis.to - axis.from);
    SIPLADDER_EXPECT(axis.from > 0.0);
    if (value <= 0.0) return -std::numeric_limits<double>::infinity();
    return std::log(value / axis.from) / std::log(axis.to / axis.from);
}

std::vector<std::vector<Tick>> tick_choices(const Axis& axis) {
    std::vector<std::vector<Tick>> choices;
    if (!axis.ticks.empty())
        add_explicit(axis, choices);
    else if (axis.kind == AxisKind::logarithmic)
        add_logarithmic(axis, choices);
    else
        add_linear(axis, choices);
    return choices;
}

int digits_apart(std::span<const double> values, int least) {
    constexpr int most = 4;
    SIPLADDER_EXPECT(least >= 1 && least <= most);
    const std::set<double> different(values.begin(), values.end());
    for (int digits = least; digits < most; ++digits) {
        std::set<std::string> texts;
        for (const double value : different) texts.insert(significant(value, digits));
        if (texts.size() == different.size()) return digits;
    }
    return most;
}

std::vector<double> small_ticks(const Axis& axis) {
    std::vector<double> values;
    constexpr int most_decades = 6;
    if (axis.kind == AxisKind::linear || !axis.ticks.empty()) return values;
    if (highest_decade(axis) - lowest_decade(axis) > most_decades) return values;
    for (int decade = lowest_decade(axis); decade <= highest_decade(axis); ++decade)
        for (int head = 1; head <= 9; ++head) {
            const double value = head * std::pow(10.0, decade);
            if (inside(axis, value)) values.push_back(value);
        }
    return values;
}

}  // namespace sipladder::chart
