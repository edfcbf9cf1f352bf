#pragma once

#include "gui/theme/fonts.hpp"

namespace sipladder::gui {

/// The fonts of this machine: Inter, then DejaVu Sans, then what covers other alphabets; empty where there is
/// none.
FontFiles find_font_files();

}  // namespace sipladder::gui
