// All sums are done along the axis, where a logarithmic one is as even as a linear one.

#include "engine/chart/seen.hpp"

#include "engine/instant.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <variant>
#include <vector>

namespace sipladder::chart {

namespace {

constexpr double least_share = 1.0 / 500.0;

double place(const Axis& axis, double value) {
    return axis.kind == AxisKind::linear ? value : std::log(value);
}
double value_at(const Axis& axis, double place) {
    return axis.kind == AxisKind::linear ? place : std::exp(place);
}

bool is_of(const Axis& axis, const Seen& seen) {
    const bool is_finite = std::isfinite(seen.from) && std::isfinite(seen.to) && seen.from < seen.to;
    return is_finite && (axis.kind == AxisKind::linear || seen.from > 0.0);
}

/// Whether a mark has anything between two values of x.
struct IsSeen {
    const Seen& seen;

    bool holds(double x) const { return x >= seen.from && x <= seen.to; }
    bool meets(double from, double to) const { return from <= seen.to && to >= seen.from; }

    bool operator()(const ReferenceBand& mark) const {
        return mark.direction == Direction::along_y || meets(mark.from, mark.to);
    }
    bool operator()(const Band& mark) const {
        return !mark.x.empty() && meets(mark.x.front(), mark.x.back());
    }
    bool operator()(const Ridge& mark) const {
        return !mark.x.empty() && meets(mark.x.front(), mark.x.back());
    }
    bool operator()(const Rule& mark) const { return mark.direction == Direction::along_x || holds(mark.at); }
    bool operator()(const Line& mark) const {
        const auto by_x = [](const Point& a, const Point& b) { return a.x < b.x; };
        const auto [least, most] = std::minmax_element(mark.points.begin(), mark.points.end(), by_x);
        return least != mark.points.end() && meets(least->x, most->x);
    }
    bool operator()(const Interval& mark) const {
        return mark.direction == Direction::along_x ? meets(mark.lower, mark.upper) : holds(mark.at.x);
    }
    bool operator()(const Marker& mark) const { return holds(mark.at.x); }
    bool operator()(const Text& mark) const { return holds(mark.at.x); }
};

constexpr double days_in_week = 7.0;

/// Dates at even steps, on an axis that counts weeks and has one value with its date.
std::vector<Tick> dates_in(const Tick& dated, const Seen& seen) {
    constexpr std::array<double, 9> steps{1.0, 2.0, 7.0, 14.0, 28.0, 56.0, 91.0, 182.0, 364.0};
    constexpr double most = 9.0;
    constexpr std::int64_t ms_in_day = 86'400'000;
    const Instant day_zero = instant_from_iso8601(dated.label + "T00:00:00Z", "date");
    const double days = days_in_week * (seen.to - seen.from);
    const auto fits = [&](double step) { return days / step <= most; };
    const auto found = std::find_if(steps.begin(), steps.end(), fits);
    const double step = found == steps.end() ? days / most : *found;
    std::vector<Tick> ticks;
    for (double n = std::ceil(days_in_week * (seen.from - dated.at) / step);
         dated.at + n * step / days_in_week <= seen.to; n += 1.0) {
        const auto day = static_cast<std::int64_t>(std::round(n * step));
        ticks.push_back({dated.at + static_cast<double>(day) / days_in_week,
                         to_date({day_zero.utc_ms + day * ms_in_day, 0, 0})});
    }
    return ticks;
}

std::vector<Tick> ticks_in(const Axis& axis, const Seen& seen) {
    std::vector<Tick> ticks = axis.more_ticks.empty() ? axis.ticks : axis.more_ticks;
    std::erase_if(ticks, [&](const Tick& tick) { return tick.at < seen.from || tick.at > seen.to; });
    constexpr std::size_t readable = 2;
    constexpr std::size_t most = 9;
    if (axis.dated && ticks.size() < readable) return dates_in(*axis.dated, seen);
    if (axis.more_ticks.empty() || ticks.size() <= most) return ticks;
    std::vector<Tick> thinned;
    const std::size_t every = (ticks.size() + most - 1) / most;
    for (std::size_t i = 0; i < ticks.size(); i += every) thinned.push_back(std::move(ticks[i]));
    return thinned;
}

}  // namespace

bool can_be_nearer(const Chart& chart) {
    return chart.x.shown && chart.shape == 0.0 && (chart.x.ticks.empty() || chart.x.dated);
}

Seen all_of(const Axis& whole) {
    return {whole.from, whole.to};
}

double share_in(const Axis& whole, const Seen& seen, double value) {
    const double from = place(whole, seen.from);
    return (place(whole, value) - from) / (place(whole, seen.to) - from);
}

double value_in(const Axis& whole, const Seen& seen, double share) {
    return value_at(whole, std::lerp(place(whole, seen.from), place(whole, seen.to), share));
}

Seen within(const Axis& whole, Seen seen) {
    if (!is_of(whole, seen)) return all_of(whole);
    const double least = place(whole, whole.from);
    const double most = place(whole, whole.to);
    const double from = place(whole, seen.from);
    const double width = std::clamp(place(whole, seen.to) - from, least_share * (most - least), most - least);
    if (width >= (1.0 - 1e-9) * (most - least)) return all_of(whole);
    const double start = std::clamp(from, least, most - width);
    return {value_at(whole, start), value_at(whole, start + width)};
}

Seen nearer(const Axis& whole, const Seen& seen, double about, double factor) {
    const double from = place(whole, seen.from);
    const double to = place(whole, seen.to);
    const double least = least_share * (place(whole, whole.to) - place(whole, whole.from));
    const double width = std::max((to - from) / factor, least);
    const double share = std::clamp(share_in(whole, seen, about), 0.0, 1.0);
    const double start = from + share * ((to - from) - width);
    return within(whole, {value_at(whole, start), value_at(whole, start + width)});
}

Seen along(const Axis& whole, const Seen& seen, double share) {
    const double from = place(whole, seen.from);
    const double width = place(whole, seen.to) - from;
    const double start = from + share * width;
    return within(whole, {value_at(whole, start), value_at(whole, start + width)});
}

Chart part_of(const Chart& chart, const Seen& wanted) {
    const Seen seen = within(chart.x, wanted);
    if (seen == all_of(chart.x)) return chart;
    Chart part;
    part.title = chart.title;
    part.y_title = chart.y_title;
    part.note = chart.note;
    part.x = chart.x;
    part.y = chart.y;
    part.shape = chart.shape;
    part.is_part = true;
    part.x.from = seen.from;
    part.x.to = seen.to;
    part.x.ticks = ticks_in(chart.x, seen);
    part.x.more_ticks.clear();
    std::copy_if(chart.marks.begin(), chart.marks.end(), std::back_inserter(part.marks),
                 [&](const Mark& mark) { return std::visit(IsSeen{seen}, mark); });
    return part;
}

}  // namespace sipladder::chart
