#include "overlay/MarkPaint.h"

#include "overlay/Sketch.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace shutterbeat::overlay
{
MarkPaint::MarkPaint (const Box& picture_, const Dye& dye_)
    : picture (picture_)
    , dye (dye_)
    , lines (3)
{
}

Patch MarkPaint::disc()
{
    if (! punch)
    {
        // The rim counts too: pi r^2 stays below a twelfth of the picture.
        const double limit = std::sqrt (static_cast<double> (picture.width) * picture.height / 12 / M_PI);
        const double radius = std::floor (std::min (limit * 0.97, picture.height * 0.15));
        const double x = picture.x + picture.width / 2.0, y = picture.y + picture.height / 2.0;
        const int reach = static_cast<int> (radius);
        const Box box{ static_cast<int> (x) - reach, static_cast<int> (y) - reach, 2 * reach, 2 * reach };
        punch = sketch (box,
                        [&] (cairo_t* cairo)
                        {
                            cairo_arc (cairo, x, y, radius, 0, 2 * M_PI);
                            cairo_set_source_rgba (cairo, ground.red, ground.green, ground.blue, 0.7);
                            cairo_fill (cairo);
                            cairo_arc (cairo, x, y, radius * 0.94, 0, 2 * M_PI);
                            cairo_set_source_rgb (cairo, ivory.red, ivory.green, ivory.blue);
                            cairo_fill (cairo);
                        });
    }
    return *punch;
}

Patch MarkPaint::streamer (const ShownMark& mark)
{
    const auto weight = static_cast<std::size_t> (std::clamp (mark.weight, 0, 2));
    auto& line = lines[weight];
    // Broader for what matters more; the wedges tell it from a scratch on the film.
    const double broad = std::max (2.0, picture.width / 320.0 * (weight == 0 ? 1.7 : weight == 1 ? 1.25 : 0.8));
    const double wedge = std::max (6.0, picture.height / 50.0);
    const int across = (static_cast<int> (std::ceil (broad + wedge + 2)) + 1) & ~1;
    if (! line)
        line = sketch ({ 0, picture.y, across, picture.height },
                       [&] (cairo_t* cairo)
                       {
                           const double right = across, left = right - broad;
                           const double top = picture.y, bottom = picture.bottom();
                           cairo_set_source_rgba (cairo, ground.red, ground.green, ground.blue, 0.55);
                           cairo_rectangle (cairo, left - 1, top, broad + 1, bottom - top);
                           cairo_fill (cairo);
                           cairo_set_source_rgb (cairo, dye.red, dye.green, dye.blue);
                           cairo_rectangle (cairo, left, top, broad, bottom - top);
                           cairo_move_to (cairo, left - wedge, top);
                           cairo_line_to (cairo, left, top);
                           cairo_line_to (cairo, left, top + wedge);
                           cairo_close_path (cairo);
                           cairo_move_to (cairo, left - wedge, bottom);
                           cairo_line_to (cairo, left, bottom);
                           cairo_line_to (cairo, left, bottom - wedge);
                           cairo_close_path (cairo);
                           cairo_fill (cairo);
                       });
    auto patch = *line;
    const auto way = time::Rational (picture.width - patch.box.width) * mark.progress;
    patch.box.x = (picture.x + static_cast<int> (time::roundOf (way)) + 1) & ~1;
    return patch;
}

std::vector<Patch> MarkPaint::draw (const std::vector<ShownMark>& marks)
{
    std::vector<Patch> patches;
    bool punched = false, flashed = false;
    for (const auto& mark : marks)
        if (mark.kind == ShownMark::Kind::streamer)
            patches.push_back (streamer (mark));
        else if (mark.kind == ShownMark::Kind::punch && ! std::exchange (punched, true))
            patches.push_back (disc());
        else if (mark.kind == ShownMark::Kind::flash && ! std::exchange (flashed, true))
        {
            if (! flash)
                flash = sketch (picture,
                                [&] (cairo_t* cairo)
                                {
                                    cairo_set_source_rgba (cairo, ivory.red, ivory.green, ivory.blue, 0.85);
                                    cairo_paint (cairo);
                                });
            patches.push_back (*flash);
        }
    return patches;
}
} // namespace shutterbeat::overlay
