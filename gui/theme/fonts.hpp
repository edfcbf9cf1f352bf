#pragma once

#include <imgui.h>

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace sipladder::gui {

/// Font files by use; an empty name means that there is none and the built-in font stands in.
struct FontFiles {
    std::string regular;
    std::string strong;
    std::vector<std::string> others;  ///< merged in, in order, for what the first lacks
};

/// The four sizes of the one family. Heights are multiples of the body.
struct Fonts {
    ImFont* body = nullptr;
    ImFont* strong = nullptr;
    ImFont* small = nullptr;
    ImFont* title = nullptr;
    ImFont* large = nullptr;  ///< the calm screen of a drill
};

constexpr float body_height_px = 17.0F;  ///< at scale 1

/// What is loaded besides wanted characters. `latin` is what the program's own words and most names in it
/// need, in a quarter of the time: for a first frame. `usual` has Greek, Cyrillic, Vietnamese and signs as
/// well.
enum class Alphabets { latin, usual };

/// Characters that texts from outside (names, notes) need beyond the Latin alphabet.
class WantedCharacters {
  public:
    /// Notes what a UTF-8 text needs; true if something new came that is not among the usual alphabets.
    bool add(std::string_view text);
    const std::set<unsigned>& all() const { return extra_; }

  private:
    std::set<unsigned> extra_;
};

/// Fills the atlas of the present context for one display scale; clears what was there.
Fonts build_fonts(const FontFiles& files, float scale, const WantedCharacters& wanted,
                  Alphabets alphabets = Alphabets::usual);

}  // namespace sipladder::gui
