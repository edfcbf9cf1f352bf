#include "drills/sheets/page_flow.hpp"

#include "engine/random.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <cstdint>
#include <vector>

using namespace sipladder;
using drills::sheets::Block;
using drills::sheets::flow;
using drills::sheets::PlacedBlock;

namespace {

Block block_of(double height, double space_before = 0.0, bool with_next = false) {
    Block block;
    block.height = height;
    block.space_before = space_before;
    block.with_next = with_next;
    return block;
}

}  // namespace

TEST_CASE("blocks go on below each other until the page is full") {
    const auto placed = flow({block_of(40.0), block_of(40.0, 10.0), block_of(40.0, 10.0)}, 100.0, 200.0);
    REQUIRE(placed.size() == 3);
    CHECK(placed[1].page == 0);
    CHECK(placed[1].top == 150.0);
    CHECK(placed[2].page == 1);
    CHECK(placed[2].top == 100.0);  // no space above the first of a page
}

TEST_CASE("a heading is never the last on its page") {
    const auto placed = flow({block_of(70.0), block_of(10.0, 5.0, true), block_of(40.0)}, 0.0, 100.0);
    CHECK(placed[1].page == 1);
    CHECK(placed[2].page == 1);
    const auto chained = flow(
        {block_of(40.0), block_of(10.0, 0.0, true), block_of(10.0, 0.0, true), block_of(50.0)}, 0.0, 100.0);
    for (std::size_t i = 1; i < 4; ++i) CHECK(chained[i].page == 1);
}

TEST_CASE("the head of a table comes again where a row starts a page") {
    std::vector<Block> blocks{block_of(10.0, 0.0, true)};
    for (int i = 0; i < 12; ++i) {
        blocks.push_back(block_of(20.0));
        blocks.back().repeats = 0;
    }
    const auto placed = flow(blocks, 0.0, 100.0);
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const bool starts_page = i == 0 || placed[i].page != placed[i - 1].page;
        CHECK((placed[i].block == 0) == starts_page);
    }
    CHECK(placed.back().page == 2);
}

TEST_CASE("no block is split, lost or laid over another, whatever their heights") {
    constexpr double top = 40.0;
    constexpr double bottom = 740.0;
    for (std::uint64_t seed = 1; seed <= 300; ++seed) {
        CAPTURE(seed);
        Random random(Seed{seed});
        std::vector<Block> blocks;
        for (int i = 0; i < 80; ++i) {
            Block block = block_of(static_cast<double>(8 + random.below(60)),
                                   static_cast<double>(random.below(20)), random.below(7) == 0);
            if (i > 0 && random.below(3) == 0) block.repeats = 0;
            blocks.push_back(block);
        }
        blocks.front().height = 12.0;
        std::size_t expected = 0;
        double y = top;
        std::size_t page = 0;
        for (const PlacedBlock& placed : flow(blocks, top, bottom)) {
            if (placed.page != page) {
                REQUIRE(placed.page == page + 1);
                page = placed.page;
                y = top;
            }
            REQUIRE(placed.top >= y);
            y = placed.top + blocks[placed.block].height;
            REQUIRE(y <= bottom);
            if (placed.block == expected) ++expected;
        }
        REQUIRE(expected == blocks.size());
    }
}
