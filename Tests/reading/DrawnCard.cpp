#include "DrawnCard.h"

#include <pango/pangocairo.h>

#include <algorithm>
#include <random>

namespace shutterbeat::tests
{
film::GreyPicture drawnCard (const std::string& wording, const CardLook& look)
{
    cairo_surface_t* surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, look.width, look.height);
    cairo_t* cairo = cairo_create (surface);
    const auto grey = [&] (double level) { cairo_set_source_rgb (cairo, level, level, level); };
    grey (look.sheet < 1 ? 0.03 : look.ground);
    cairo_paint (cairo);
    cairo_translate (cairo, look.x, look.y);
    if (look.sheet < 1)
    {
        grey (look.ground);
        cairo_rectangle (cairo, look.width * (1 - look.sheet) / 2, -10, look.width * look.sheet, look.height + 20);
        cairo_fill (cairo);
    }
    grey (look.ink);
    if (look.frame)
        for (const double inset : { 24.0, 32.0 })
        {
            cairo_set_line_width (cairo, inset < 30 ? 3 : 1);
            cairo_rectangle (cairo, inset, inset, look.width - 2 * inset, look.height - 2 * inset);
            cairo_stroke (cairo);
        }
    PangoLayout* layout = pango_cairo_create_layout (cairo);
    PangoFontDescription* font = pango_font_description_from_string (look.font.c_str());
    pango_layout_set_font_description (layout, font);
    pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
    pango_layout_set_width (layout, static_cast<int> (look.width * 0.8 * look.sheet) * PANGO_SCALE);
    pango_layout_set_text (layout, wording.c_str(), -1);
    int wide = 0;
    int high = 0;
    pango_layout_get_pixel_size (layout, &wide, &high);
    cairo_move_to (cairo, look.width * (1 - 0.8 * look.sheet) / 2, (look.height - high) / 2.0);
    pango_cairo_show_layout (cairo, layout);
    pango_font_description_free (font);
    g_object_unref (layout);
    cairo_surface_flush (surface);

    film::GreyPicture card;
    card.width = look.width;
    card.height = look.height;
    const unsigned char* bytes = cairo_image_surface_get_data (surface);
    const int stride = cairo_image_surface_get_stride (surface);
    for (int y = 0; y < look.height; ++y)
        for (int x = 0; x < look.width; ++x)
            card.pixels.push_back (bytes[static_cast<std::ptrdiff_t> (y) * stride + static_cast<std::ptrdiff_t> (x) * 4]);
    cairo_destroy (cairo);
    cairo_surface_destroy (surface);
    return card;
}

void wearCard (film::GreyPicture& card, double grain, std::uint64_t seed)
{
    // mt19937_64 gives the same numbers everywhere; the library's distributions need not.
    std::mt19937_64 random (seed);
    const auto even = [&] { return static_cast<double> (random() >> 11U) / 9007199254740992.0; };
    const auto at = [&] (int x, int y) -> std::uint8_t&
    { return card.pixels[static_cast<std::size_t> (y) * static_cast<std::size_t> (card.width) + static_cast<std::size_t> (x)]; };
    for (int spot = 0; spot < 12; ++spot)
    {
        const int cx = static_cast<int> (even() * card.width);
        const int cy = static_cast<int> (even() * card.height);
        const int radius = 1 + static_cast<int> (even() * 4);
        const std::uint8_t level = even() < 0.5 ? 15 : 240;
        for (int y = std::max (0, cy - radius); y <= std::min (card.height - 1, cy + radius); ++y)
            for (int x = std::max (0, cx - radius); x <= std::min (card.width - 1, cx + radius); ++x)
                if ((x - cx) * (x - cx) + (y - cy) * (y - cy) <= radius * radius)
                    at (x, y) = level;
    }
    const int scratch = static_cast<int> (even() * card.width);
    const double gain = 0.8 + 0.4 * even();
    for (int y = 0; y < card.height; ++y)
    {
        at (scratch, y) = static_cast<std::uint8_t> (std::min (255, at (scratch, y) + 90));
        for (int x = 0; x < card.width; ++x)
        {
            const double bell = (even() + even() + even() + even() - 2) * 1.732;
            at (x, y) = static_cast<std::uint8_t> (std::clamp (at (x, y) * gain + grain * bell + 0.5, 0.0, 255.0));
        }
    }
}
} // namespace shutterbeat::tests
