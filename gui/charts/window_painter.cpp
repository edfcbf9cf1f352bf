#include "gui/charts/window_painter.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace sipladder::gui {

namespace {

ImVec2 vec(chart::Point p) {
    return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

std::vector<ImVec2> vecs(std::span<const chart::Point> points) {
    std::vector<ImVec2> all;
    all.reserve(points.size());
    for (const chart::Point& p : points) all.push_back(vec(p));
    return all;
}

struct DashLengths {
    double on{};
    double off{};
};

DashLengths lengths(const chart::Pen& pen, double em) {
    if (pen.dash == chart::Dash::dashed) return {0.35 * em, 0.25 * em};
    return {std::max(1.0, pen.width), 0.2 * em};
}

}  // namespace

ImU32 WindowPainter::colour(chart::Ink ink, double opacity) const {
    ImVec4 c = colour_of(ink, theme_.look);
    if (ink == chart::Ink::text) c = theme_.colour.ink;
    if (ink == chart::Ink::muted) c = theme_.colour.faint;
    if (ink == chart::Ink::grid) c = theme_.colour.hairline;
    if (ink == chart::Ink::accent) c = theme_.colour.accent;
    if (ink == chart::Ink::paper) c = theme_.colour.paper;
    c.w = static_cast<float>(opacity);
    return ImGui::GetColorU32(c);
}

ImFont* WindowPainter::font(chart::TextSize size) const {
    switch (size) {
        case chart::TextSize::small:
            return theme_.fonts.small;
        case chart::TextSize::normal:
            return theme_.fonts.body;
        case chart::TextSize::title:
            break;
    }
    return theme_.fonts.strong;
}

void WindowPainter::dashed(chart::Point from, chart::Point to, const chart::Pen& pen, double& walked) const {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    if (length <= 0.0) return;
    const DashLengths dash = lengths(pen, static_cast<double>(theme_.em()));
    const double period = dash.on + dash.off;
    const auto at = [&](double s) {
        return chart::Point{from.x + (to.x - from.x) * s / length, from.y + (to.y - from.y) * s / length};
    };
    for (double start = -std::fmod(walked, period); start < length; start += period) {
        const double begin = std::max(0.0, start);
        const double end = std::min(length, start + dash.on);
        if (end > begin)
            list_.AddLine(vec(at(begin)), vec(at(end)), colour(pen.ink, pen.opacity),
                          static_cast<float>(pen.width));
    }
    walked += length;
}

void WindowPainter::line(chart::Point from, chart::Point to, const chart::Pen& pen) {
    const std::vector<chart::Point> both{from, to};
    polyline(both, pen);
}

void WindowPainter::polyline(std::span<const chart::Point> points, const chart::Pen& pen) {
    if (points.size() < 2) return;
    if (pen.dash == chart::Dash::solid) {
        const std::vector<ImVec2> all = vecs(points);
        list_.AddPolyline(all.data(), static_cast<int>(all.size()), colour(pen.ink, pen.opacity), 0,
                          static_cast<float>(pen.width));
        return;
    }
    double walked = 0.0;
    for (std::size_t i = 1; i < points.size(); ++i) dashed(points[i - 1], points[i], pen, walked);
}

void WindowPainter::polygon(std::span<const chart::Point> corners, const chart::Fill& fill) {
    const std::vector<ImVec2> all = vecs(corners);
    list_.AddConvexPolyFilled(all.data(), static_cast<int>(all.size()), colour(fill.ink, fill.opacity));
}

void WindowPainter::outline(std::span<const chart::Point> corners, const chart::Pen& pen) {
    const std::vector<ImVec2> all = vecs(corners);
    list_.AddPolyline(all.data(), static_cast<int>(all.size()), colour(pen.ink, pen.opacity),
                      ImDrawFlags_Closed, static_cast<float>(pen.width));
}

void WindowPainter::between(std::span<const chart::Point> one, std::span<const chart::Point> other,
                            const chart::Fill& fill) {
    const ImU32 paint = colour(fill.ink, fill.opacity);
    // Smoothed edges of neighbours would show as seams where the fill lets the ground through.
    const ImDrawListFlags flags = list_.Flags;
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 1; i < std::min(one.size(), other.size()); ++i)
        list_.AddQuadFilled(vec(one[i - 1]), vec(one[i]), vec(other[i]), vec(other[i - 1]), paint);
    list_.Flags = flags;
}

void WindowPainter::marker(chart::Point centre, double radius, chart::MarkShape shape, chart::Ink ink,
                           bool filled) {
    const auto thick = static_cast<float>(std::max(1.0, radius / 3.5));
    if (shape == chart::MarkShape::ring) {
        list_.AddCircle(vec(centre), static_cast<float>(radius * 0.8), colour(ink), 0,
                        static_cast<float>(radius / 2.5));
        return;
    }
    for (const std::vector<chart::Point>& part : chart::mark_parts(shape, centre, radius))
        polygon(part, {.ink = filled ? ink : chart::Ink::paper, .opacity = 1.0});
    if (!filled)
        outline(chart::mark_outline(shape, centre, radius),
                {.ink = ink, .width = static_cast<double>(thick)});
}

void WindowPainter::text(chart::Point at, std::string_view text, const chart::TextStyle& style) {
    const double width = style.anchor == chart::Anchor::left ? 0.0 : text_width(text, style.size);
    const double x = style.anchor == chart::Anchor::centre ? at.x - width / 2.0 : at.x - width;
    ImFont* face = font(style.size);
    list_.AddText(face, face->FontSize,
                  {std::round(static_cast<float>(x)), std::round(static_cast<float>(at.y))},
                  colour(style.ink), text.data(), text.data() + text.size());
}

double WindowPainter::text_width(std::string_view text, chart::TextSize size) const {
    const ImFont* face = font(size);
    return static_cast<double>(
        face->CalcTextSizeA(face->FontSize, 1e9F, 0.0F, text.data(), text.data() + text.size()).x);
}

double WindowPainter::text_height(chart::TextSize size) const {
    return static_cast<double>(font(size)->FontSize);
}

void WindowPainter::clip(chart::Rect area) {
    list_.PushClipRect(vec({area.x, area.y}), vec({area.right(), area.bottom()}), true);
}

void WindowPainter::unclip() {
    list_.PopClipRect();
}

}  // namespace sipladder::gui
