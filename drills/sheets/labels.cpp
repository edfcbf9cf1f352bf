#include "drills/sheets/labels.hpp"

#include "drills/sheets/surface.hpp"
#include "drills/sheets/type.hpp"
#include "engine/problem.hpp"
#include "engine/safety/intake.hpp"
#include "engine/text.hpp"

#include <algorithm>
#include <cmath>

namespace sipladder::drills::sheets {

namespace {

constexpr double pt_per_mm = 72.0 / 25.4;
constexpr double least_width_mm = 12.0;
constexpr double least_height_mm = 8.0;
constexpr double small_pt = 7.5;
constexpr double mark_pt = 5.0;
constexpr double inset_pt = 4.0;

void check(const LabelGrid& grid, Paper paper) {
    std::vector<Problem> problems;
    const auto expect = [&](bool holds, const char* where, const std::string& what,
                            const std::string& right) {
        if (!holds) problems.push_back({where, what, right});
    };
    const double sizes[] = {grid.width_mm, grid.height_mm, grid.left_mm,
                            grid.top_mm,   grid.across_mm, grid.down_mm};
    expect(std::all_of(std::begin(sizes), std::end(sizes),
                       [](double mm) { return std::isfinite(mm) && mm >= 0.0; }),
           "label sizes", "are not all numbers of 0 or more", "millimetres");
    expect(grid.columns >= 1 && grid.rows >= 1, "label grid", "has no label", "at least one column and row");
    expect(grid.width_mm >= least_width_mm && grid.height_mm >= least_height_mm, "label size",
           "is " + exact(grid.width_mm) + " by " + exact(grid.height_mm) + " mm",
           "at least 12 by 8 mm, or the code cannot be read");
    expect(grid.across_mm >= grid.width_mm && grid.down_mm >= grid.height_mm, "label distance",
           "lets labels overlap", "at least the size of a label");
    const double right_mm =
        grid.left_mm + static_cast<double>(grid.columns - 1) * grid.across_mm + grid.width_mm;
    const double bottom_mm = grid.top_mm + static_cast<double>(grid.rows - 1) * grid.down_mm + grid.height_mm;
    const PageSize size = page_size(paper);
    expect(right_mm * pt_per_mm <= size.width_pt + 0.5 && bottom_mm * pt_per_mm <= size.height_pt + 0.5,
           "label grid", "reaches to " + fixed(right_mm, 1) + " by " + fixed(bottom_mm, 1) + " mm",
           "at most " + fixed(size.width_pt / pt_per_mm, 1) + " by " + fixed(size.height_pt / pt_per_mm, 1) +
               " mm of paper");
    if (!problems.empty()) throw Refused(problems);
}

void draw_marks(cairo_t* context, double left, double top, double width, double height) {
    set_colour(context, chart::Ink::muted, chart::Theme::paper);
    cairo_set_line_width(context, 0.4);
    for (const double x : {left, left + width})
        for (const double y : {top, top + height}) {
            cairo_move_to(context, x - mark_pt, y);
            cairo_line_to(context, x + mark_pt, y);
            cairo_move_to(context, x, y - mark_pt);
            cairo_line_to(context, x, y + mark_pt);
        }
    cairo_stroke(context);
}

/// The code as large as the label and its small lines leave room for.
void draw_label(cairo_t* context, const Label& label, double left, double top, double width, double height) {
    const double room_across = width - 2.0 * inset_pt;
    const double line = line_height(context, small_pt);
    const double room_small = static_cast<double>(label.lines.size()) * line;
    const double room_large = std::max(height - 2.0 * inset_pt - room_small, 6.0);
    Look large{.size_pt = 40.0, .bold = true, .align = Align::centre};
    const Extent wanted = extent_of(context, label.large, large);
    large.size_pt *= std::min({1.0, room_across / wanted.width, room_large / wanted.height});
    const double taken = extent_of(context, label.large, large).height;
    double y = top + 0.5 * (height - taken - room_small);
    draw_text(context, label.large, large, {left + inset_pt, y}, room_across);
    y += taken;
    for (const std::string& text : label.lines) {
        draw_text(context, text,
                  {.size_pt = small_pt, .ink = chart::Ink::text, .align = Align::centre, .one_line = true},
                  {left + inset_pt, y}, room_across);
        y += line;
    }
}

/// How long the first of these names that the plan speaks of may be used.
std::string keeps(const solution::MixPlan& plan, std::initializer_list<std::string_view> names) {
    for (const std::string_view name : names)
        for (const solution::Keeping& keeping : plan.keeping)
            if (keeping.what == name) return ", use within " + std::to_string(keeping.hours) + " h";
    return "";
}

/// What of the contents has to be known before a sip, in a word or two; empty where nothing has. The same for
/// every bottle of a ladder, so that it tells no level.
std::string contents_to_know(const solution::PlanRequest& request) {
    const std::string counts_as = safety::counts_as(request.substance);
    if (counts_as == "ethanol" || request.base.ethanol.value > 0.0) return "alcohol";
    if (counts_as == "caffeine") return counts_as;
    if (!request.ingredient.allergens.empty()) return "allergens, see sheet";
    return {};
}

std::string drinkable(const std::string& contents) {
    if (contents.empty()) return "tasting only, spit; keep from children";
    return std::string(contents).append("; spit; keep from children");
}

std::string stock_caution(const std::string& contents) {
    return std::string(contents.empty() ? "strong" : contents)
        .append(": NOT for tasting; keep from children");
}

}  // namespace

std::vector<Label> bottle_labels(const solution::MixPlan& plan, const Instant& mixed) {
    const std::string made = "mixed " + to_date(mixed);
    const std::string contents = contents_to_know(plan.request);
    const bool is_base_alcoholic = plan.request.base.ethanol.value > 0.0;
    std::vector<Label> labels;
    for (const solution::PlannedLevel& level : plan.levels)
        labels.push_back({level.bottle, {made + keeps(plan, {"the bottles"}), drinkable(contents)}});
    std::ranges::sort(labels, {}, &Label::large);  // weakest first would tell the order of the bottles
    for (const solution::PlannedStock& stock : plan.stocks)
        labels.push_back(
            {stock.name, {made + keeps(plan, {"stock A", "the stocks"}), stock_caution(contents)}});
    labels.push_back(
        {"base",
         {made + keeps(plan, {"the base", "the bottles"}), drinkable(is_base_alcoholic ? "alcohol" : "")}});
    return labels;
}

std::string labels_pdf(const std::vector<Label>& labels, const LabelGrid& grid, Paper paper,
                       const std::string& title, const Instant& made) {
    check(grid, paper);
    const PageSize size = page_size(paper);
    const std::size_t a_page = grid.columns * grid.rows;
    return pdf_bytes({size.width_pt, size.height_pt}, title, made, [&](cairo_t* context) {
        for (std::size_t i = 0; i < std::max<std::size_t>(labels.size(), 1); ++i) {
            if (i > 0 && i % a_page == 0) cairo_show_page(context);
            if (i >= labels.size()) break;
            const std::size_t place = i % a_page;
            const std::size_t row = place / grid.columns;
            const std::size_t column = place % grid.columns;
            const double left = pt_per_mm * (grid.left_mm + static_cast<double>(column) * grid.across_mm);
            const double top = pt_per_mm * (grid.top_mm + static_cast<double>(row) * grid.down_mm);
            const double width = pt_per_mm * grid.width_mm;
            const double height = pt_per_mm * grid.height_mm;
            if (grid.cutting_marks) draw_marks(context, left, top, width, height);
            draw_label(context, labels[i], left, top, width, height);
        }
        cairo_show_page(context);
    });
}

}  // namespace sipladder::drills::sheets
