#include "engine/chart/seen.hpp"

#include "engine/chart/ticks.hpp"
#include "tests/support/text_painter.hpp"
#include "tests/support/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

using namespace sipladder;
using namespace sipladder::chart;
using tests::within;

namespace {

Axis linear() {
    Axis axis;
    axis.from = 10.0;
    axis.to = 20.0;
    return axis;
}

Axis logarithmic() {
    Axis axis;
    axis.kind = AxisKind::logarithmic;
    axis.from = 0.1;
    axis.to = 10.0;
    return axis;
}

bool is_near(const Seen& a, const Seen& b) {
    return within(a.from, b.from, 1e-9) && within(a.to, b.to, 1e-9);
}

}  // namespace

TEST_CASE("nearer keeps the value that is pointed at where it is, on both kinds of axes, and back again") {
    for (const Axis& axis : {linear(), logarithmic()}) {
        const Seen all = all_of(axis);
        for (const double share : {0.0, 0.3, 1.0}) {
            const double value = value_in(axis, all, share);
            const Seen close = nearer(axis, all, value, 4.0);
            CHECK(within(share_in(axis, close, value), share, 1e-9));
            const Seen closer = nearer(axis, close, value, 2.0);
            CHECK(within(share_in(axis, closer, value), share, 1e-9));
            CHECK(is_near(nearer(axis, closer, value, 1.0 / 8.0), all));
        }
        CHECK(nearer(axis, all, all.from, 0.1) == all);  // no farther than all
    }
    CHECK(is_near(nearer(logarithmic(), {0.1, 10.0}, 1.0, 2.0), {std::sqrt(0.1), std::sqrt(10.0)}));
}

TEST_CASE("along stops at the ends of the axis and keeps what is seen as wide as it is") {
    const Axis axis = linear();
    CHECK(is_near(along(axis, {12.0, 14.0}, 0.5), {13.0, 15.0}));
    CHECK(is_near(along(axis, {12.0, 14.0}, -5.0), {10.0, 12.0}));
    CHECK(is_near(along(axis, {12.0, 14.0}, 50.0), {18.0, 20.0}));
    CHECK(is_near(along(logarithmic(), {0.1, 1.0}, 1.0), {1.0, 10.0}));
}

TEST_CASE("what is no part of an axis is all of it, and there is a nearest") {
    const double none = std::nan("");
    for (const Seen& wrong : {Seen{14.0, 12.0}, Seen{12.0, 12.0}, Seen{none, 14.0}, Seen{12.0, INFINITY}})
        CHECK(within(linear(), wrong) == all_of(linear()));
    CHECK(within(logarithmic(), {-1.0, 2.0}) == all_of(logarithmic()));
    CHECK(within(logarithmic(), {0.0, 2.0}) == all_of(logarithmic()));
    CHECK(is_near(within(linear(), {5.0, 7.0}), {10.0, 12.0}));
    Seen seen = all_of(linear());
    for (int i = 0; i < 100; ++i) seen = nearer(linear(), seen, 15.0, 2.0);
    CHECK(within(seen.to - seen.from, 10.0 / 500.0, 1e-9));
    for (int i = 0; i < 1000; ++i) seen = along(linear(), seen, 0.7);
    CHECK(within(seen.to, 20.0, 1e-12));
    CHECK(within(seen.to - seen.from, 10.0 / 500.0, 1e-9));
}

TEST_CASE("a part has the marks that are in it, whole lines that cross it, and the words of no others") {
    Chart chart;
    chart.x = linear();
    for (const double x : {11.0, 13.0, 15.0, 19.0}) {
        Marker marker;
        marker.at = {x, 0.5};
        marker.hover = "at " + std::to_string(static_cast<int>(x));
        chart.marks.emplace_back(marker);
    }
    Line line;
    line.points = {{10.0, 0.1}, {20.0, 0.9}};
    chart.marks.emplace_back(line);
    Interval bar;
    bar.at = {19.0, 0.2};
    bar.lower = 14.5;
    bar.upper = 19.5;
    bar.hover = "a bar that begins here";
    chart.marks.emplace_back(bar);
    const Chart part = part_of(chart, {12.0, 16.0});
    CHECK(part.is_part);
    CHECK(part.marks.size() == 4);
    tests::TextPainter painter;
    const std::vector<Hit> hits = draw(part, {0.0, 0.0, 400.0, 200.0}, painter);
    std::vector<std::string> told;
    for (const Hit& hit : hits) told.push_back(hit.text);
    CHECK(told == std::vector<std::string>{"at 13", "at 15", "a bar that begins here"});
    const Chart all = part_of(chart, {10.0, 20.0});
    CHECK_FALSE(all.is_part);
    CHECK(all.marks.size() == chart.marks.size());
}

TEST_CASE("ticks of a part are readable: round numbers, the sittings in it, or dates where it has none") {
    Chart chart;
    chart.x = logarithmic();
    const Chart near = part_of(chart, {2.1, 2.9});
    CHECK(tick_choices(near.x).front().size() >= 2);

    Chart weeks;
    weeks.x.from = 0.0;
    weeks.x.to = 30.0;
    for (int i = 0; i < 100; ++i) weeks.x.more_ticks.push_back({0.2 * i, "sitting " + std::to_string(i)});
    weeks.x.ticks = {weeks.x.more_ticks[0], weeks.x.more_ticks[50]};
    weeks.x.dated = Tick{0.0, "2026-01-01"};
    const auto labels = [&](double from, double to) {
        std::vector<std::string> texts;
        for (const Tick& tick : part_of(weeks, {from, to}).x.ticks) texts.push_back(tick.label);
        return texts;
    };
    CHECK(labels(0.9, 1.5) == std::vector<std::string>{"sitting 5", "sitting 6", "sitting 7"});
    CHECK(labels(0.0, 20.0).size() <= 9);
    CHECK(labels(0.0, 20.0).size() > 4);
    CHECK(labels(24.0, 24.6) ==
          std::vector<std::string>{"2026-06-18", "2026-06-19", "2026-06-20", "2026-06-21", "2026-06-22"});
    CHECK(labels(21.0, 30.0).size() >= 2);
    CHECK(can_be_nearer(weeks));
    weeks.x.dated.reset();
    CHECK_FALSE(can_be_nearer(weeks));  // a row of names
    chart.shape = 1.0;
    CHECK_FALSE(can_be_nearer(chart));
}
