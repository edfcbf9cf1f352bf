#include "engine/chart/dilution_tree.hpp"

#include "engine/content/content.hpp"
#include "engine/solution/planner.hpp"
#include "tests/support/text_painter.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>

using namespace sipladder;
using chart::DilutionTree;
using chart::Rect;
using chart::TreeNode;
using tests::TextPainter;

namespace {

/// `stocks` stocks, each from the one before it; the rungs are drawn from them in turn, the strongest from
/// the first; `batches` of everything.
DilutionTree example_tree(std::size_t rungs, std::size_t stocks, std::size_t batches = 1) {
    DilutionTree tree;
    tree.title = "tartaric acid in still water";
    tree.component = solution::Component::sour;
    tree.nodes.push_back({.kind = TreeNode::Kind::ingredient,
                          .name = "tartaric acid powder of a name that is long",
                          .from = {},
                          .volume_mL = 2.03,
                          .amount = "2.03 g",
                          .how = {}});
    for (std::size_t i = 0; i < stocks; ++i)
        tree.nodes.push_back({.kind = TreeNode::Kind::stock,
                              .name = "stock " + std::string(1, static_cast<char>('A' + i)),
                              .from = i,
                              .volume_mL = 150.0,
                              .taken_mL = i == 0 ? 2.03 : 10.0,
                              .amount = "150 mL",
                              .level = 20.0 * std::pow(0.05, static_cast<double>(i)),
                              .u_rel = 0.004 * static_cast<double>(i + 1),
                              .batches = batches,
                              .how = "as it is made"});
    for (std::size_t i = 0; i < rungs; ++i)
        tree.nodes.push_back({.kind = TreeNode::Kind::level,
                              .name = std::string(1, static_cast<char>('Z' - i)),
                              .from = stocks - i * stocks / rungs,
                              .volume_mL = 150.0,
                              .taken_mL = 1.0 + 60.0 * static_cast<double>(i) / static_cast<double>(rungs),
                              .amount = "150 mL",
                              .level = 0.01 * std::pow(2.0, static_cast<double>(i)),
                              .u_rel = 0.05 / static_cast<double>(i + 1),
                              .batches = batches,
                              .how = "as it is made"});
    return tree;
}

/// What is wrong with the words and lines of a drawing; empty: nothing. One check a drawing keeps the test
/// fast.
std::string faults_of(const DilutionTree& tree, const Rect& area) {
    TextPainter painter;
    chart::draw(tree, area, painter);
    constexpr double hair = 1e-6;
    for (std::size_t a = 0; a < painter.words.size(); ++a) {
        const Rect& box = painter.words[a].box;
        if (box.x < area.x - hair || box.right() > area.right() + hair || box.y < area.y - hair ||
            box.bottom() > area.bottom() + hair)
            return painter.words[a].text + " leaves the area";
        for (std::size_t b = 0; b < a; ++b)
            if (chart::overlap(box, painter.words[b].box))
                return painter.words[a].text + " touches " + painter.words[b].text;
    }
    const Rect around{area.x - 1.0, area.y - 1.0, area.width + 2.0, area.height + 2.0};
    for (const chart::Point& point : painter.points)
        if (!around.contains(point)) return "a line leaves the area";
    return {};
}

bool says(const TextPainter& painter, const std::string& text) {
    return std::ranges::any_of(painter.words,
                               [&](const TextPainter::Word& word) { return word.text == text; });
}

}  // namespace

TEST_CASE("no label of a dilution tree leaves its area or touches another, for any ladder, chain and batch") {
    for (std::size_t rungs = 4; rungs <= 12; ++rungs)
        for (std::size_t stocks = 0; stocks <= 3; ++stocks)
            for (const std::size_t batches : {std::size_t{1}, std::size_t{4}})
                for (const double width : {260.0, 420.0, 640.0, 1100.0})
                    for (const double height : {40.0, 120.0, 210.0, 320.0, 700.0}) {
                        CAPTURE(rungs);
                        CAPTURE(stocks);
                        CAPTURE(width);
                        CAPTURE(height);
                        CHECK(faults_of(example_tree(rungs, stocks, batches), {13.0, 21.0, width, height})
                                  .empty());
                    }
}

TEST_CASE(
    "at the height that a tree asks for, every rung and stock says its strength, uncertainty and amount") {
    for (std::size_t rungs = 4; rungs <= 12; ++rungs) {
        const DilutionTree tree = example_tree(rungs, 2, 3);
        TextPainter painter;
        const double em = painter.text_height(chart::TextSize::small);
        chart::draw(tree, {0.0, 0.0, 760.0, em * chart::height_in_lines(tree)}, painter);
        CHECK(says(painter, "stock A"));
        CHECK(says(painter, "20.0 g/L ± 0.40 %"));
        CHECK(says(painter, "1.00 g/L ± 0.80 %"));
        CHECK(says(painter, "150 mL in 3 batches"));
        CHECK(std::ranges::count(painter.words, std::string("150 mL in 3 batches"),
                                 &TextPainter::Word::text) == static_cast<std::ptrdiff_t>(rungs + 2));
        CHECK(says(painter, "Z"));
        CHECK(says(painter, "0.0100 g/L"));
        CHECK(says(painter, "± 5.0 %"));
        CHECK(says(painter, "2.03 g"));
    }
}

TEST_CASE("every part of a dilution tree tells its amount, uncertainty and making, also where no word fits") {
    const DilutionTree tree = example_tree(5, 1);
    for (const double height : {30.0, 300.0}) {
        TextPainter painter;
        const std::vector<chart::Hit> hits = chart::draw(tree, {0.0, 0.0, 500.0, height}, painter);
        REQUIRE(hits.size() == tree.nodes.size());
        CHECK(hits[1].text == "stock A: 20.0 g/L ± 0.40 % (standard uncertainty), 150 mL\nas it is made");
        CHECK(hits[2].text == "bottle Z: 0.0100 g/L ± 5.0 % (standard uncertainty), 150 mL\nas it is made");
        for (std::size_t i = 2; i < hits.size(); ++i)
            for (std::size_t j = 2; j < i; ++j) CHECK_FALSE(chart::overlap(hits[i].box, hits[j].box));
    }
}

TEST_CASE("the tree of a plan holds its ingredient, stocks and rungs, and nothing takes more than there is") {
    const content::Content content = content::load(std::filesystem::path{SIPLADDER_SOURCE_DIR} / "content");
    for (const solution::Ladder& ladder : content.ladders)
        for (const solution::Equipment& kitchen : content.equipment) {
            CAPTURE(ladder.id());
            CAPTURE(kitchen.id);
            const solution::PlanRequest request{
                .ladder = ladder,
                .substance = content.substance(ladder.substance()),
                .ingredient = content.ingredients_of(ladder.substance()).front(),
                .base = content.bases.front(),
                .equipment = kitchen,
                .demand = {}};
            const solution::MixPlan plan = solution::plan(request);
            const DilutionTree tree = chart::dilution_tree(plan);
            REQUIRE(tree.nodes.size() == 1 + plan.stocks.size() + plan.levels.size());
            CHECK(tree.nodes.front().name == request.ingredient.name);
            for (std::size_t i = 0; i < tree.nodes.size(); ++i) {
                CAPTURE(tree.nodes[i].name);
                CHECK(tree.nodes[i].volume_mL > 0.0);
                double taken = 0.0;
                for (std::size_t j = i + 1; j < tree.nodes.size(); ++j)
                    if (tree.nodes[j].from == i) taken += tree.nodes[j].taken_mL;
                CHECK(taken <= tree.nodes[i].volume_mL * (1.0 + 1e-9));
                if (i == 0) continue;
                REQUIRE(tree.nodes[i].from);
                CHECK(*tree.nodes[i].from < i);
                CHECK(tree.nodes[i].taken_mL > 0.0);
                CHECK(!tree.nodes[i].how.empty());
                if (*tree.nodes[i].from > 0)
                    CHECK(tree.nodes[*tree.nodes[i].from].level > tree.nodes[i].level);
            }
            CHECK(faults_of(tree, {0.0, 0.0, 700.0, 260.0}).empty());
        }
}
