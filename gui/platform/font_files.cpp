// Paths of Debian's font packages (fonts-inter, fonts-dejavu-core, fonts-noto-*, fonts-wqy-*,
// fonts-droid-fallback) and of a few other systems' habits. Reading a fixed list needs no fontconfig in the
// window.

#include "gui/platform/font_files.hpp"

#include <filesystem>
#include <initializer_list>
#include <string>

namespace sipladder::gui {

namespace {

std::string first_found(std::initializer_list<const char*> candidates) {
    std::error_code ignored;
    for (const char* file : candidates)
        if (std::filesystem::is_regular_file(file, ignored)) return file;
    return {};
}

}  // namespace

FontFiles find_font_files() {
    FontFiles files;
    files.regular = first_found({"/usr/share/fonts/opentype/inter/Inter-Regular.otf",
                                 "/usr/share/fonts/truetype/inter/Inter-Regular.ttf",
                                 "/usr/share/fonts/inter/Inter-Regular.otf"});
    files.strong = first_found({"/usr/share/fonts/opentype/inter/Inter-SemiBold.otf",
                                "/usr/share/fonts/truetype/inter/Inter-SemiBold.ttf",
                                "/usr/share/fonts/inter/Inter-SemiBold.otf"});
    const std::string dejavu =
        first_found({"/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/TTF/DejaVuSans.ttf",
                     "/usr/share/fonts/dejavu/DejaVuSans.ttf"});
    const std::string dejavu_bold = first_found({"/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
                                                 "/usr/share/fonts/TTF/DejaVuSans-Bold.ttf",
                                                 "/usr/share/fonts/dejavu/DejaVuSans-Bold.ttf"});
    if (files.regular.empty()) files.regular = dejavu;
    if (files.strong.empty()) files.strong = dejavu_bold.empty() ? files.regular : dejavu_bold;
    for (const std::string& file :
         {dejavu,
          first_found({"/usr/share/fonts/opentype/noto/NotoSansCJK-Regular.ttc",
                       "/usr/share/fonts/truetype/wqy/wqy-zenhei.ttc",
                       "/usr/share/fonts/truetype/wqy/wqy-microhei.ttc",
                       "/usr/share/fonts/truetype/droid/DroidSansFallbackFull.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansHebrew-Regular.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansArabic-Regular.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansGeorgian-Regular.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansArmenian-Regular.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansThai-Regular.ttf"}),
          first_found({"/usr/share/fonts/truetype/noto/NotoSansDevanagari-Regular.ttf"})})
        if (!file.empty()) files.others.push_back(file);
    return files;
}

}  // namespace sipladder::gui
