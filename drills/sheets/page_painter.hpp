#pragma once

#include "drills/sheets/type.hpp"
#include "engine/chart/painter.hpp"

#include <cairo.h>

namespace sipladder::drills::sheets {

/// Charts on a cairo context: page, picture or drawing file. Text is 8.5, 10 and 13 pt times `scale`.
class PagePainter final : public chart::Painter {
  public:
    explicit PagePainter(cairo_t* context, chart::Theme theme = chart::Theme::paper, double scale = 1.0);

    void line(chart::Point from, chart::Point to, const chart::Pen& pen) override;
    void polyline(std::span<const chart::Point> points, const chart::Pen& pen) override;
    void polygon(std::span<const chart::Point> corners, const chart::Fill& fill) override;
    void outline(std::span<const chart::Point> corners, const chart::Pen& pen) override;
    void between(std::span<const chart::Point> one, std::span<const chart::Point> other,
                 const chart::Fill& fill) override;
    void marker(chart::Point centre, double radius, chart::MarkShape shape, chart::Ink ink,
                bool filled) override;
    void text(chart::Point at, std::string_view text, const chart::TextStyle& style) override;
    double text_width(std::string_view text, chart::TextSize size) const override;
    double text_height(chart::TextSize size) const override;
    void clip(chart::Rect area) override;
    void unclip() override;

  private:
    void path(std::span<const chart::Point> points) const;
    void stroke(const chart::Pen& pen) const;
    Look look(chart::TextSize size) const;

    cairo_t* context_;
    chart::Theme theme_;
    double scale_;
};

}  // namespace sipladder::drills::sheets
