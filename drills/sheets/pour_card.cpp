#include "drills/sheets/pour_card.hpp"

#include "drills/sheets/blocks.hpp"
#include "drills/sheets/page_flow.hpp"
#include "engine/problem.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

constexpr double letter_width = 84.0;
constexpr double tick_width = 34.0;

double cup_width(double width, std::size_t cups) {
    // Single cups need no more room than three do.
    return (width - letter_width - tick_width) / static_cast<double>(std::max<std::size_t>(cups, 3));
}

std::vector<std::string> heads_of(std::size_t cups) {
    if (cups == 1) return {"the cup"};
    if (cups == 2) return {"left cup", "right cup"};
    if (cups == 3) return {"left cup", "middle cup", "right cup"};
    std::vector<std::string> heads;
    for (std::size_t i = 1; i <= cups; ++i) heads.push_back("cup " + std::to_string(i));
    return heads;
}

/// The words above the columns, again on every page.
Block card_head(cairo_t* context, double width, std::size_t cups) {
    const Look look{.size_pt = 8.5, .ink = chart::Ink::muted};
    Block block;
    block.height = line_height(context, look.size_pt) + 6.0;
    block.space_before = 14.0;
    block.with_next = true;
    const double height = block.height;
    block.draw = [=](cairo_t* page, double left, double top) {
        draw_text(page, "screen shows", look, {left, top});
        const std::vector<std::string> heads = heads_of(cups);
        for (std::size_t i = 0; i < heads.size(); ++i)
            draw_text(page, heads[i], look,
                      {left + letter_width + static_cast<double>(i) * cup_width(width, cups), top});
        draw_text(page, "done", look, {left + width - tick_width + 4.0, top});
        draw_rule(page, left, left + width, top + height, 0.9, chart::Ink::text);
    };
    return block;
}

/// What goes into a cup; where many stand side by side, the letter alone.
std::string poured(const std::string& bottle, std::size_t cups) {
    return bottle == "base" || cups > 3 ? bottle : "bottle " + bottle;
}

Block card_row(cairo_t* context, const CardRow& row, double width, std::size_t head) {
    const std::size_t cups = row.codes.size();
    SIPLADDER_EXPECT(cups > 0 && row.contents.size() == cups && row.place < cups);
    const Look letter{.size_pt = 16.0, .bold = true};
    const Look code{.size_pt = 10.5};
    const Look bottle{.size_pt = 10.5, .bold = true};
    const Look beside{.size_pt = 10.5, .ink = chart::Ink::muted};
    constexpr double code_width = 34.0;
    Block block;
    block.height = line_height(context, letter.size_pt) + 6.0;
    block.repeats = head;
    const double height = block.height;
    const double base_y = 0.5 * (height - line_height(context, code.size_pt));
    block.draw = [=](cairo_t* page, double left, double top) {
        draw_text(page, row.letter, letter, {left, top + 3.0});
        for (std::size_t i = 0; i < cups; ++i) {
            const double x = left + letter_width + static_cast<double>(i) * cup_width(width, cups);
            draw_text(page, row.codes[i].digits, code, {x, top + base_y});
            // One holds the level; of a set each holds one.
            const bool holds_level = row.contents[i] != "base" && (i == row.place || row.bottle.empty());
            draw_text(page, poured(row.contents[i], cups), holds_level ? bottle : beside,
                      {x + code_width, top + base_y});
        }
        draw_tick_box(page, {left + width - tick_width + 9.0, top + 0.5 * (height - 11.0)}, 11.0);
        draw_rule(page, left, left + width, top + height, 0.5, chart::Ink::grid);
    };
    return block;
}

std::string how_to(const CardInfo& info, std::size_t cups) {
    std::string text = "When the screen shows a letter, find its row. Pour ";
    text.append(volume_text(info.cup, info.volume, significant(info.cup.value, 2) + " mL"));
    if (cups == 1)
        text.append(" into a cup, as the row says; put the code on it and set it before the taster.");
    else
        text.append(" into each of ")
            .append(cups == 2   ? "two"
                    : cups == 3 ? "three"
                                : std::to_string(cups))
            .append(
                " cups alike, as the row says; put the codes on them and set them before the taster, left to "
                "right.");
    text.append(" Tick the row: each letter is used once. Letters come in no order.");
    return text;
}

}  // namespace

std::string pour_card_pdf(const std::vector<CardRow>& rows, const CardInfo& info, Paper paper) {
    const std::string title = std::string("Pour card: ").append(info.what);
    const double width = text_width(paper);
    const std::size_t cups = rows.empty() ? places : rows.front().codes.size();
    const auto blocks_of = [&](cairo_t* context) {
        std::vector<Block> blocks;
        blocks.push_back(paragraph(context, title, {.size_pt = 19.0, .bold = true}, width));
        blocks.push_back(paragraph(context, "For the helper only. The taster must not see this card.",
                                   {.size_pt = 10.5, .bold = true}, width, 4.0));
        blocks.push_back(
            paragraph(context, how_to(info, cups), {.size_pt = 10.5, .leading = 1.1}, width, 6.0));
        std::vector<Fact> list;
        if (!info.for_whom.empty()) list.push_back({"for", info.for_whom});
        list.push_back({"date", to_date(info.made)});
        for (Block& block : facts(context, list, width)) blocks.push_back(std::move(block));
        const std::size_t head = blocks.size();
        blocks.push_back(card_head(context, width, cups));
        for (const CardRow& row : rows) blocks.push_back(card_row(context, row, width, head));
        if (!info.cautions.empty()) blocks.push_back(heading(context, "Cautions", width));
        for (const std::string& caution : info.cautions) blocks.push_back(dashed(context, caution, width));
        return blocks;
    };
    std::string footer = title;
    footer.append(", ").append(to_date(info.made));
    return paged_pdf(paper, title, footer, info.made, blocks_of);
}

void write_pour_card(const std::vector<CardRow>& rows, const CardInfo& info, Paper paper,
                     const std::filesystem::path& path) {
    write_whole(path, pour_card_pdf(rows, info, paper));
}

}  // namespace sipladder::drills::sheets
