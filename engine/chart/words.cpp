#include "engine/chart/words.hpp"

#include "engine/problem.hpp"

#include <algorithm>

namespace sipladder::chart {

namespace {

/// Bytes of UTF-8 that continue a letter look like 10xxxxxx.
bool starts_letter(char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
}

/// The longest head of `text` that fits together with `tail`: at least one letter, so that breaking ends.
std::size_t fitting(std::string_view text, std::string_view tail, double width, TextSize size,
                    const Painter& painter) {
    std::size_t fits = 0;
    for (std::size_t end = 1; end <= text.size(); ++end) {
        if (end < text.size() && !starts_letter(text[end])) continue;
        const std::string head = std::string(text.substr(0, end)).append(tail);
        if (fits > 0 && painter.text_width(head, size) > width) break;
        fits = end;
    }
    return fits;
}

}  // namespace

std::vector<std::string> broken(std::string_view text, double width, TextSize size, const Painter& painter,
                                std::size_t most_lines) {
    SIPLADDER_EXPECT(most_lines >= 1);
    std::vector<std::string> lines;
    while (true) {
        text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
        if (painter.text_width(text, size) <= width || text.empty()) break;
        if (lines.size() + 1 == most_lines) {
            const std::size_t kept = fitting(text, "…", width, size, painter);
            lines.push_back(std::string(text.substr(0, kept)).append("…"));
            return lines;
        }
        std::size_t end = fitting(text, "", width, size, painter);
        const std::size_t blank = text.substr(0, end + 1).rfind(' ');
        if (blank != std::string_view::npos && blank > 0) end = blank;
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(end);
    }
    if (!text.empty() || lines.empty()) lines.emplace_back(text);
    return lines;
}

}  // namespace sipladder::chart
