#include "drills/sheets/report.hpp"

#include "drills/sheets/page_painter.hpp"

#include <utility>

namespace sipladder::drills::sheets {

namespace {

const Look sentence{.size_pt = 10.0, .leading = 1.08};
const Look small{.size_pt = 8.5, .ink = chart::Ink::muted, .leading = 1.08};

}  // namespace

void Report::add(std::vector<Block> more) {
    for (Block& block : more) add(std::move(block));
}

void Report::title(const std::string& text, bool new_page) {
    add(paragraph(context_, text, {.size_pt = 19.0, .bold = true}, width_));
    blocks_.back().new_page = new_page;
    blocks_.back().with_next = true;
}

void Report::head(const std::string& text) {
    add(heading(context_, text, width_));
}

void Report::part(const std::string& text) {
    add(paragraph(context_, text, {.size_pt = 10.5, .bold = true}, width_, 10.0));
    blocks_.back().with_next = true;
}

void Report::say(const std::string& text) {
    add(paragraph(context_, text, sentence, width_, 4.0));
}

void Report::note(const std::string& text) {
    add(paragraph(context_, text, small, width_, 4.0));
}

void Report::list(const std::vector<Fact>& named) {
    add(facts(context_, named, width_));
}

void Report::rows(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& cells) {
    std::vector<Block> made = table(context_, columns, cells, width_, blocks_.size());
    made.front().space_before = 8.0;
    add(std::move(made));
}

void Report::picture(const chart::Chart& chart, double height) {
    Block block;
    block.height = height;
    block.space_before = 8.0;
    const double width = width_;
    block.draw = [chart, height, width](cairo_t* page, double left, double top) {
        PagePainter painter(page);
        chart::draw(chart, {left, top, width, height}, painter);
    };
    add(std::move(block));
}

}  // namespace sipladder::drills::sheets
