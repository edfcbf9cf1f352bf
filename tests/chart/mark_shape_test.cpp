#include "engine/chart/mark_shape.hpp"

#include "engine/chart/ink.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <set>
#include <vector>

using namespace sipladder;
using chart::MarkShape;
using chart::Point;
using solution::Component;

namespace {

constexpr Component components[] = {Component::sweet,      Component::sour,   Component::alcohol,
                                    Component::astringent, Component::bitter, Component::salty,
                                    Component::weight};

double area_of(const std::vector<Point>& corners) {
    double twice = 0.0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = corners[i];
        const Point b = corners[(i + 1) % corners.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return 0.5 * twice;
}

bool is_convex(const std::vector<Point>& corners) {
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = corners[i];
        const Point b = corners[(i + 1) % corners.size()];
        const Point c = corners[(i + 2) % corners.size()];
        if ((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) < -1e-9) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("each component has a mark and a colour of its own") {
    std::set<MarkShape> shapes;
    std::set<chart::Ink> inks;
    for (const Component component : components) {
        shapes.insert(chart::shape_of(component));
        inks.insert(chart::ink_of(component));
    }
    CHECK(shapes.size() == 7);
    CHECK(inks.size() == 7);
    CHECK(shapes.count(MarkShape::dash) == 0);
    CHECK(inks.count(chart::Ink::base) == 0);
}

TEST_CASE("the parts of a mark are convex and cover what its outline does") {
    for (int i = 0; i <= static_cast<int>(MarkShape::dash); ++i) {
        const auto shape = static_cast<MarkShape>(i);
        CAPTURE(i);
        double covered = 0.0;
        for (const auto& part : chart::mark_parts(shape, {5.0, 7.0}, 4.0)) {
            CHECK(is_convex(part));
            covered += area_of(part);
        }
        CHECK(tests::within(covered, area_of(chart::mark_outline(shape, {5.0, 7.0}, 4.0)), 1e-9));
        for (const Point& corner : chart::mark_outline(shape, {5.0, 7.0}, 4.0))
            CHECK(std::hypot(corner.x - 5.0, corner.y - 7.0) <= 1.46 * 4.0);
    }
}

TEST_CASE("text stands out from the ground in every theme") {
    const auto luminance = [](chart::Rgb c) {  // WCAG 2.1, relative luminance
        const auto channel = [](double v) {
            v /= 255.0;
            return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
        };
        return 0.2126 * channel(c.red) + 0.7152 * channel(c.green) + 0.0722 * channel(c.blue);
    };
    for (const chart::Theme theme : {chart::Theme::light, chart::Theme::dark, chart::Theme::paper}) {
        const double ground = luminance(chart::rgb(chart::Ink::paper, theme));
        for (const chart::Ink ink : {chart::Ink::text, chart::Ink::muted, chart::Ink::accent}) {
            const double words = luminance(chart::rgb(ink, theme));
            const double contrast = (std::max(ground, words) + 0.05) / (std::min(ground, words) + 0.05);
            CHECK(contrast >= 4.5);
        }
    }
}
