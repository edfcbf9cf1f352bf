#include "engine/chart/chart.hpp"
#include "tests/support/example_charts.hpp"
#include "tests/support/text_painter.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <string>
#include <vector>

using namespace sipladder;
using chart::Rect;
using tests::TextPainter;

namespace {

std::vector<chart::Chart> example_charts() {
    std::vector<chart::Chart> charts;
    for (const double sd : {0.05, 0.17, 0.6, 1.5})
        for (const double log10 : {-2.4, -1.15, 0.1})
            charts.push_back(chart::psychometric_curve(tests::example_curve(log10, sd)));
    charts.push_back(chart::palate_row(tests::example_row()));
    chart::PalateRow bare = tests::example_row();
    bare.title.clear();
    bare.filled->reported.reset();
    charts.push_back(chart::palate_row(bare));
    chart::PalateRow full = tests::example_row();
    full.outlined = {
        "recognition", tests::example_threshold(0.6, 0.2), chart::Reported{5.7, 5.7, "invented"}, {}};
    full.beside = {{"quick look", tests::example_threshold(0.3, 0.3)},
                   {"nose closed", tests::example_threshold(0.2, 0.4)}};
    charts.push_back(chart::palate_row(full));
    full.filled.reset();
    charts.push_back(chart::palate_row(full));
    for (const int rungs : {1, 6, 14})
        charts.push_back(chart::planned_against_mixed(tests::example_mixed(rungs)));
    chart::Chart wordy = charts.front();
    wordy.title =
        "a title that is much too long for any small chart, with aVeryLongWordThatHasNoBlanksInItAtAll";
    wordy.note = "a note that goes on and on, so that it has to be broken into lines and in the end left out";
    charts.push_back(wordy);
    return charts;
}

bool lies_in(const Rect& box, const Rect& area) {
    constexpr double hair = 1e-6;
    return box.x >= area.x - hair && box.right() <= area.right() + hair && box.y >= area.y - hair &&
           box.bottom() <= area.bottom() + hair;
}

}  // namespace

TEST_CASE("no text of a chart leaves its area or touches another, at any size") {
    const std::vector<chart::Chart> charts = example_charts();
    for (double width = 260.0; width <= 900.0; width += 53.0) {
        for (double height = 60.0; height <= 700.0; height += 61.0) {
            for (std::size_t i = 0; i < charts.size(); ++i) {
                CAPTURE(width);
                CAPTURE(height);
                CAPTURE(i);
                const Rect area{17.0, 23.0, width, height};
                TextPainter painter;
                chart::draw(charts[i], area, painter);
                for (std::size_t a = 0; a < painter.words.size(); ++a) {
                    CAPTURE(painter.words[a].text);
                    REQUIRE(lies_in(painter.words[a].box, area));
                    for (std::size_t b = 0; b < a; ++b) {
                        CAPTURE(painter.words[b].text);
                        REQUIRE_FALSE(chart::overlap(painter.words[a].box, painter.words[b].box));
                    }
                }
                for (const chart::Point& point : painter.points) REQUIRE(area.contains(point));
            }
        }
    }
}

TEST_CASE("an axis that is shown has two labels and its unit, down to the smallest chart") {
    for (const chart::Chart& drawn : example_charts()) {
        TextPainter painter;
        chart::draw(drawn, {0.0, 0.0, 260.0, 120.0}, painter);
        std::vector<double> unit_rows;
        for (const TextPainter::Word& word : painter.words)
            if (word.text == drawn.x.unit) unit_rows.push_back(word.box.y);
        REQUIRE(unit_rows.size() == 1);
        std::size_t labels = 0;
        for (const TextPainter::Word& word : painter.words)
            if (word.box.y == unit_rows.front() && word.text != drawn.x.unit) ++labels;
        CHECK(labels >= 2);
    }
}

TEST_CASE("a chart of a usual size says all of its words") {
    TextPainter painter;
    chart::draw(chart::psychometric_curve(tests::example_curve()), {0.0, 0.0, 640.0, 420.0}, painter);
    for (const char* wanted :
         {"tartaric acid in still water", "right answers", "chance",
          "threshold 0.071 (0.033 to 0.152) g/L, 95 % interval", "1/3", "2/4", "4/5", "6/6", "3/3", "1/1"}) {
        CAPTURE(wanted);
        bool found = false;
        for (const TextPainter::Word& word : painter.words) found = found || word.text == wanted;
        CHECK(found);
    }
}

TEST_CASE("every mark tells its number, also where its label found no room") {
    TextPainter painter;
    const auto hits =
        chart::draw(chart::psychometric_curve(tests::example_curve()), {0.0, 0.0, 260.0, 120.0}, painter);
    REQUIRE(hits.size() == 8);  // six levels, the interval and the threshold
    CHECK(hits[1].text == "0.0310 g/L: 2 right of 4");
    CHECK(hits.back().text == "threshold 0.071 (0.033 to 0.152) g/L, 95 % interval; prior: flat");
    const Rect box = hits.back().box;
    const chart::Hit* top = chart::hit_at(hits, {box.x + 0.5 * box.width, box.y + 0.5 * box.height});
    REQUIRE(top != nullptr);
    CHECK(top->text == hits.back().text);
    CHECK(chart::hit_at(hits, {259.0, 119.0}) == nullptr);
}

TEST_CASE("an interval that runs out of the plot has no end there") {
    chart::Chart drawn;
    drawn.x.to = 10.0;
    drawn.y.shown = false;
    chart::Interval bar;
    bar.at = {5.0, 0.5};
    bar.lower = 2.0;
    bar.upper = 8.0;
    const auto lines_of = [&] {
        drawn.marks = {bar};
        TextPainter painter;
        chart::draw(drawn, {0.0, 0.0, 300.0, 150.0}, painter);
        const std::string inside = painter.calls.substr(
            painter.calls.find("clip"), painter.calls.find("unclip") - painter.calls.find("clip"));
        std::size_t lines = 0;
        for (std::size_t at = inside.find("line"); at != std::string::npos; at = inside.find("line", at + 1))
            ++lines;
        return lines;
    };
    CHECK(lines_of() == 3);
    bar.upper = 80.0;
    CHECK(lines_of() == 2);
}
