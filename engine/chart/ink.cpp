#include "engine/chart/ink.hpp"

#include "engine/problem.hpp"

#include <array>
#include <cstddef>

namespace sipladder::chart {

namespace {

constexpr std::size_t inks = 13;
using Palette = std::array<Rgb, inks>;

// In the order of Ink. Where a colour of Okabe and Ito does not stand out from the ground by 3 to 1
// (WCAG 2.1, 1.4.11), it is darker or lighter here, in its own hue.
constexpr Palette light{{{0x22, 0x22, 0x22},
                         {0x66, 0x64, 0x60},
                         {0xdf, 0xdb, 0xd3},
                         {0x2b, 0x5c, 0x8a},
                         {0xfa, 0xf8, 0xf4},
                         {0xb5, 0x7c, 0x00},
                         {0x00, 0x9e, 0x73},
                         {0xd5, 0x5e, 0x00},
                         {0xbd, 0x63, 0x96},
                         {0x00, 0x72, 0xb2},
                         {0x2f, 0x8f, 0xc6},
                         {0x00, 0x00, 0x00},
                         {0x80, 0x80, 0x80}}};
constexpr Palette dark{{{0xec, 0xeb, 0xe8},
                        {0xa8, 0xa8, 0xa6},
                        {0x3a, 0x3d, 0x42},
                        {0x8a, 0xb8, 0xe6},
                        {0x1c, 0x1e, 0x22},
                        {0xe6, 0x9f, 0x00},
                        {0x00, 0x9e, 0x73},
                        {0xd5, 0x5e, 0x00},
                        {0xcc, 0x79, 0xa7},
                        {0x2a, 0x86, 0xc8},
                        {0x56, 0xb4, 0xe9},
                        {0xf2, 0xf2, 0xf2},
                        {0x9a, 0x9a, 0x9a}}};

Palette on_paper() {
    Palette palette = light;
    palette[static_cast<std::size_t>(Ink::text)] = {0x00, 0x00, 0x00};
    palette[static_cast<std::size_t>(Ink::muted)] = {0x55, 0x55, 0x55};
    palette[static_cast<std::size_t>(Ink::grid)] = {0xdd, 0xdd, 0xdd};
    palette[static_cast<std::size_t>(Ink::paper)] = {0xff, 0xff, 0xff};
    return palette;
}

}  // namespace

Rgb rgb(Ink ink, Theme theme) {
    const auto index = static_cast<std::size_t>(ink);
    SIPLADDER_EXPECT(index < inks);
    switch (theme) {
        case Theme::dark:
            return dark[index];
        case Theme::paper:
            return on_paper()[index];
        case Theme::light:
            break;
    }
    return light[index];
}

Ink ink_of(solution::Component component) {
    switch (component) {
        case solution::Component::sweet:
            return Ink::sweet;
        case solution::Component::sour:
            return Ink::sour;
        case solution::Component::alcohol:
            return Ink::alcohol;
        case solution::Component::astringent:
            return Ink::astringent;
        case solution::Component::bitter:
            return Ink::bitter;
        case solution::Component::salty:
            return Ink::salty;
        case solution::Component::weight:
            break;
    }
    return Ink::weight;
}

}  // namespace sipladder::chart
