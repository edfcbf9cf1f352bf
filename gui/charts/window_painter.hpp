#pragma once

#include "engine/chart/painter.hpp"
#include "gui/theme/theme.hpp"

#include <imgui.h>

namespace sipladder::gui {

/// Charts on a Dear ImGui draw list; lengths are pixels.
class WindowPainter final : public chart::Painter {
  public:
    WindowPainter(ImDrawList& list, const Theme& theme) : list_(list), theme_(theme) {}

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
    ImU32 colour(chart::Ink ink, double opacity = 1.0) const;
    ImFont* font(chart::TextSize size) const;
    void dashed(chart::Point from, chart::Point to, const chart::Pen& pen, double& walked) const;

    ImDrawList& list_;
    const Theme& theme_;
};

}  // namespace sipladder::gui
