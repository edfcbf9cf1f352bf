#include "drills/sheets/chart_file.hpp"

#include "drills/sheets/page_painter.hpp"
#include "drills/sheets/surface.hpp"
#include "engine/chart/ink.hpp"

#include <cairo.h>

namespace sipladder::drills::sheets {

namespace {

/// Chart or tree.
template <class Picture>
Drawing drawing_of(const Picture& chart, const ChartSize& size) {
    return [&chart, size](cairo_t* context) {
        set_colour(context, chart::Ink::paper, chart::Theme::paper);
        cairo_paint(context);
        PagePainter painter(context);
        constexpr double margin = 10.0;
        chart::draw(chart, {margin, margin, size.width_pt - 2.0 * margin, size.height_pt - 2.0 * margin},
                    painter);
    };
}

}  // namespace

void write_chart_png(const chart::Chart& chart, const ChartSize& size, const std::filesystem::path& path) {
    write_whole(path,
                png_bytes({size.width_pt, size.height_pt}, size.pixels_per_pt, drawing_of(chart, size)));
}

void write_chart_svg(const chart::Chart& chart, const ChartSize& size, const std::filesystem::path& path) {
    write_whole(path, svg_bytes({size.width_pt, size.height_pt}, drawing_of(chart, size)));
}

void write_chart_pdf(const chart::Chart& chart, const ChartSize& size, const Instant& made,
                     const std::filesystem::path& path) {
    write_whole(path, pdf_bytes({size.width_pt, size.height_pt}, chart.title, made, drawing_of(chart, size)));
}

void write_chart_page(const chart::Chart& chart, Paper paper, const Instant& made,
                      const std::filesystem::path& path) {
    const PageSize page = page_size(paper);
    constexpr double margin_pt = 54.0;  // 19 mm: what any printer can do
    const double width = page.width_pt - 2.0 * margin_pt;
    const Drawing drawing = [&](cairo_t* context) {
        PagePainter painter(context);
        chart::draw(chart, {margin_pt, margin_pt, width, 0.65 * width}, painter);
    };
    write_whole(path, pdf_bytes({page.width_pt, page.height_pt}, chart.title, made, drawing));
}

void write_tree_png(const chart::DilutionTree& tree, const ChartSize& size,
                    const std::filesystem::path& path) {
    write_whole(path, png_bytes({size.width_pt, size.height_pt}, size.pixels_per_pt, drawing_of(tree, size)));
}

void write_tree_svg(const chart::DilutionTree& tree, const ChartSize& size,
                    const std::filesystem::path& path) {
    write_whole(path, svg_bytes({size.width_pt, size.height_pt}, drawing_of(tree, size)));
}

void write_tree_pdf(const chart::DilutionTree& tree, const ChartSize& size, const Instant& made,
                    const std::filesystem::path& path) {
    write_whole(path, pdf_bytes({size.width_pt, size.height_pt}, tree.title, made, drawing_of(tree, size)));
}

}  // namespace sipladder::drills::sheets
