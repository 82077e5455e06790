#include "Cards.h"

#include <pango/pangocairo.h>

#include <cmath>

namespace shutterbeat::demo
{

namespace
{

struct Lettering
{
    const char* font;
    double x, y, width, grey;
    bool centred;
};

/// Sets a paragraph from (x, y); gives back its height. With grey below zero it only measures.
double letter (Ink& ink, const std::string& words, const Lettering& how)
{
    PangoLayout* layout = pango_cairo_create_layout (ink.cr);
    PangoFontDescription* face = pango_font_description_from_string (how.font);
    pango_layout_set_font_description (layout, face);
    pango_layout_set_alignment (layout, how.centred ? PANGO_ALIGN_CENTER : PANGO_ALIGN_LEFT);
    pango_layout_set_width (layout, static_cast<int> (how.width * PANGO_SCALE));
    pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
    pango_layout_set_spacing (layout, 6 * PANGO_SCALE);
    pango_layout_set_text (layout, words.c_str(), -1);
    int high = 0;
    pango_layout_get_pixel_size (layout, nullptr, &high);
    if (how.grey >= 0)
    {
        cairo_move_to (ink.cr, how.x, how.y);
        cairo_set_source_rgb (ink.cr, how.grey, how.grey, how.grey);
        pango_cairo_show_layout (ink.cr, layout);
        cairo_new_path (ink.cr);
    }
    pango_font_description_free (face);
    g_object_unref (layout);
    return high;
}

/// Centres a paragraph about the middle of the frame at the given height; gives back its height.
double centre (Ink& ink, const std::string& words, const char* font, double middleY, double width, double grey)
{
    const double high = letter (ink, words, { font, 0, 0, width, -1, true });
    // The narrowest measure that needs no further line, so that lines come out even and none is left with one word.
    double measure = width;
    while (measure > 120 && letter (ink, words, { font, 0, 0, measure - 10, -1, true }) <= high)
        measure -= 10;
    letter (ink, words, { font, 320 - measure / 2, middleY - high / 2, measure, grey, true });
    return high;
}

/// A corner of leaves and a curl, drawn for the top left and mirrored to the others.
void corner (Ink& ink, double sx, double sy)
{
    Ink::Hold hold (ink);
    ink.move (sx > 0 ? 44 : 596, sy > 0 ? 40 : 440);
    ink.scale (sx, sy);
    ink.penLine ({ { 4, 64 }, { 8, 40 }, { 26, 26 }, { 40, 8 }, { 64, 4 } }, 2.2, 0.85);
    ink.penLine ({ { 12, 12 }, { 22, 10 }, { 26, 18 }, { 19, 23 }, { 14, 18 } }, 2, 0.85);
    cairo_matrix_t swapAxes;
    cairo_matrix_init (&swapAxes, 0, 1, 1, 0, 0, 0);
    for (int i = 0; i < 3; ++i)
    {
        const double along = 16 + 13.0 * i;
        for (const bool mirrored : { false, true })
        {
            Ink::Hold leaf (ink);
            if (mirrored)
                cairo_transform (ink.cr, &swapAxes);
            ink.move (along + 22, 14 - 3.0 * i);
            ink.turn (-0.5 + 0.2 * i);
            ink.curve ({ { 0, 0 }, { 7, -4 }, { 15, 0 }, { 7, 4 } });
            ink.fill (0.8);
        }
    }
}

/// A little wave and a lamp: the maker's mark at the foot of every card.
void ornament (Ink& ink, double y)
{
    ink.poly ({ { 314, y + 9 }, { 317, y - 9 }, { 323, y - 9 }, { 326, y + 9 } });
    ink.fill (0.85);
    ink.oval (320, y - 13, 3.4, 4);
    ink.fill (0.95);
    for (const double side : { -1.0, 1.0 })
    {
        Points wave;
        for (int i = 0; i <= 24; ++i)
            wave.push_back ({ 320 + side * (18 + 3.6 * i), y + 4 + 4 * std::sin (i * 0.85) * (1 - i / 30.0) });
        ink.penLine (wave, 1.8, 0.8);
    }
}

void border (Ink& ink)
{
    ink.box (-40, -40, 720, 560);
    ink.fillBall (320, 240, 460, 0.085, 0.03);
    ink.box (30, 26, 580, 428, 4);
    ink.stroke (3.2, 0.8);
    ink.box (38, 34, 564, 412, 3);
    ink.stroke (1.2, 0.72);
    for (const double sx : { 1.0, -1.0 })
        for (const double sy : { 1.0, -1.0 })
            corner (ink, sx, sy);
}

} // namespace

void drawCard (Stage& stage, CardLook look, const std::string& words)
{
    stage.backdrop ("card",
                    [&] (Ink& ink)
                    {
                        border (ink);
                        if (look == CardLook::words)
                        {
                            centre (ink, words, "EB Garamond, serif 28", 220, 470, 0.94);
                            ornament (ink, 400);
                            return;
                        }
                        const auto split = words.find ('\n');
                        const char* face = look == CardLook::title ? "EB Garamond, serif Bold 44" : "EB Garamond, serif Italic 50";
                        const double high = centre (ink, words.substr (0, split), face, 196, 500, 0.96);
                        ornament (ink, 222 + high / 2);
                        if (split != std::string::npos)
                            centre (ink, words.substr (split + 1), "EB Garamond, serif Italic 20", 276 + high / 2, 480, 0.85);
                    });
}

void writeText (Ink& ink, const std::string& words, const char* font, double x, double y, double width, double grey)
{
    letter (ink, words, { font, x, y, width, grey, false });
}

} // namespace shutterbeat::demo
