#include "gui/theme/theme.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

// WCAG 2.1, level AA (W3C Recommendation, 5 June 2018): 1.4.3 wants 4.5 to 1 for text, 1.4.11 wants 3 to 1
// for what must be seen of controls and pictures. Formulas of relative luminance and contrast ratio as
// printed there.

using namespace sipladder;
using namespace sipladder::gui;

namespace {

double luminance(const ImVec4& colour) {
    const auto channel = [](float v) {
        return v <= 0.03928F ? static_cast<double>(v) / 12.92
                             : std::pow((static_cast<double>(v) + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(colour.x) + 0.7152 * channel(colour.y) + 0.0722 * channel(colour.z);
}

double contrast(const ImVec4& a, const ImVec4& b) {
    const double first = luminance(a);
    const double second = luminance(b);
    return (std::max(first, second) + 0.05) / (std::min(first, second) + 0.05);
}

constexpr double of_text = 4.5;
constexpr double of_shapes = 3.0;

}  // namespace

TEST_CASE("the ratio is that of the standard at its ends") {
    CHECK(contrast({0, 0, 0, 1}, {1, 1, 1, 1}) == doctest::Approx(21.0));
    CHECK(contrast({1, 1, 1, 1}, {1, 1, 1, 1}) == doctest::Approx(1.0));
    // #767676 on white is 4.54 to 1, the well-known lightest grey that passes (common practice, no source).
    constexpr float grey = 118.0F / 255.0F;
    CHECK(contrast({grey, grey, grey, 1}, {1, 1, 1, 1}) == doctest::Approx(4.54).epsilon(0.002));
}

TEST_CASE("every text stands out from every ground that it is written on") {
    for (const Look look : {Look::light, Look::dark}) {
        CAPTURE(static_cast<int>(look));
        const Palette palette = palette_of(look);
        for (const ImVec4& ground : {palette.paper, palette.raised, palette.hover})
            for (const ImVec4& text : {palette.ink, palette.faint, palette.accent, palette.warning})
                CHECK(contrast(text, ground) >= of_text);
        CHECK(contrast(palette.on_accent, palette.accent) >= of_text);
        for (const chart::Ink ink : {chart::Ink::text, chart::Ink::muted, chart::Ink::accent})
            CHECK(contrast(colour_of(ink, look), palette.paper) >= of_text);
    }
}

TEST_CASE("borders of fields and buttons, the focus and every mark stand out from their ground") {
    for (const Look look : {Look::light, Look::dark}) {
        CAPTURE(static_cast<int>(look));
        const Palette palette = palette_of(look);
        for (const ImVec4& ground : {palette.paper, palette.raised}) {
            CHECK(contrast(palette.edge, ground) >= of_shapes);
            CHECK(contrast(palette.accent, ground) >= of_shapes);
        }
        for (int ink = static_cast<int>(chart::Ink::sweet); ink <= static_cast<int>(chart::Ink::base);
             ++ink) {
            CAPTURE(ink);
            CHECK(contrast(colour_of(static_cast<chart::Ink>(ink), look), palette.paper) >= of_shapes);
        }
    }
}
