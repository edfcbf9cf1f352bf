#pragma once

#include "engine/chart/painter.hpp"

#include <string>
#include <vector>

namespace sipladder::tests {

/// Writes the calls of a chart down as text. Every letter is 0.6 of its size wide, so that layouts are the
/// same on every machine. Text sizes are 10, 12 and 16.
class TextPainter final : public chart::Painter {
  public:
    struct Word {
        std::string text;
        chart::Rect box;
    };

    std::string calls;                 ///< one line a call
    std::vector<Word> words;           ///< every text with its box
    std::vector<chart::Point> points;  ///< every point drawn at while nothing was clipped, and marker centres

    void line(chart::Point from, chart::Point to, const chart::Pen& pen) override;
    void polyline(std::span<const chart::Point> line, const chart::Pen& pen) override;
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
    void note_points(std::span<const chart::Point> drawn);
    bool clipped_ = false;
};

}  // namespace sipladder::tests
