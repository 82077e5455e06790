#include "sheets/MarkDraw.h"

#include <numbers>

namespace shutterbeat::sheets
{
namespace
{
using spotting::MarkStep;

void trace (cairo_t* cairo, const std::vector<MarkStep>& steps, double x, double y, double size)
{
    cairo_new_path (cairo);
    for (const auto& s : steps)
        switch (s.kind)
        {
        case MarkStep::Kind::move:
            cairo_move_to (cairo, x + s.x * size, y + s.y * size);
            break;
        case MarkStep::Kind::line:
            cairo_line_to (cairo, x + s.x * size, y + s.y * size);
            break;
        case MarkStep::Kind::curve:
            cairo_curve_to (cairo, x + s.x1 * size, y + s.y1 * size, x + s.x2 * size, y + s.y2 * size, x + s.x * size,
                            y + s.y * size);
            break;
        case MarkStep::Kind::close:
            cairo_close_path (cairo);
            break;
        }
}
} // namespace

void drawMark (cairo_t* cairo, spotting::HitKind kind, spotting::Weight weight, bool open, double x, double y, double size,
               const Dye& ink, const Dye& dot)
{
    const auto steps = spotting::markShape (kind);
    cairo_save (cairo);
    cairo_set_source_rgb (cairo, ink.red, ink.green, ink.blue);
    cairo_set_fill_rule (cairo, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_set_line_join (cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_width (cairo, size / 14);
    if (const double from = spotting::markFillFrom (weight); from < 1)
    {
        cairo_save (cairo);
        cairo_rectangle (cairo, x - size, y + from * size, 3 * size, 2 * size);
        cairo_clip (cairo);
        trace (cairo, steps, x, y, size);
        cairo_fill (cairo);
        cairo_restore (cairo);
    }
    trace (cairo, steps, x, y, size);
    cairo_stroke (cairo);
    if (open)
    {
        const spotting::MarkDot place;
        cairo_set_source_rgb (cairo, dot.red, dot.green, dot.blue);
        cairo_arc (cairo, x + place.x * size, y + place.y * size, place.radius * size, 0, 2 * std::numbers::pi);
        cairo_fill (cairo);
    }
    cairo_restore (cairo);
}
} // namespace shutterbeat::sheets
