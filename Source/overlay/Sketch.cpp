#include "overlay/Sketch.h"

#include <algorithm>
#include <cstring>

namespace shutterbeat::overlay
{
Patch sketch (const Box& wanted, const std::function<void (cairo_t*)>& draw)
{
    Patch patch;
    auto& box = patch.box;
    box.x = wanted.x & ~1;
    box.y = wanted.y & ~1;
    box.width = std::max (2, ((wanted.right() + 1) & ~1) - box.x);
    box.height = std::max (2, ((wanted.bottom() + 1) & ~1) - box.y);
    auto pixels =
        std::make_shared<std::vector<std::uint32_t>> (static_cast<std::size_t> (box.width) * static_cast<std::size_t> (box.height));
    // 32 bits a pixel: Cairo's rows have no gaps.
    cairo_surface_t* surface = cairo_image_surface_create_for_data (reinterpret_cast<unsigned char*> (pixels->data()),
                                                                    CAIRO_FORMAT_ARGB32, box.width, box.height, box.width * 4);
    cairo_t* cairo = cairo_create (surface);
    cairo_translate (cairo, -box.x, -box.y);
    draw (cairo);
    cairo_destroy (cairo);
    cairo_surface_flush (surface);
    cairo_surface_destroy (surface);
    patch.pixels = std::move (pixels);
    return patch;
}

namespace
{
/// The later families are for machines without the first.
const char* familiesOf (Face face)
{
    switch (face)
    {
    case Face::figures:
        return "JetBrains Mono, DejaVu Sans Mono, monospace";
    case Face::wording:
        return "EB Garamond 12, EB Garamond, serif";
    case Face::words:
        break;
    }
    return "Inter, DejaVu Sans, sans-serif";
}
} // namespace

Letters::Letters()
    : map (pango_cairo_font_map_new())
    , context (pango_font_map_create_context (map.get()))
{
    pango_cairo_context_set_resolution (context.get(), 72);
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options (context.get(), options);
    cairo_font_options_destroy (options);
    pango_context_set_round_glyph_positions (context.get(), FALSE);
    // Line breaking must not depend on the language of the session.
    pango_context_set_language (context.get(), pango_language_from_string ("en"));
}

Letters::Layout Letters::layout (const std::string& text, const Lettering& style, double width, int lines) const
{
    Layout set (pango_layout_new (context.get()));
    PangoFontDescription* font = pango_font_description_new();
    pango_font_description_set_family (font, familiesOf (style.face));
    pango_font_description_set_size (font, static_cast<int> (style.size * PANGO_SCALE + 0.5));
    pango_font_description_set_weight (font, style.strong ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL);
    if (style.face == Face::wording)
        pango_font_description_set_style (font, PANGO_STYLE_ITALIC);
    pango_layout_set_font_description (set.get(), font);
    pango_font_description_free (font);
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert (
        attributes, pango_attr_font_features_new (style.face == Face::figures ? "calt=0, liga=0, zero=0" : "tnum=1, kern=1"));
    pango_layout_set_attributes (set.get(), attributes);
    pango_attr_list_unref (attributes);
    if (width > 0)
    {
        pango_layout_set_width (set.get(), static_cast<int> (width * PANGO_SCALE));
        pango_layout_set_wrap (set.get(), PANGO_WRAP_WORD_CHAR);
        if (lines > 0)
        {
            pango_layout_set_height (set.get(), -lines);
            pango_layout_set_ellipsize (set.get(), PANGO_ELLIPSIZE_END);
        }
    }
    else
        pango_layout_set_single_paragraph_mode (set.get(), TRUE);
    const std::unique_ptr<char, decltype (&g_free)> valid (g_utf8_make_valid (text.data(), static_cast<gssize> (text.size())),
                                                           g_free);
    const std::unique_ptr<char, decltype (&g_free)> normal (g_utf8_normalize (valid.get(), -1, G_NORMALIZE_DEFAULT_COMPOSE),
                                                            g_free);
    pango_layout_set_text (set.get(), normal ? normal.get() : valid.get(), -1);
    return set;
}

Letters::Extent Letters::measure (const std::string& text, const Lettering& style, double width, int lines) const
{
    const auto set = layout (text, style, width, lines);
    int w = 0, h = 0;
    pango_layout_get_size (set.get(), &w, &h);
    return { static_cast<double> (w) / PANGO_SCALE, static_cast<double> (h) / PANGO_SCALE };
}

void Letters::draw (cairo_t* cairo, const std::string& text, const Lettering& style, double x, double y, double width, int lines,
                    Align align) const
{
    if (text.empty())
        return;
    const auto set = layout (text, style, width, lines);
    double left = x;
    if (width > 0)
        pango_layout_set_alignment (set.get(), align == Align::left     ? PANGO_ALIGN_LEFT
                                               : align == Align::centre ? PANGO_ALIGN_CENTER
                                                                        : PANGO_ALIGN_RIGHT);
    else if (align != Align::left)
    {
        int w = 0;
        pango_layout_get_size (set.get(), &w, nullptr);
        left -= static_cast<double> (w) / PANGO_SCALE / (align == Align::centre ? 2 : 1);
    }
    cairo_set_source_rgb (cairo, style.ink.red, style.ink.green, style.ink.blue);
    cairo_move_to (cairo, left, y);
    pango_cairo_show_layout (cairo, set.get());
}

double Letters::sizeFor (const std::string& text, Lettering style, double width, double largest) const
{
    style.size = 100;
    const double wide = measure (text, style).width;
    return wide <= 0 ? largest : std::min (largest, 100 * width / wide);
}
} // namespace shutterbeat::overlay
