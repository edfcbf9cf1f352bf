#include "tests/support/text_painter.hpp"

#include "engine/text.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace sipladder::tests {

using chart::Point;

namespace {

constexpr std::array<const char*, 13> inks{"text",  "muted",  "grid",    "accent",     "paper",
                                           "sweet", "sour",   "alcohol", "astringent", "bitter",
                                           "salty", "weight", "base"};
constexpr std::array<const char*, 8> shapes{"disc",    "triangle", "lozenge", "square",
                                            "hexagon", "cross",    "ring",    "dash"};
constexpr std::array<const char*, 3> dashes{"solid", "dashed", "dotted"};
constexpr std::array<const char*, 3> sizes{"small", "normal", "title"};
constexpr std::array<const char*, 3> anchors{"left", "centre", "right"};

template <class Names, class Enum>
std::string name(const Names& names, Enum value) {
    return names.at(static_cast<std::size_t>(value));
}

std::string text_of(Point point) {
    return fixed(point.x, 1).append(",").append(fixed(point.y, 1));
}

std::string text_of(std::span<const Point> points) {
    std::string text;
    for (const Point& point : points) text.append(" ").append(text_of(point));
    return text;
}

std::string text_of(const chart::Pen& pen) {
    std::string text = name(inks, pen.ink);
    return text.append(" ").append(fixed(pen.width, 2)).append(" ").append(name(dashes, pen.dash));
}

std::string text_of(const chart::Fill& fill) {
    std::string text = name(inks, fill.ink);
    return text.append(" ").append(fixed(fill.opacity, 2));
}

double size_of(chart::TextSize size) {
    return std::array<double, 3>{10.0, 12.0, 16.0}.at(static_cast<std::size_t>(size));
}

}  // namespace

void TextPainter::note_points(std::span<const Point> drawn) {
    if (!clipped_) points.insert(points.end(), drawn.begin(), drawn.end());
}

void TextPainter::line(Point from, Point to, const chart::Pen& pen) {
    const std::array both{from, to};
    note_points(both);
    calls.append("line").append(text_of(both)).append(" ").append(text_of(pen)).append("\n");
}

void TextPainter::polyline(std::span<const Point> line, const chart::Pen& pen) {
    note_points(line);
    calls.append("polyline").append(text_of(line)).append(" ").append(text_of(pen)).append("\n");
}

void TextPainter::polygon(std::span<const Point> corners, const chart::Fill& fill) {
    note_points(corners);
    calls.append("polygon").append(text_of(corners)).append(" ").append(text_of(fill)).append("\n");
}

void TextPainter::outline(std::span<const Point> corners, const chart::Pen& pen) {
    note_points(corners);
    calls.append("outline").append(text_of(corners)).append(" ").append(text_of(pen)).append("\n");
}

void TextPainter::between(std::span<const Point> one, std::span<const Point> other, const chart::Fill& fill) {
    note_points(one);
    note_points(other);
    calls.append("between").append(text_of(one)).append(" and").append(text_of(other));
    calls.append(" ").append(text_of(fill)).append("\n");
}

void TextPainter::marker(Point centre, double radius, chart::MarkShape shape, chart::Ink ink, bool filled) {
    points.push_back(centre);
    calls.append("marker ").append(text_of(centre)).append(" ").append(fixed(radius, 1)).append(" ");
    calls.append(name(shapes, shape)).append(" ").append(name(inks, ink));
    calls.append(filled ? " filled\n" : " hollow\n");
}

void TextPainter::text(Point at, std::string_view text, const chart::TextStyle& style) {
    const double width = text_width(text, style.size);
    const double share = style.anchor == chart::Anchor::left     ? 0.0
                         : style.anchor == chart::Anchor::centre ? 0.5
                                                                 : 1.0;
    words.push_back({std::string(text), {at.x - share * width, at.y, width, text_height(style.size)}});
    calls.append("text ").append(text_of(at)).append(" ").append(name(sizes, style.size)).append(" ");
    calls.append(name(anchors, style.anchor)).append(" ").append(name(inks, style.ink)).append(" \"");
    calls.append(text).append("\"\n");
}

double TextPainter::text_width(std::string_view text, chart::TextSize size) const {
    const auto letters = std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    return 0.6 * size_of(size) * static_cast<double>(letters);
}

double TextPainter::text_height(chart::TextSize size) const {
    return 1.2 * size_of(size);
}

void TextPainter::clip(chart::Rect area) {
    clipped_ = true;
    calls.append("clip ").append(text_of(Point{area.x, area.y})).append(" ");
    calls.append(text_of(Point{area.width, area.height})).append("\n");
}

void TextPainter::unclip() {
    clipped_ = false;
    calls.append("unclip\n");
}

}  // namespace sipladder::tests
