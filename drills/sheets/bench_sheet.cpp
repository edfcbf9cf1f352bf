// The order is that of the work: what it is for, what to get ready, the steps, what should have come out, and
// what it costs. The cautions close the sheet in full; a line at its head points to them.
#include "drills/sheets/bench_sheet.hpp"

#include "drills/sheets/bench_words.hpp"
#include "drills/sheets/blocks.hpp"
#include "drills/sheets/page_flow.hpp"
#include "drills/sheets/page_painter.hpp"
#include "engine/chart/dilution_tree.hpp"
#include "engine/solution/provisions.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace sipladder::drills::sheets {

namespace {

using solution::MixPlan;
using Rows = std::vector<std::vector<std::string>>;

constexpr const char* read_cautions = "Read the cautions at the end of this sheet before you start.";

struct Sheet {
    cairo_t* context;
    double width;
    std::vector<Block> blocks;

    void add(Block block) { blocks.push_back(std::move(block)); }
    void add(std::vector<Block> more) { std::move(more.begin(), more.end(), std::back_inserter(blocks)); }
    void add_heading(const std::string& text) { add(heading(context, text, width)); }
    void add_table(const std::vector<Column>& columns, const Rows& rows) {
        add(table(context, columns, rows, width, blocks.size()));
    }
    void add_words(const std::string& text, const Look& look, double space) {
        add(paragraph(context, text, look, width, space));
    }
};

void add_head(Sheet& sheet, const MixPlan& plan, const SheetInfo& info) {
    sheet.add_words(sheet_title(plan), {.size_pt = 19.0, .bold = true}, 0.0);
    sheet.add_words(mix_summary(plan), {.size_pt = 10.5, .leading = 1.1}, 4.0);
    if (!plan.met && !plan.advice.empty())
        sheet.add_words(plan.advice, {.size_pt = 10.5, .bold = true, .leading = 1.1}, 6.0);
    sheet.add_words(read_cautions, {.size_pt = 10.5, .bold = true}, 6.0);
    std::vector<Fact> list;
    if (!info.for_whom.empty()) list.push_back({"for", info.for_whom});
    list.push_back({"date", to_date(info.made)});
    list.push_back({"ingredient", ingredient_text(plan.request.ingredient)});
    list.push_back({"base, also for the blanks", base_text(plan.request.base)});
    list.push_back({"kitchen", plan.request.equipment.name});
    if (!info.blinding.empty()) list.push_back({"served", info.blinding});
    const auto rows = facts(sheet.context, list, sheet.width);
    sheet.add(rows);
}

void add_sitting_head(Sheet& sheet, const std::vector<const MixPlan*>& plans, const SittingInfo& sitting) {
    sheet.add_words("Bench sheet: " + sitting.name, {.size_pt = 19.0, .bold = true}, 0.0);
    sheet.add_words(read_cautions, {.size_pt = 10.5, .bold = true}, 6.0);
    std::vector<Fact> list;
    if (!sitting.info.for_whom.empty()) list.push_back({"for", sitting.info.for_whom});
    list.push_back({"date", to_date(sitting.info.made)});
    list.push_back({"base, also for the blanks", base_text(plans.front()->request.base)});
    list.push_back({"kitchen", plans.front()->request.equipment.name});
    sheet.add(facts(sheet.context, list, sheet.width));
    sheet.add_heading("The sitting, in order");
    for (const std::string& drill : sitting.drills) sheet.add(dashed(sheet.context, drill, sheet.width));
    const std::string costs = cost_text(sitting.info);
    if (!costs.empty())
        sheet.add_words("All together: " + costs, {.size_pt = 10.5, .bold = true, .leading = 1.1}, 5.0);
}

/// The head of one ladder of a sitting, on a page of its own.
void add_ladder_head(Sheet& sheet, const MixPlan& plan) {
    const std::size_t first = sheet.blocks.size();
    sheet.add_words(plan.request.substance.name + " in " + plan.request.base.name,
                    {.size_pt = 16.0, .bold = true}, 0.0);
    sheet.blocks[first].new_page = true;
    std::string bottles;  // several ladders of a sitting may be of one substance
    for (const solution::PlannedLevel& level : plan.levels)
        bottles.append(bottles.empty() ? "Bottles " : ", ").append(level.bottle);
    sheet.add_words(bottles + ".", {.size_pt = 10.5, .bold = true, .leading = 1.1}, 4.0);
    sheet.add_words(mix_summary(plan), {.size_pt = 10.5, .leading = 1.1}, 4.0);
    if (!plan.met && !plan.advice.empty())
        sheet.add_words(plan.advice, {.size_pt = 10.5, .bold = true, .leading = 1.1}, 6.0);
    sheet.add(facts(sheet.context, {{"ingredient", ingredient_text(plan.request.ingredient)}}, sheet.width));
}

/// What, how much, its unit, what for. Ounces stand before the mL that a jug or bottle is marked with.
std::vector<std::string> shopping_row(const solution::ShoppingItem& item, VolumeUnit volume) {
    const std::string amount = amount_text(item.amount);
    if (volume == VolumeUnit::mL || item.unit != "mL") return {item.what, amount, item.unit, item.why};
    return {item.what, us_fl_oz_text(Millilitres{item.amount}), "US fl oz (" + amount + " mL)", item.why};
}

void add_shopping(Sheet& sheet, const std::vector<solution::ShoppingItem>& shopping, VolumeUnit volume) {
    if (shopping.empty()) return;
    sheet.add_heading("Get ready");
    Rows rows;
    for (const solution::ShoppingItem& item : shopping) rows.push_back(shopping_row(item, volume));
    if (volume == VolumeUnit::mL)
        sheet.add_table({{"what", 0.45}, {"at least", 0.11, Align::right}, {"", 0.09}, {"for", 0.35}}, rows);
    else
        sheet.add_table({{"what", 0.39}, {"at least", 0.11, Align::right}, {"", 0.2}, {"for", 0.3}}, rows);
}

/// One step: tick box, number, words; to the right the room for what was really shown.
Block step_block(cairo_t* context, const solution::Step& step, std::size_t number, double width) {
    constexpr double box = 11.0;
    constexpr double words_at = 42.0;
    constexpr double reading_width = 150.0;
    constexpr double air = 9.0;
    const Look words{.size_pt = 10.5, .leading = 1.12};
    const Look count{.size_pt = 10.5, .bold = true, .align = Align::right};
    const Look small{.size_pt = 9.0, .ink = chart::Ink::muted};
    const double words_width = width - words_at - (step.takes_reading ? reading_width + 14.0 : 0.0);
    const double line = line_height(context, words.size_pt);
    Block block;
    block.height = std::max(extent_of(context, step.text, words, words_width).height, line) + air;
    const double height = block.height;
    const std::string shows = reading_words(step);
    const std::string unit = step.unit;
    const std::string text = step.text;
    const bool takes_reading = step.takes_reading;
    block.draw = [=](cairo_t* page, double left, double top) {
        const double y = top + 0.5 * air;
        draw_tick_box(page, {left + 0.5, y + 0.5 * (line - box)}, box);
        draw_text(page, std::to_string(number), count, {left + words_at - 8.0, y});
        draw_text(page, text, words, {left + words_at, y}, words_width);
        draw_rule(page, left, left + width, top + height, 0.5, chart::Ink::grid);
        if (!takes_reading) return;
        const double right = left + width;
        const double unit_at = right - 16.0;
        const double from = right - reading_width + extent_of(page, shows, small).width + 5.0;
        // The line to write on ends level with the words' first line.
        const double small_line = line_height(page, small.size_pt);
        const double words_y = y + 0.8 * (line - small_line);
        draw_text(page, shows, small, {right - reading_width, words_y});
        draw_rule(page, from, unit_at - 4.0, y + 0.86 * line, 0.7, chart::Ink::muted);
        draw_text(page, unit, small, {unit_at, words_y});
    };
    return block;
}

/// The tree that the window draws, where there is a stock to go through.
void add_tree(Sheet& sheet, const MixPlan& plan) {
    if (plan.stocks.empty()) return;
    chart::DilutionTree tree = chart::dilution_tree(plan);
    tree.title.clear();
    constexpr double line_pt = 11.0;
    constexpr double most_pt = 230.0;  // a third of a page
    const double width = sheet.width;
    sheet.add_heading("From ingredient to bottle");
    Block block;
    block.height = std::min(most_pt, line_pt * chart::height_in_lines(tree));
    const double height = block.height;
    block.draw = [tree, height, width](cairo_t* page, double left, double top) {
        PagePainter painter(page);
        chart::draw(tree, {left, top, width, height}, painter);
    };
    sheet.add(std::move(block));
}

void add_steps(Sheet& sheet, const MixPlan& plan) {
    sheet.add_heading("Steps");
    for (std::size_t i = 0; i < plan.steps.size(); ++i)
        sheet.add(step_block(sheet.context, plan.steps[i], i + 1, sheet.width));
}

void add_levels(Sheet& sheet, const MixPlan& plan) {
    const std::string unit = unit_text(plan.request.ladder.scale());
    sheet.add_heading("Levels");
    Rows rows;
    for (const solution::PlannedLevel& level : plan.levels) {
        rows.push_back({level.bottle, amount_text(level.target), planned_text(level),
                        uncertainty_percent(level.u_own_rel), uncertainty_percent(level.u_shared_rel),
                        fixed(level.volume.value, 0), std::to_string(level.portions), level.made_from});
    }
    sheet.add_table({{"bottle", 0.09, Align::left, true},
                     {std::string("target, ").append(unit), 0.14, Align::right},
                     {std::string("as planned, ").append(unit), 0.17, Align::right},
                     {"± own", 0.13, Align::right},
                     {"± shared", 0.12, Align::right},
                     {"mL", 0.08, Align::right},
                     {"cups", 0.08, Align::right},
                     {"made from", 0.19}},
                    rows);
    sheet.add_words(
        "± is one standard uncertainty, as part of the level: its own, and the part that all levels share.",
        {.size_pt = 8.5, .ink = chart::Ink::muted}, 4.0);
}

void add_stocks(Sheet& sheet, const MixPlan& plan) {
    if (plan.stocks.empty()) return;
    const std::string unit = unit_text(plan.request.ladder.scale());
    sheet.add_heading("Stocks: not for tasting");
    Rows rows;
    for (const solution::PlannedStock& stock : plan.stocks)
        rows.push_back({stock.name, significant(stock.concentration, 4), uncertainty_percent(stock.u_rel),
                        fixed(stock.volume.value, 0), stock.made_from});
    sheet.add_table({{"stock", 0.23, Align::left, true},
                     {std::string("as planned, ").append(unit), 0.17, Align::right},
                     {"±", 0.1, Align::right},
                     {"mL", 0.1, Align::right},
                     {"made from", 0.4}},
                    rows);
}

void add_budget(Sheet& sheet, const MixPlan& plan) {
    const std::vector<Contribution> parts = contributions(plan);
    if (parts.empty()) return;
    sheet.add_heading("What the uncertainty is made of");
    Rows rows;
    for (const Contribution& part : parts)
        rows.push_back({part.what, range_percent(part.least_rel, part.most_rel),
                        part.shared ? "all levels" : "each its own"});
    sheet.add_table({{"because of", 0.52}, {"part of a level", 0.24, Align::right}, {"shared by", 0.24}},
                    rows);
}

void add_checks(Sheet& sheet, const MixPlan& plan) {
    if (plan.checks.empty()) return;
    sheet.add_heading("Check before tasting, with what you have of these");
    Rows rows;
    for (const solution::Check& check : plan.checks)
        rows.push_back({check.what, with_uncertainty(check.expected, check.passes_within), check.unit, ""});
    sheet.add_table({{"what", 0.5}, {"passes", 0.2, Align::right}, {"", 0.1}, {"it read", 0.2}}, rows);
    if (!plan.checks.front().otherwise.empty())
        sheet.add_words(plan.checks.front().otherwise, {.size_pt = 9.0, .ink = chart::Ink::muted}, 4.0);
}

void add_keeping(Sheet& sheet, const MixPlan& plan) {
    if (plan.keeping.empty()) return;
    sheet.add_heading("How long it keeps, and what to do when a bottle runs out");
    Rows rows;
    for (const solution::Keeping& one : plan.keeping)
        rows.push_back({one.what, keeping_text(one.hours), one.how});
    sheet.add_table({{"what", 0.17, Align::left, true}, {"at most", 0.13}, {"how", 0.7}}, rows);
    sheet.add_words(run_out_text(plan), {.size_pt = 10.0, .leading = 1.1}, 5.0);
}

/// From the steps to what to do when a bottle runs out.
void add_work(Sheet& sheet, const MixPlan& plan) {
    add_tree(sheet, plan);
    add_steps(sheet, plan);
    add_checks(sheet, plan);
    add_levels(sheet, plan);
    add_stocks(sheet, plan);
    add_budget(sheet, plan);
    add_keeping(sheet, plan);
}

void add_costs(Sheet& sheet, const SheetInfo& info) {
    const std::string costs = cost_text(info);
    if (costs.empty()) return;
    sheet.add_heading("What one drill costs");
    sheet.add_words(costs, {.size_pt = 10.5, .leading = 1.1}, 0.0);
}

void add_cautions(Sheet& sheet, const std::vector<std::string>& cautions) {
    if (cautions.empty()) return;
    sheet.add_heading("Cautions");
    for (const std::string& caution : cautions) sheet.add(dashed(sheet.context, caution, sheet.width));
}

}  // namespace

std::string bench_sheet_pdf(const MixPlan& plan, const SheetInfo& info, Paper paper) {
    const std::string title = sheet_title(plan);
    const auto blocks_of = [&](cairo_t* context) {
        Sheet sheet{context, text_width(paper), {}};
        add_head(sheet, plan, info);
        add_shopping(sheet, plan.shopping, info.volume);
        add_work(sheet, plan);
        add_costs(sheet, info);
        add_cautions(sheet, all_cautions(plan, info));
        return std::move(sheet.blocks);
    };
    std::string footer = title;
    footer.append(", ").append(to_date(info.made));
    return paged_pdf(paper, title, footer, info.made, blocks_of);
}

void write_bench_sheet(const MixPlan& plan, const SheetInfo& info, Paper paper,
                       const std::filesystem::path& path) {
    write_whole(path, bench_sheet_pdf(plan, info, paper));
}

std::string bench_sheet_pdf(const std::vector<const MixPlan*>& plans, const SittingInfo& sitting,
                            Paper paper) {
    const auto blocks_of = [&](cairo_t* context) {
        Sheet sheet{context, text_width(paper), {}};
        add_sitting_head(sheet, plans, sitting);
        add_shopping(sheet, solution::shopping_together(plans), sitting.info.volume);
        SheetInfo info = sitting.info;
        for (const MixPlan* plan : plans) {
            add_ladder_head(sheet, *plan);
            add_work(sheet, *plan);
            info.cautions = all_cautions(*plan, info);
        }
        add_cautions(sheet, info.cautions);
        return std::move(sheet.blocks);
    };
    const std::string title = "Bench sheet: " + sitting.name;
    return paged_pdf(paper, title, title + ", " + to_date(sitting.info.made), sitting.info.made, blocks_of);
}

void write_bench_sheet(const std::vector<const MixPlan*>& plans, const SittingInfo& sitting, Paper paper,
                       const std::filesystem::path& path) {
    write_whole(path, bench_sheet_pdf(plans, sitting, paper));
}

}  // namespace sipladder::drills::sheets
