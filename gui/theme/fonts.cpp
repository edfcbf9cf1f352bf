// Latin, Greek and Cyrillic with signs and arrows are loaded, in two steps; other characters only when a text
// asks for them, since an atlas with every alphabet would be tens of megabytes.

#include "gui/theme/fonts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>

namespace sipladder::gui {

namespace {

constexpr float leading = 1.3F;  ///< distance of lines, of the letters' height

using Block = std::pair<unsigned, unsigned>;  // first and last code point

/// Basic Latin to Latin Extended-A, punctuation.
constexpr std::array<Block, 2> latin{{{0x20, 0x17F}, {0x2010, 0x205E}}};
/// Basic Latin to Latin Extended-B, combining marks, Greek, Cyrillic, Latin Extended Additional, punctuation,
/// super- and subscripts, currency, letterlike, arrows, mathematical, shapes, the check mark.
constexpr std::array<Block, 10> usual{{{0x20, 0x24F},
                                       {0x2B0, 0x36F},
                                       {0x370, 0x52F},
                                       {0x1E00, 0x1EFF},
                                       {0x2010, 0x205E},
                                       {0x2070, 0x20BF},
                                       {0x2100, 0x214F},
                                       {0x2190, 0x22FF},
                                       {0x25A0, 0x25FF},
                                       {0x2713, 0x2713}}};

std::span<const Block> blocks_of(Alphabets alphabets) {
    if (alphabets == Alphabets::latin) return latin;
    return usual;
}

bool is_in(Alphabets alphabets, unsigned code) {
    return code < 0x20 || std::ranges::any_of(blocks_of(alphabets), [&](const Block& block) {
               return code >= block.first && code <= block.second;
           });
}

/// Decodes one code point (UTF-8, RFC 3629); a broken sequence gives U+FFFD and moves on by one byte.
unsigned next_code_point(std::string_view& rest) {
    const auto byte = [&](std::size_t i) {
        return static_cast<unsigned>(static_cast<unsigned char>(rest[i]));
    };
    const unsigned first = byte(0);
    const std::size_t length = first < 0x80         ? 1
                               : first >> 5 == 0x6  ? 2
                               : first >> 4 == 0xE  ? 3
                               : first >> 3 == 0x1E ? 4
                                                    : 0;
    if (length == 0 || rest.size() < length) {
        rest.remove_prefix(1);
        return 0xFFFD;
    }
    unsigned code = length == 1 ? first : first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) code = code << 6 | (byte(i) & 0x3FU);
    rest.remove_prefix(length);
    return code;
}

ImVector<ImWchar> ranges(Alphabets alphabets, const WantedCharacters& wanted) {
    ImFontGlyphRangesBuilder builder;
    for (const auto& [first, last] : blocks_of(alphabets))
        for (unsigned code = first; code <= last; ++code) builder.AddChar(static_cast<ImWchar>(code));
    for (const unsigned code : wanted.all()) builder.AddChar(static_cast<ImWchar>(code));
    ImVector<ImWchar> built;
    builder.BuildRanges(&built);
    return built;
}

ImFont* add(ImFontAtlas& atlas, const FontFiles& files, const std::string& file, float height,
            const ImWchar* glyphs) {
    ImFontConfig config;
    config.OversampleH = 2;
    config.OversampleV = 1;
    config.PixelSnapH = true;
    config.GlyphOffset.y = std::round(0.5F * (leading - 1.0F) * height);
    ImFont* font = nullptr;
    if (file.empty()) {
        config.SizePixels = height;
        font = atlas.AddFontDefault(&config);
    } else {
        font = atlas.AddFontFromFileTTF(file.c_str(), height, &config, glyphs);
    }
    config.MergeMode = true;
    for (const std::string& other : files.others)
        if (other != file) atlas.AddFontFromFileTTF(other.c_str(), height, &config, glyphs);
    return font;
}

}  // namespace

bool WantedCharacters::add(std::string_view text) {
    bool is_new = false;
    while (!text.empty()) {
        const unsigned code = next_code_point(text);
        // Dear ImGui 1.86 draws 16-bit characters only.
        if (code > 0xFFFF || code == 0xFFFD || is_in(Alphabets::latin, code)) continue;
        const bool came = extra_.insert(code).second;
        is_new = is_new || (came && !is_in(Alphabets::usual, code));
    }
    return is_new;
}

Fonts build_fonts(const FontFiles& files, float scale, const WantedCharacters& wanted, Alphabets alphabets) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.TexDesiredWidth = scale > 1.5F ? 4096 : 2048;
    atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight;
    const ImVector<ImWchar> glyphs = ranges(alphabets, wanted);
    const float body = body_height_px * scale;
    Fonts fonts;
    fonts.body = add(atlas, files, files.regular, body, glyphs.Data);
    fonts.strong = add(atlas, files, files.strong, body, glyphs.Data);
    fonts.small = add(atlas, files, files.regular, 0.82F * body, glyphs.Data);
    fonts.title = add(atlas, files, files.strong, 1.5F * body, glyphs.Data);
    fonts.large = add(atlas, files, files.regular, 1.75F * body, glyphs.Data);
    atlas.Build();
    // Dear ImGui knows no leading: the line box grows, the glyphs were set down by half of it.
    for (ImFont* font : {fonts.body, fonts.strong, fonts.small, fonts.title, fonts.large})
        font->FontSize *= leading;
    ImGui::GetIO().FontDefault = fonts.body;
    return fonts;
}

}  // namespace sipladder::gui
