#pragma once

#include "engine/instant.hpp"

#include <cairo.h>

#include <filesystem>
#include <functional>
#include <memory>
#include <string>

/// cairo surfaces that end as files. Nothing is left half-written: a file is written beside its name and
/// renamed.
namespace sipladder::drills::sheets {

struct CairoDeleter {
    void operator()(cairo_t* context) const { cairo_destroy(context); }
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};
template <class T>
using CairoPtr = std::unique_ptr<T, CairoDeleter>;

/// Draws on a cairo context; sizes in points.
using Drawing = std::function<void(cairo_t*)>;

struct DrawingSize {
    double width_pt{};
    double height_pt{};
};

/// A PDF; `drawing` shows its own pages (cairo_show_page). The same drawing and moment give the same bytes.
std::string pdf_bytes(DrawingSize size, const std::string& title, const Instant& made,
                      const Drawing& drawing);
std::string svg_bytes(DrawingSize size, const Drawing& drawing);
/// @param pixels_per_pt  1 to 8
std::string png_bytes(DrawingSize size, double pixels_per_pt, const Drawing& drawing);

/// Writes to a temporary name beside `path`, then renames.
/// @throws Failed  when the folder cannot be written
void write_whole(const std::filesystem::path& path, const std::string& bytes);

}  // namespace sipladder::drills::sheets
