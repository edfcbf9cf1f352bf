#pragma once

#include "drills/sheets/paper.hpp"
#include "drills/sheets/surface.hpp"
#include "drills/sheets/type.hpp"

#include <cairo.h>

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

/// Blocks set one below the other on as many pages as they need. A block is never split.
namespace sipladder::drills::sheets {

/// One thing that stays whole: a paragraph, a step, a row of a table.
struct Block {
    double height{};
    std::function<void(cairo_t*, double left, double top)> draw;
    double space_before{};       ///< left out at the top of a page
    bool with_next = false;      ///< not the last on its page: a heading, the head of a table
    bool new_page = false;       ///< begins a page: the sheet of the next person
    std::size_t repeats = none;  ///< index of the block drawn again above this one where it starts a page

    static constexpr std::size_t none = static_cast<std::size_t>(-1);
};

struct Margins {
    double left_pt = 48.0;
    double right_pt = 44.0;
    double top_pt = 44.0;
    double bottom_pt = 54.0;  ///< the footer stands in it
};

/// Width between the margins.
double text_width(Paper paper, const Margins& margins = {});

/// Which page each block stands on, and where.
struct PlacedBlock {
    std::size_t block{};
    std::size_t page{};
    double top{};
};
/// A block that is taller than a page gets one of its own.
std::vector<PlacedBlock> flow(const std::vector<Block>& blocks, double top, double bottom);

/// Makes the blocks, lays them out and draws all pages with the footer "footer … page 1 of 3 … Sipladder".
/// `blocks_of` is given a context to measure with.
std::string paged_pdf(Paper paper, const std::string& title, const std::string& footer, const Instant& made,
                      const std::function<std::vector<Block>(cairo_t*)>& blocks_of);

}  // namespace sipladder::drills::sheets
