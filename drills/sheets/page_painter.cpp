#include "drills/sheets/page_painter.hpp"

#include <array>
#include <string>

namespace sipladder::drills::sheets {

using chart::MarkShape;
using chart::Point;

PagePainter::PagePainter(cairo_t* context, chart::Theme theme, double scale)
    : context_(context), theme_(theme), scale_(scale) {
    cairo_set_line_join(context_, CAIRO_LINE_JOIN_ROUND);
}

void PagePainter::path(std::span<const Point> points) const {
    cairo_new_path(context_);
    for (const Point& point : points) cairo_line_to(context_, point.x, point.y);
}

void PagePainter::stroke(const chart::Pen& pen) const {
    const double dash = pen.width * (pen.dash == chart::Dash::dashed ? 4.0 : 1.0);
    const std::array<double, 2> pattern{dash, pen.width * (pen.dash == chart::Dash::dashed ? 3.0 : 2.0)};
    cairo_set_dash(context_, pattern.data(), pen.dash == chart::Dash::solid ? 0 : 2, 0.0);
    cairo_set_line_width(context_, pen.width);
    set_colour(context_, pen.ink, theme_, pen.opacity);
    cairo_stroke(context_);
    cairo_set_dash(context_, nullptr, 0, 0.0);
}

void PagePainter::line(Point from, Point to, const chart::Pen& pen) {
    path(std::array{from, to});
    stroke(pen);
}

void PagePainter::polyline(std::span<const Point> points, const chart::Pen& pen) {
    path(points);
    stroke(pen);
}

void PagePainter::polygon(std::span<const Point> corners, const chart::Fill& fill) {
    path(corners);
    cairo_close_path(context_);
    set_colour(context_, fill.ink, theme_, fill.opacity);
    cairo_fill(context_);
}

void PagePainter::outline(std::span<const Point> corners, const chart::Pen& pen) {
    path(corners);
    cairo_close_path(context_);
    stroke(pen);
}

void PagePainter::between(std::span<const Point> one, std::span<const Point> other, const chart::Fill& fill) {
    path(one);
    for (auto point = other.rbegin(); point != other.rend(); ++point)
        cairo_line_to(context_, point->x, point->y);
    cairo_close_path(context_);
    set_colour(context_, fill.ink, theme_, fill.opacity);
    cairo_fill(context_);
}

void PagePainter::marker(Point centre, double radius, MarkShape shape, chart::Ink ink, bool filled) {
    const double thin = 0.22 * radius + 0.3 * scale_;
    if (shape == MarkShape::ring) {
        // A ring is hollow by nature: thick for a filled mark, thin for a hollow one.
        const double width = filled ? radius / 2.5 : thin;
        const auto corners = chart::mark_outline(shape, centre, radius - 0.5 * width);
        polygon(corners, {chart::Ink::paper});
        return outline(corners, {ink, width});
    }
    if (filled) {
        path(chart::mark_outline(shape, centre, radius));
        cairo_close_path(context_);
        set_colour(context_, ink, theme_);
        cairo_fill(context_);
        return;
    }
    const auto corners = chart::mark_outline(shape, centre, radius - 0.5 * thin);
    path(corners);
    cairo_close_path(context_);
    set_colour(context_, chart::Ink::paper, theme_);
    cairo_fill(context_);
    outline(corners, {ink, thin});
}

Look PagePainter::look(chart::TextSize size) const {
    switch (size) {
        case chart::TextSize::small:
            return {.size_pt = 8.5 * scale_};
        case chart::TextSize::normal:
            return {.size_pt = 10.0 * scale_};
        case chart::TextSize::title:
            break;
    }
    return {.size_pt = 13.0 * scale_, .bold = true};
}

void PagePainter::text(Point at, std::string_view text, const chart::TextStyle& style) {
    Look set = look(style.size);
    set.ink = style.ink;
    set.align = style.anchor == chart::Anchor::left     ? Align::left
                : style.anchor == chart::Anchor::centre ? Align::centre
                                                        : Align::right;
    draw_text(context_, std::string(text), set, at, 0.0, theme_);
}

double PagePainter::text_width(std::string_view text, chart::TextSize size) const {
    return extent_of(context_, std::string(text), look(size)).width;
}

double PagePainter::text_height(chart::TextSize size) const {
    return line_height(context_, look(size).size_pt);
}

void PagePainter::clip(chart::Rect area) {
    cairo_save(context_);
    cairo_rectangle(context_, area.x, area.y, area.width, area.height);
    cairo_clip(context_);
}

void PagePainter::unclip() {
    cairo_restore(context_);
}

}  // namespace sipladder::drills::sheets
