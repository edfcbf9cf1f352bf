// Ovals within ovals: lips, gums and teeth are rings around the opening; in it the palate arches above, the
// throat lies behind it, the tongue comes forward to the lower teeth. One unit is about a millimetre of a
// wide open mouth, and nothing rests on that.

#include "engine/chart/mouth_outline.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace sipladder::chart {

namespace {

constexpr int pieces = 48;
constexpr double deepest = 0.75;

/// An oval, or what of it lies between two heights or sides.
struct Oval {
    double x{};
    double y{};
    double rx{};
    double ry{};

    double half_height(double at) const {
        const double u = (at - x) / rx;
        return std::abs(u) >= 1.0 ? 0.0 : ry * std::sqrt(1.0 - u * u);
    }
    double top(double at) const { return y + half_height(at); }
    double bottom(double at) const { return y - half_height(at); }
    double left() const { return x - rx; }
    double right() const { return x + rx; }
};

constexpr Oval lips_outer{0.0, 50.0, 70.0, 47.0};
constexpr Oval lips_inner{0.0, 50.0, 62.0, 40.0};
constexpr Oval gums_inner{0.0, 50.0, 57.0, 35.5};
constexpr Oval teeth_inner{0.0, 50.0, 51.0, 28.5};
constexpr Oval tongue{0.0, 36.0, 33.0, 14.0};
constexpr Oval throat{0.0, 59.0, 12.0, 6.5};

/// Between two curves from one side to the other, both taken at the same places.
template <class Lower, class Upper>
Band between(double from, double to, Lower lower, Upper upper) {
    Band band;
    for (int i = 0; i <= pieces; ++i) {
        // Closer together at the ends, where ovals turn.
        const double share = 0.5 - 0.5 * std::cos(3.14159265358979 * i / pieces);
        const double x = from + share * (to - from);
        band.x.push_back(x);
        band.lower.push_back(lower(x));
        band.upper.push_back(std::max(upper(x), lower(x)));
    }
    return band;
}

/// Upper and lower half of what lies between two ovals of one centre.
std::vector<Band> ring(const Oval& outer, const Oval& inner) {
    const auto top = [&](double x) { return outer.top(x); };
    const auto inner_top = [&](double x) { return inner.top(x); };
    const auto inner_bottom = [&](double x) { return inner.bottom(x); };
    const auto bottom = [&](double x) { return outer.bottom(x); };
    return {between(outer.left(), outer.right(), inner_top, top),
            between(outer.left(), outer.right(), bottom, inner_bottom)};
}

/// The tongue between two sides and two heights.
Band of_tongue(double from, double to, double lowest, double highest) {
    return between(
        from, to, [=](double x) { return std::clamp(tongue.bottom(x), lowest, highest); },
        [=](double x) { return std::clamp(tongue.top(x), lowest, highest); });
}

constexpr double tip_below = 27.5;
constexpr double back_above = 44.0;
constexpr double sides_beyond = 18.0;

std::vector<Band> bands_of(MouthPart part) {
    const auto opening_top = [](double x) { return teeth_inner.top(x); };
    const auto opening_bottom = [](double x) { return teeth_inner.bottom(x); };
    switch (part) {
        case MouthPart::lips:
            return ring(lips_outer, lips_inner);
        case MouthPart::gums:
            return ring(lips_inner, gums_inner);
        case MouthPart::teeth:
            return ring(gums_inner, teeth_inner);
        case MouthPart::tongue_tip:
            return {of_tongue(-26.0, 26.0, 20.0, tip_below)};
        case MouthPart::tongue_sides:
            return {of_tongue(tongue.left(), -sides_beyond, tip_below, back_above),
                    of_tongue(sides_beyond, tongue.right(), tip_below, back_above)};
        case MouthPart::tongue_centre:
            return {of_tongue(-sides_beyond, sides_beyond, tip_below, back_above)};
        case MouthPart::tongue_back:
            return {of_tongue(-28.0, 28.0, back_above, 51.0)};
        case MouthPart::cheeks:
            return {between(teeth_inner.left(), -37.0, opening_bottom, opening_top),
                    between(37.0, teeth_inner.right(), opening_bottom, opening_top)};
        case MouthPart::palate:
            return {between(
                -34.0, 34.0, [](double x) { return 67.5 - 0.006 * x * x; }, opening_top)};
        case MouthPart::throat:
            return {between(
                throat.left(), throat.right(), [](double x) { return throat.bottom(x); },
                [](double x) { return throat.top(x); })};
    }
    SIPLADDER_EXPECT(false);
    return {};
}

/// Once round a band.
Line around(const Band& band) {
    Line line;
    for (std::size_t i = 0; i < band.x.size(); ++i) line.points.push_back({band.x[i], band.upper[i]});
    for (std::size_t i = band.x.size(); i-- > 0;) line.points.push_back({band.x[i], band.lower[i]});
    line.points.push_back(line.points.front());
    line.ink = Ink::muted;
    line.width = 0.5;
    return line;
}

/// Where the words of a part stand, and where their line leads to.
struct Label {
    Point words;
    Anchor anchor;
    Point part;
};
constexpr double far_left = -76.0;
constexpr double far_right = 76.0;
constexpr std::array<Label, mouth_parts> labels{{
    {{far_left, 90.0}, Anchor::right, {-44.0, 84.0}},  // lips
    {{far_right, 90.0}, Anchor::left, {36.0, 72.5}},   // teeth
    {{far_left, 74.0}, Anchor::right, {-44.0, 74.6}},  // gums
    {{far_right, 10.0}, Anchor::left, {8.0, 24.5}},    // tip of the tongue
    {{far_left, 26.0}, Anchor::right, {-25.0, 36.0}},  // its sides
    {{far_right, 26.0}, Anchor::left, {8.0, 35.0}},    // its middle
    {{far_right, 42.0}, Anchor::left, {12.0, 46.5}},   // its back
    {{far_left, 50.0}, Anchor::right, {-44.0, 50.0}},  // cheeks
    {{far_right, 74.0}, Anchor::left, {20.0, 69.5}},   // palate
    {{far_right, 58.0}, Anchor::left, {7.0, 59.0}},    // throat
}};

bool holds(const Band& band, Point place) {
    const auto after = std::ranges::upper_bound(band.x, place.x);
    if (after == band.x.begin() || after == band.x.end()) return false;
    const auto i = static_cast<std::size_t>(after - band.x.begin());
    const double share = (place.x - band.x[i - 1]) / (band.x[i] - band.x[i - 1]);
    return place.y >= std::lerp(band.lower[i - 1], band.lower[i], share) &&
           place.y <= std::lerp(band.upper[i - 1], band.upper[i], share);
}

/// Half a line of words, and a little room around it.
bool is_on_words(const Label& label, Point place) {
    constexpr double reach = 6.0;
    const bool is_beside =
        label.anchor == Anchor::right ? place.x <= label.words.x + 2.0 : place.x >= label.words.x - 2.0;
    return is_beside && std::abs(place.y - label.words.y) <= reach;
}

void add_teeth(Chart& chart) {
    for (int i = -6; i <= 6; ++i) {
        const double u = static_cast<double>(i) / 7.5;
        for (const double sign : {1.0, -1.0}) {
            Line gap;
            const double x = u * teeth_inner.rx;
            const double outer = u * gums_inner.rx;
            gap.points = {{x, 50.0 + sign * teeth_inner.half_height(x)},
                          {outer, 50.0 + sign * gums_inner.half_height(outer)}};
            gap.ink = Ink::muted;
            gap.width = 0.4;
            chart.marks.emplace_back(std::move(gap));
        }
    }
}

}  // namespace

Chart mouth_outline(const MouthOutline& data) {
    SIPLADDER_EXPECT(data.parts.size() == mouth_parts);
    Chart chart;
    chart.title = data.title;
    chart.note = data.note;
    chart.x.from = -150.0;
    chart.x.to = 160.0;  // "middle of the tongue, 12 of 12" has to fit
    chart.y.to = 100.0;
    chart.x.shown = chart.y.shown = false;
    chart.shape = 1.55;  // an open mouth is a little higher than wide
    const Ink ink = ink_of(data.component);
    std::vector<Line> outlines;
    for (std::size_t i = 0; i < mouth_parts; ++i)
        for (Band& band : bands_of(static_cast<MouthPart>(i))) {
            outlines.push_back(around(band));
            if (data.parts[i].share <= 0.0) continue;
            band.ink = ink;
            band.opacity = deepest * data.parts[i].share;
            chart.marks.emplace_back(std::move(band));
        }
    for (Line& line : outlines) chart.marks.emplace_back(std::move(line));
    add_teeth(chart);
    for (std::size_t i = 0; i < mouth_parts; ++i) {
        const FeltAt& felt = data.parts[i];
        const Label& label = labels[i];
        const bool is_felt = felt.share > 0.0;
        Line leader;
        leader.points = {{label.words.x + (label.anchor == Anchor::right ? 1.5 : -1.5), label.words.y},
                         label.part};
        leader.ink = Ink::muted;
        leader.width = 0.5;
        chart.marks.emplace_back(std::move(leader));
        Marker dot;
        dot.at = label.part;
        dot.size = 0.3;
        dot.ink = is_felt ? Ink::text : Ink::muted;
        dot.filled = is_felt;
        dot.hover = felt.name + ": " + felt.count;
        chart.marks.emplace_back(std::move(dot));
        Text words;
        words.at = label.words;
        words.text = felt.name + (is_felt ? ", " + felt.count : "");
        words.anchor = label.anchor;
        words.ink = is_felt ? Ink::text : Ink::muted;
        chart.marks.emplace_back(std::move(words));
    }
    return chart;
}

std::optional<MouthPart> mouth_part_at(Point place) {
    for (std::size_t i = 0; i < mouth_parts; ++i) {
        const auto part = static_cast<MouthPart>(i);
        const bool is_in =
            std::ranges::any_of(bands_of(part), [&](const Band& band) { return holds(band, place); });
        if (is_in || is_on_words(labels[i], place)) return part;
    }
    return std::nullopt;
}

}  // namespace sipladder::chart
