#include "drills/sheets/type.hpp"

#include <pango/pangocairo.h>

#include <memory>

namespace sipladder::drills::sheets {

namespace {

struct PangoDeleter {
    void operator()(PangoLayout* layout) const { g_object_unref(layout); }
    void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
    void operator()(PangoAttrList* list) const { pango_attr_list_unref(list); }
};
template <class T>
using PangoPtr = std::unique_ptr<T, PangoDeleter>;

/// The first of these that is installed; pango looks further for letters that it lacks.
constexpr const char* families = "Inter, DejaVu Sans, sans-serif";

PangoPtr<PangoLayout> layout_of(cairo_t* context, const std::string& text, const Look& look, double width) {
    PangoPtr<PangoLayout> layout(pango_cairo_create_layout(context));
    // One point of ours is one unit of the context, whatever the screen's resolution is said to be.
    pango_cairo_context_set_resolution(pango_layout_get_context(layout.get()), 72.0);
    const PangoPtr<PangoFontDescription> font(pango_font_description_new());
    pango_font_description_set_family_static(font.get(), families);
    pango_font_description_set_absolute_size(font.get(), look.size_pt * PANGO_SCALE);
    pango_font_description_set_weight(font.get(), look.bold ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout.get(), font.get());
    const PangoPtr<PangoAttrList> attributes(pango_attr_list_new());
    pango_attr_list_insert(attributes.get(), pango_attr_font_features_new("tnum=1"));
    pango_layout_set_attributes(layout.get(), attributes.get());
    pango_layout_set_line_spacing(layout.get(), static_cast<float>(look.leading));
    if (width > 0.0) {
        pango_layout_set_width(layout.get(), pango_units_from_double(width));
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
        if (look.one_line) {
            pango_layout_set_height(layout.get(), -1);
            pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
        }
        pango_layout_set_alignment(layout.get(), look.align == Align::left     ? PANGO_ALIGN_LEFT
                                                 : look.align == Align::centre ? PANGO_ALIGN_CENTER
                                                                               : PANGO_ALIGN_RIGHT);
    }
    pango_layout_set_text(layout.get(), text.c_str(), static_cast<int>(text.size()));
    return layout;
}

Extent extent_of(PangoLayout* layout) {
    PangoRectangle logical{};
    pango_layout_get_extents(layout, nullptr, &logical);
    return {pango_units_to_double(logical.width), pango_units_to_double(logical.height)};
}

}  // namespace

void set_colour(cairo_t* context, chart::Ink ink, chart::Theme theme, double opacity) {
    const chart::Rgb colour = chart::rgb(ink, theme);
    cairo_set_source_rgba(context, colour.red / 255.0, colour.green / 255.0, colour.blue / 255.0, opacity);
}

Extent extent_of(cairo_t* context, const std::string& text, const Look& look, double width) {
    return extent_of(layout_of(context, text, look, width).get());
}

double line_height(cairo_t* context, double size_pt) {
    return extent_of(context, "Ag1", {size_pt}).height;
}

void draw_text(cairo_t* context, const std::string& text, const Look& look, chart::Point at, double width,
               chart::Theme theme) {
    const PangoPtr<PangoLayout> layout = layout_of(context, text, look, width);
    double x = at.x;
    if (width <= 0.0 && look.align != Align::left)
        x -= (look.align == Align::centre ? 0.5 : 1.0) * extent_of(layout.get()).width;
    set_colour(context, look.ink, theme);
    cairo_move_to(context, x, at.y);
    pango_cairo_show_layout(context, layout.get());
}

}  // namespace sipladder::drills::sheets
