// Files are made in memory first: a sheet is some tens of kilobytes, and a file that is written in one go can
// be renamed whole or not at all.
#include "drills/sheets/surface.hpp"

#include "engine/problem.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <system_error>
#include <vector>

namespace sipladder::drills::sheets {

namespace {

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status) {
    if (status != CAIRO_STATUS_SUCCESS)
        throw Failed(std::string("the sheet cannot be drawn: ") + cairo_status_to_string(status));
}

/// Sizes that do not depend on the screen at hand: no hinting, so that letters stand where they were
/// measured.
void draw_on(cairo_surface_t* surface, const Drawing& drawing) {
    check(cairo_surface_status(surface));
    const CairoPtr<cairo_t> context(cairo_create(surface));
    const CairoPtr<cairo_font_options_t> options(cairo_font_options_create());
    cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(context.get(), options.get());
    drawing(context.get());
    check(cairo_status(context.get()));
}

void finish(cairo_surface_t* surface) {
    cairo_surface_finish(surface);
    check(cairo_surface_status(surface));
}

/// cairo numbers an SVG's groups through the whole run of the program ("surface7"): counted anew from 1, in
/// order of appearance, a picture does not depend on what was drawn before it.
std::string renumbered(const std::string& svg) {
    const std::string word = "surface";
    std::string out;
    std::vector<std::string> seen;
    std::size_t from = 0;
    for (std::size_t at = svg.find(word); at != std::string::npos; at = svg.find(word, from)) {
        const std::size_t digits = at + word.size();
        const std::size_t end = svg.find_first_not_of("0123456789", digits);
        out.append(svg, from, digits - from);
        from = end == std::string::npos ? svg.size() : end;
        if (from == digits) continue;
        const std::string number = svg.substr(digits, from - digits);
        auto known = std::find(seen.begin(), seen.end(), number);
        if (known == seen.end()) known = seen.insert(seen.end(), number);
        out.append(std::to_string(known - seen.begin() + 1));
    }
    return out.append(svg, from);
}

}  // namespace

std::string pdf_bytes(DrawingSize size, const std::string& title, const Instant& made,
                      const Drawing& drawing) {
    std::string bytes;
    const CairoPtr<cairo_surface_t> surface(
        cairo_pdf_surface_create_for_stream(append, &bytes, size.width_pt, size.height_pt));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Sipladder");
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, to_iso8601(made).c_str());
    draw_on(surface.get(), drawing);
    finish(surface.get());
    return bytes;
}

std::string svg_bytes(DrawingSize size, const Drawing& drawing) {
    std::string bytes;
    const CairoPtr<cairo_surface_t> surface(
        cairo_svg_surface_create_for_stream(append, &bytes, size.width_pt, size.height_pt));
    draw_on(surface.get(), drawing);
    finish(surface.get());
    return renumbered(bytes);
}

std::string png_bytes(DrawingSize size, double pixels_per_pt, const Drawing& drawing) {
    SIPLADDER_EXPECT(pixels_per_pt >= 1.0 && pixels_per_pt <= 8.0);
    const auto pixels = [&](double pt) {
        return static_cast<int>(std::lround(std::ceil(pt * pixels_per_pt)));
    };
    const CairoPtr<cairo_surface_t> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels(size.width_pt), pixels(size.height_pt)));
    draw_on(surface.get(), [&](cairo_t* context) {
        cairo_scale(context, pixels_per_pt, pixels_per_pt);
        drawing(context);
    });
    std::string bytes;
    check(cairo_surface_write_to_png_stream(surface.get(), append, &bytes));
    return bytes;
}

void write_whole(const std::filesystem::path& path, const std::string& bytes) {
    std::filesystem::path part = path;
    part += ".part";
    {
        std::ofstream file(part, std::ios::binary | std::ios::trunc);
        file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        file.close();
        if (!file) {
            std::error_code ignored;
            std::filesystem::remove(part, ignored);
            throw Failed(path.string() + " cannot be written: is the folder there, and is the disk full?");
        }
    }
    std::error_code error;
    std::filesystem::rename(part, path, error);
    if (!error) return;
    std::error_code ignored;
    std::filesystem::remove(part, ignored);
    throw Failed(path.string() + " cannot be written: " + error.message());
}

}  // namespace sipladder::drills::sheets
