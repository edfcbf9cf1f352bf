#include "drills/sheets/blocks.hpp"

#include "engine/problem.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

constexpr double gutter = 10.0;  // between two columns of a table
constexpr double row_air = 7.0;  // above and below the words of a row, together

struct Cell {
    std::string text;
    Look look;
    double x{};
    double width{};
};

std::vector<Cell> cells_of(const std::vector<Column>& columns, const std::vector<std::string>& texts,
                           double width, Look look) {
    SIPLADDER_EXPECT(texts.size() == columns.size());
    std::vector<Cell> cells;
    double x = 0.0;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const double wide = columns[i].share * width;
        look.align = columns[i].align;
        Look own = look;
        own.bold = columns[i].bold && look.ink == chart::Ink::text;
        // Figures keep clear of the column to their right, words of it to theirs: the gutter is shared.
        cells.push_back({texts[i], own, x + (i == 0 ? 0.0 : 0.5 * gutter),
                         wide - (i == 0 || i + 1 == columns.size() ? 0.5 * gutter : gutter)});
        x += wide;
    }
    return cells;
}

double height_of(cairo_t* context, const std::vector<Cell>& cells) {
    double height = 0.0;
    for (const Cell& cell : cells)
        height = std::max(height, extent_of(context, cell.text, cell.look, cell.width).height);
    return height;
}

Block row_block(cairo_t* context, std::vector<Cell> cells, double width, double rule, chart::Ink rule_ink) {
    Block block;
    block.height = height_of(context, cells) + row_air;
    const double height = block.height;
    block.draw = [=, cells = std::move(cells)](cairo_t* page, double left, double top) {
        for (const Cell& cell : cells)
            draw_text(page, cell.text, cell.look, {left + cell.x, top + 0.5 * row_air}, cell.width);
        draw_rule(page, left, left + width, top + height, rule, rule_ink);
    };
    return block;
}

}  // namespace

Block paragraph(cairo_t* context, const std::string& text, const Look& look, double width,
                double space_before) {
    Block block;
    block.height = extent_of(context, text, look, width).height;
    block.space_before = space_before;
    block.draw = [=](cairo_t* page, double left, double top) {
        draw_text(page, text, look, {left, top}, width);
    };
    return block;
}

Block heading(cairo_t* context, const std::string& text, double width) {
    Block block = paragraph(context, text, {.size_pt = 12.0, .bold = true}, width, 16.0);
    block.height += 4.0;
    block.with_next = true;
    return block;
}

Block dashed(cairo_t* context, const std::string& text, double width) {
    constexpr double indent = 12.0;
    const Look look{.size_pt = 9.5, .leading = 1.08};
    Block block;
    block.height = extent_of(context, text, look, width - indent).height;
    block.space_before = 3.0;
    block.draw = [=](cairo_t* page, double left, double top) {
        draw_text(page, "–", look, {left, top});
        draw_text(page, text, look, {left + indent, top}, width - indent);
    };
    return block;
}

std::vector<Block> table(cairo_t* context, const std::vector<Column>& columns,
                         const std::vector<std::vector<std::string>>& rows, double width, std::size_t offset,
                         double size_pt) {
    std::vector<std::string> heads;
    for (const Column& column : columns) heads.push_back(column.head);
    std::vector<Block> blocks;
    Block head =
        row_block(context, cells_of(columns, heads, width, {.size_pt = 8.5, .ink = chart::Ink::muted}), width,
                  0.9, chart::Ink::text);
    head.with_next = true;
    blocks.push_back(std::move(head));
    for (const auto& row : rows) {
        Block block = row_block(context, cells_of(columns, row, width, {.size_pt = size_pt}), width, 0.5,
                                chart::Ink::grid);
        block.repeats = offset;
        blocks.push_back(std::move(block));
    }
    return blocks;
}

std::vector<Block> facts(cairo_t* context, const std::vector<Fact>& facts, double width) {
    const Look name{.size_pt = 8.0, .ink = chart::Ink::muted};
    const Look value{.size_pt = 10.5};
    const double half = 0.5 * width;
    const double wide = half - 14.0;
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < facts.size(); i += 2) {
        const std::vector<Fact> pair(
            facts.begin() + static_cast<std::ptrdiff_t>(i),
            facts.begin() + static_cast<std::ptrdiff_t>(std::min(i + 2, facts.size())));
        const double above = line_height(context, name.size_pt);
        Block block;
        for (const Fact& fact : pair)
            block.height = std::max(block.height, above + extent_of(context, fact.value, value, wide).height);
        block.space_before = 6.0;
        block.draw = [=](cairo_t* page, double left, double top) {
            for (std::size_t k = 0; k < pair.size(); ++k) {
                const double x = left + static_cast<double>(k) * half;
                draw_text(page, pair[k].name, name, {x, top});
                draw_text(page, pair[k].value, value, {x, top + above}, wide);
            }
        };
        blocks.push_back(std::move(block));
    }
    return blocks;
}

void draw_tick_box(cairo_t* context, chart::Point at, double size) {
    set_colour(context, chart::Ink::text, chart::Theme::paper);
    cairo_set_line_width(context, 0.8);
    cairo_rectangle(context, at.x, at.y, size, size);
    cairo_stroke(context);
}

void draw_rule(cairo_t* context, double from, double to, double y, double width, chart::Ink ink) {
    set_colour(context, ink, chart::Theme::paper);
    cairo_set_line_width(context, width);
    cairo_move_to(context, from, y);
    cairo_line_to(context, to, y);
    cairo_stroke(context);
}

}  // namespace sipladder::drills::sheets
