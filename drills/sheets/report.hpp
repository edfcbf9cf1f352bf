#pragma once

#include "drills/sheets/blocks.hpp"
#include "drills/sheets/page_flow.hpp"
#include "engine/chart/chart.hpp"

#include <cairo.h>

#include <string>
#include <vector>

/// What reports of several pages are written with: titles, sentences, tables and pictures, one after the
/// other. Inside sheets only.
namespace sipladder::drills::sheets {

/// Blocks of one sheet, with the context that measures them.
class Report {
  public:
    Report(cairo_t* context, double width) : context_(context), width_(width) {}

    void add(Block block) { blocks_.push_back(std::move(block)); }
    void add(std::vector<Block> more);
    void title(const std::string& text, bool new_page = false);
    void head(const std::string& text);
    /// A heading below a heading.
    void part(const std::string& text);
    void say(const std::string& text);
    void note(const std::string& text);
    void list(const std::vector<Fact>& named);
    void rows(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& cells);
    /// @param height  points
    void picture(const chart::Chart& chart, double height);
    /// What was added last stays on the page of what comes next.
    void keep_with_next() { blocks_.back().with_next = true; }
    std::vector<Block> done() { return std::move(blocks_); }

  private:
    cairo_t* context_;
    double width_;
    std::vector<Block> blocks_;
};

}  // namespace sipladder::drills::sheets
