#include "sheets/Words.h"

#include <array>
#include <cstdio>

namespace shutterbeat::sheets
{
namespace
{
/// The families of a face; the later ones for machines without the first.
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

std::string hex (gunichar code)
{
    std::array<char, 16> text{};
    std::snprintf (text.data(), text.size(), "%04X", static_cast<unsigned> (code));
    return text.data();
}

/// The name of a character's script for people, from its ISO 15924 code: "Hani", "Kana".
std::string scriptOf (gunichar code)
{
    const guint32 tag = g_unicode_script_to_iso15924 (g_unichar_get_script (code));
    std::string name;
    for (int shift = 24; shift >= 0; shift -= 8)
        name += static_cast<char> (tag >> shift & 0xFF);
    return name;
}

std::string utf8Of (gunichar code)
{
    std::array<char, 8> text{};
    const int length = g_unichar_to_utf8 (code, text.data());
    return { text.data(), static_cast<std::size_t> (length) };
}
} // namespace

std::string composed (const std::string& text)
{
    const std::unique_ptr<char, decltype (&g_free)> valid (g_utf8_make_valid (text.data(), static_cast<gssize> (text.size())),
                                                           g_free);
    const std::unique_ptr<char, decltype (&g_free)> normal (g_utf8_normalize (valid.get(), -1, G_NORMALIZE_DEFAULT_COMPOSE),
                                                            g_free);
    return normal ? normal.get() : valid.get();
}

Words::Words()
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

Words::Layout Words::layout (const std::string& text, const Style& style, double width)
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
    // Figures stand under each other; a monospaced face keeps its signs apart (no arrows made of two).
    PangoAttrList* attributes = pango_attr_list_new();
    pango_attr_list_insert (
        attributes, pango_attr_font_features_new (style.face == Face::figures ? "calt=0, liga=0, zero=0" : "tnum=1, kern=1"));
    pango_layout_set_attributes (set.get(), attributes);
    pango_attr_list_unref (attributes);
    if (width > 0)
    {
        pango_layout_set_width (set.get(), static_cast<int> (width * PANGO_SCALE));
        pango_layout_set_wrap (set.get(), PANGO_WRAP_WORD_CHAR);
    }
    else
        pango_layout_set_single_paragraph_mode (set.get(), TRUE);
    const std::string clean = composed (text);
    pango_layout_set_text (set.get(), clean.data(), static_cast<int> (clean.size()));
    if (pango_layout_get_unknown_glyphs_count (set.get()) > 0)
        noteMissing (set.get(), clean);
    return set;
}

void Words::noteMissing (PangoLayout* set, const std::string& text)
{
    PangoLayoutIter* iterator = pango_layout_get_iter (set);
    do
    {
        const PangoLayoutRun* run = pango_layout_iter_get_run_readonly (iterator);
        for (int i = 0; run != nullptr && i < run->glyphs->num_glyphs; ++i)
            if (const PangoGlyph glyph = run->glyphs->glyphs[i].glyph;
                glyph != PANGO_GLYPH_EMPTY && (glyph & PANGO_GLYPH_UNKNOWN_FLAG) != 0)
                missing.emplace (glyph & ~PANGO_GLYPH_UNKNOWN_FLAG, text);
    } while (pango_layout_iter_next_run (iterator));
    pango_layout_iter_free (iterator);
}

Extent Words::measure (const std::string& text, const Style& style, double width)
{
    const auto set = layout (text, style, width);
    int w = 0, h = 0;
    pango_layout_get_size (set.get(), &w, &h);
    const double baseline = pango_layout_get_baseline (set.get());
    return { static_cast<double> (w) / PANGO_SCALE, static_cast<double> (h) / PANGO_SCALE, baseline / PANGO_SCALE };
}

void Words::line (cairo_t* cairo, const std::string& text, const Style& style, double x, double y, Align align)
{
    if (text.empty())
        return;
    const auto set = layout (text, style, 0);
    int w = 0;
    pango_layout_get_size (set.get(), &w, nullptr);
    const double width = static_cast<double> (w) / PANGO_SCALE;
    const double baseline = static_cast<double> (pango_layout_get_baseline (set.get())) / PANGO_SCALE;
    cairo_set_source_rgb (cairo, style.ink.red, style.ink.green, style.ink.blue);
    cairo_move_to (cairo, align == Align::left ? x : align == Align::right ? x - width : x - width / 2, y - baseline);
    pango_cairo_show_layout (cairo, set.get());
}

double Words::block (cairo_t* cairo, const std::string& text, const Style& style, double x, double y, double width)
{
    if (text.empty())
        return 0;
    const auto set = layout (text, style, width);
    int h = 0;
    pango_layout_get_size (set.get(), nullptr, &h);
    cairo_set_source_rgb (cairo, style.ink.red, style.ink.green, style.ink.blue);
    cairo_move_to (cairo, x, y);
    pango_cairo_show_layout (cairo, set.get());
    return static_cast<double> (h) / PANGO_SCALE;
}

std::vector<std::string> Words::pieces (const std::string& text, const Style& style, double width, int lines)
{
    const auto set = layout (text, style, width);
    const std::string whole = pango_layout_get_text (set.get());
    std::vector<std::size_t> starts;
    int number = 0;
    for (const GSList* item = pango_layout_get_lines_readonly (set.get()); item != nullptr; item = item->next, ++number)
        if (number % lines == 0)
            starts.push_back (static_cast<std::size_t> (static_cast<const PangoLayoutLine*> (item->data)->start_index));
    std::vector<std::string> cut;
    for (std::size_t i = 0; i < starts.size(); ++i)
    {
        const auto end = i + 1 < starts.size() ? starts[i + 1] : whole.size();
        std::string piece = whole.substr (starts[i], end - starts[i]);
        // The break between two pieces is the page's now.
        while (i + 1 < starts.size() && ! piece.empty() && (piece.back() == '\n' || piece.back() == ' '))
            piece.pop_back();
        cut.push_back (std::move (piece));
    }
    return cut;
}

std::string Words::fitted (const std::string& text, const Style& style, double width)
{
    if (measure (text, style).width <= width)
        return text;
    // Cut by characters, longest first part that fits: a search over their number.
    const std::string clean = composed (text);
    const auto first = [&] (long letters) {
        return clean.substr (0, static_cast<std::size_t> (g_utf8_offset_to_pointer (clean.c_str(), letters) - clean.c_str())) + "…";
    };
    long fits = 0, tooLong = g_utf8_strlen (clean.c_str(), static_cast<gssize> (clean.size()));
    while (tooLong - fits > 1)
    {
        const long middle = (fits + tooLong) / 2;
        (measure (first (middle), style).width <= width ? fits : tooLong) = middle;
    }
    return first (fits);
}

std::vector<std::string> Words::missingLetters() const
{
    std::vector<std::string> notes;
    for (const auto& [code, text] : missing)
        notes.push_back ("no installed font has " + utf8Of (code) + " (U+" + hex (code) + ", script " + scriptOf (code) + ") of \""
                         + (text.size() > 120 ? text.substr (0, 117) + "..." : text)
                         + "\"; a box with its number is printed there");
    return notes;
}
} // namespace shutterbeat::sheets
