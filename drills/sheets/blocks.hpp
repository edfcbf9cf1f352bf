#pragma once

#include "drills/sheets/page_flow.hpp"
#include "drills/sheets/type.hpp"

#include <cairo.h>

#include <string>
#include <vector>

/// The kinds of blocks that sheets are made of. Each is measured with the context given.
namespace sipladder::drills::sheets {

Block paragraph(cairo_t* context, const std::string& text, const Look& look, double width,
                double space_before = 0.0);
/// A heading of a part of the sheet; stays with what follows.
Block heading(cairo_t* context, const std::string& text, double width);
/// A sentence after a dash, hanging.
Block dashed(cairo_t* context, const std::string& text, double width);

struct Column {
    std::string head;
    double share{};  ///< of the table's width
    Align align = Align::left;
    bool bold = false;
};
/// Head and rows, a thin rule below the head; the head comes again on the next page. `offset` is the index
/// that the first block will have on the sheet.
std::vector<Block> table(cairo_t* context, const std::vector<Column>& columns,
                         const std::vector<std::vector<std::string>>& rows, double width, std::size_t offset,
                         double size_pt = 9.5);

/// Facts in two columns: a small word above each value.
struct Fact {
    std::string name;
    std::string value;
};
std::vector<Block> facts(cairo_t* context, const std::vector<Fact>& facts, double width);

/// An empty box to tick, `size` wide.
void draw_tick_box(cairo_t* context, chart::Point at, double size);
void draw_rule(cairo_t* context, double from, double to, double y, double width, chart::Ink ink);

}  // namespace sipladder::drills::sheets
