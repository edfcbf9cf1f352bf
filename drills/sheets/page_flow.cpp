#include "drills/sheets/page_flow.hpp"

#include "engine/problem.hpp"

#include <algorithm>

namespace sipladder::drills::sheets {

namespace {

/// Height of a block together with those that must not be parted from it.
double height_with_next(const std::vector<Block>& blocks, std::size_t first) {
    double height = blocks[first].height;
    for (std::size_t i = first; blocks[i].with_next && i + 1 < blocks.size(); ++i)
        height += blocks[i + 1].space_before + blocks[i + 1].height;
    return height;
}

void draw_footer(cairo_t* context, const PageSize& size, const Margins& margins, const std::string& footer,
                 const std::string& page) {
    const double y = size.height_pt - margins.bottom_pt + 18.0;
    const double width = size.width_pt - margins.left_pt - margins.right_pt;
    const double right = margins.left_pt + width;
    Look look{.size_pt = 8.0, .ink = chart::Ink::muted};
    set_colour(context, chart::Ink::grid, chart::Theme::paper);
    cairo_set_line_width(context, 0.6);
    cairo_move_to(context, margins.left_pt, y - 6.0);
    cairo_line_to(context, right, y - 6.0);
    cairo_stroke(context);
    draw_text(context, "Sipladder", look, {margins.left_pt, y});
    look.align = Align::right;
    draw_text(context, page, look, {right, y});
    // The middle is what is left between the two, on one line: a name may be long.
    look.align = Align::centre;
    const double side =
        std::max(extent_of(context, page, look).width, extent_of(context, "Sipladder", look).width);
    look.one_line = true;
    draw_text(context, footer, look, {margins.left_pt + side + 12.0, y}, width - 2.0 * side - 24.0);
}

}  // namespace

double text_width(Paper paper, const Margins& margins) {
    return page_size(paper).width_pt - margins.left_pt - margins.right_pt;
}

std::vector<PlacedBlock> flow(const std::vector<Block>& blocks, double top, double bottom) {
    std::vector<PlacedBlock> placed;
    double y = top;
    std::size_t page = 0;
    bool is_first = true;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const Block& block = blocks[i];
        const bool held = i > 0 && blocks[i - 1].with_next;
        const double need = (is_first ? 0.0 : block.space_before) + height_with_next(blocks, i);
        if (!is_first && !held && (block.new_page || y + need > bottom)) {
            ++page;
            y = top;
            is_first = true;
            if (block.repeats != Block::none) {
                SIPLADDER_EXPECT(block.repeats < i);
                placed.push_back({block.repeats, page, y});
                y += blocks[block.repeats].height;
                is_first = false;
            }
        }
        if (!is_first) y += block.space_before;
        placed.push_back({i, page, y});
        y += block.height;
        is_first = false;
    }
    return placed;
}

std::string paged_pdf(Paper paper, const std::string& title, const std::string& footer, const Instant& made,
                      const std::function<std::vector<Block>(cairo_t*)>& blocks_of) {
    const PageSize size = page_size(paper);
    const Margins margins;
    return pdf_bytes({size.width_pt, size.height_pt}, title, made, [&](cairo_t* context) {
        const std::vector<Block> blocks = blocks_of(context);
        const std::vector<PlacedBlock> placed =
            flow(blocks, margins.top_pt, size.height_pt - margins.bottom_pt);
        const std::size_t pages = placed.empty() ? 1 : placed.back().page + 1;
        std::size_t next = 0;
        for (std::size_t page = 0; page < pages; ++page) {
            for (; next < placed.size() && placed[next].page == page; ++next)
                blocks[placed[next].block].draw(context, margins.left_pt, placed[next].top);
            const std::string number = std::string("page ").append(std::to_string(page + 1)).append(" of ");
            draw_footer(context, size, margins, footer, number + std::to_string(pages));
            cairo_show_page(context);
        }
    });
}

}  // namespace sipladder::drills::sheets
