#include "Ink.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{
constexpr double kInkTone = 0.07;
}

double chance (std::uint32_t seed, std::uint32_t counter)
{
    std::uint32_t h = seed * 0x9E3779B1u + counter * 0x85EBCA77u + 0x165667B1u;
    h ^= h >> 15;
    h *= 0x2C1B3C6Du;
    h ^= h >> 12;
    h *= 0x297A2D39u;
    h ^= h >> 15;
    return h / 4294967296.0;
}

double wander (std::uint32_t seed, double x)
{
    const double base = std::floor (x);
    const double part = x - base;
    const auto step = static_cast<std::uint32_t> (static_cast<std::int64_t> (base));
    const double a = chance (seed, step) * 2 - 1;
    const double b = chance (seed, step + 1) * 2 - 1;
    return mix (a, b, part * part * (3 - 2 * part));
}

double clamp01 (double value)
{
    return std::clamp (value, 0.0, 1.0);
}

double mix (double from, double to, double share)
{
    return from + (to - from) * share;
}

double ease (double value, double from, double to)
{
    const double s = clamp01 ((value - from) / (to - from));
    return s * s * (3 - 2 * s);
}

double bump (double value, double from, double to)
{
    const double s = clamp01 ((value - from) / (to - from));
    return std::sin (s * kPi);
}

void Ink::camera (double x, double y, double zoom)
{
    move (320, 240);
    scale (zoom);
    move (-x, -y);
    line = 1 / std::sqrt (zoom);
}

void Ink::oval (double x, double y, double rx, double ry)
{
    cairo_matrix_t before;
    cairo_get_matrix (cr, &before);
    cairo_new_sub_path (cr);
    move (x, y);
    scale (std::max (rx, 0.01), std::max (ry, 0.01));
    cairo_arc (cr, 0, 0, 1, 0, 2 * kPi);
    cairo_close_path (cr);
    cairo_set_matrix (cr, &before);
}

void Ink::box (double x, double y, double w, double h, double radius)
{
    if (radius <= 0)
    {
        cairo_rectangle (cr, x, y, w, h);
        return;
    }
    const double r = std::min ({ radius, w / 2, h / 2 });
    cairo_new_sub_path (cr);
    cairo_arc (cr, x + w - r, y + r, r, -kPi / 2, 0);
    cairo_arc (cr, x + w - r, y + h - r, r, 0, kPi / 2);
    cairo_arc (cr, x + r, y + h - r, r, kPi / 2, kPi);
    cairo_arc (cr, x + r, y + r, r, kPi, 1.5 * kPi);
    cairo_close_path (cr);
}

void Ink::poly (const Points& points, bool closed)
{
    cairo_new_sub_path (cr);
    for (const Point& p : points)
        cairo_line_to (cr, p.x, p.y);
    if (closed)
        cairo_close_path (cr);
}

void Ink::curve (const Points& points, bool closed)
{
    const int count = static_cast<int> (points.size());
    const auto at = [&] (int i)
    {
        if (closed)
            return points[static_cast<std::size_t> (((i % count) + count) % count)];
        return points[static_cast<std::size_t> (std::clamp (i, 0, count - 1))];
    };
    // Catmull-Rom through the points, written as Bezier pieces.
    cairo_new_sub_path (cr);
    cairo_move_to (cr, points[0].x, points[0].y);
    for (int i = 0; i < (closed ? count : count - 1); ++i)
    {
        const Point p0 = at (i - 1), p1 = at (i), p2 = at (i + 1), p3 = at (i + 2);
        cairo_curve_to (cr, p1.x + (p2.x - p0.x) / 6, p1.y + (p2.y - p0.y) / 6, p2.x - (p3.x - p1.x) / 6, p2.y - (p3.y - p1.y) / 6,
                        p2.x, p2.y);
    }
    if (closed)
        cairo_close_path (cr);
}

void Ink::arc (double x, double y, double radius, double from, double to)
{
    cairo_new_sub_path (cr);
    cairo_arc (cr, x, y, radius, from, to);
}

void Ink::fill (double grey, double alpha, bool keep)
{
    cairo_set_source_rgba (cr, grey, grey, grey, alpha);
    keep ? cairo_fill_preserve (cr) : cairo_fill (cr);
}

void Ink::gradient (cairo_pattern_t* pattern, double g0, double g1, bool keep)
{
    cairo_pattern_add_color_stop_rgb (pattern, 0, g0, g0, g0);
    cairo_pattern_add_color_stop_rgb (pattern, 1, g1, g1, g1);
    cairo_set_source (cr, pattern);
    keep ? cairo_fill_preserve (cr) : cairo_fill (cr);
    cairo_pattern_destroy (pattern);
}

void Ink::fillDown (double y0, double grey0, double y1, double grey1, bool keep)
{
    gradient (cairo_pattern_create_linear (0, y0, 0, y1), grey0, grey1, keep);
}

void Ink::fillAcross (double x0, double grey0, double x1, double grey1, bool keep)
{
    gradient (cairo_pattern_create_linear (x0, 0, x1, 0), grey0, grey1, keep);
}

void Ink::fillBall (double x, double y, double radius, double centre, double edge, bool keep)
{
    gradient (cairo_pattern_create_radial (x, y, radius * 0.1, x, y, radius), centre, edge, keep);
}

void Ink::stroke (double width, double grey, double alpha)
{
    cairo_set_source_rgba (cr, grey, grey, grey, alpha);
    cairo_set_line_width (cr, width);
    cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
    cairo_stroke (cr);
}

void Ink::outline (double width, double alpha)
{
    stroke (width * line, kInkTone, alpha);
}

void Ink::shape (double grey, double width)
{
    fill (grey, 1, true);
    outline (width);
}

void Ink::shapeDown (double y0, double grey0, double y1, double grey1, double width)
{
    fillDown (y0, grey0, y1, grey1, true);
    outline (width);
}

void Ink::shapeAcross (double x0, double grey0, double x1, double grey1, double width)
{
    fillAcross (x0, grey0, x1, grey1, true);
    outline (width);
}

void Ink::shapeBall (double x, double y, double radius, double centre, double edge, double width)
{
    fillBall (x, y, radius, centre, edge, true);
    outline (width);
}

void Ink::limb (const Points& points, double width, double grey)
{
    curve (points, false);
    stroke (width + 3.4 * line, kInkTone);
    curve (points, false);
    stroke (width, grey);
}

void Ink::penLine (const Points& points, double width, double grey, double alpha)
{
    curve (points, false);
    stroke (width * line, grey, alpha);
}

void Ink::glow (double x, double y, double rx, double ry, double grey, double alpha)
{
    Hold hold (*this);
    move (x, y);
    scale (rx, ry);
    cairo_pattern_t* pattern = cairo_pattern_create_radial (0, 0, 0, 0, 0, 1);
    cairo_pattern_add_color_stop_rgba (pattern, 0, grey, grey, grey, alpha);
    cairo_pattern_add_color_stop_rgba (pattern, 0.5, grey, grey, grey, alpha * 0.45);
    cairo_pattern_add_color_stop_rgba (pattern, 1, grey, grey, grey, 0);
    cairo_set_source (cr, pattern);
    cairo_arc (cr, 0, 0, 1, 0, 2 * kPi);
    cairo_fill (cr);
    cairo_pattern_destroy (pattern);
}

void Ink::hatch (double x, double y, double w, double h, double gap, double slant, double grey, double alpha, std::uint32_t seed)
{
    Hold hold (*this);
    cairo_rectangle (cr, x, y, w, h);
    cairo_clip (cr);
    std::uint32_t i = 0;
    for (double at = x - std::abs (slant); at < x + w + std::abs (slant); at += gap, ++i)
    {
        const double shift = (chance (seed, i) - 0.5) * gap;
        const double cut = chance (seed + 7, i) * h * 0.3;
        cairo_move_to (cr, at + shift + slant * 0.5, y + cut);
        cairo_line_to (cr, at + shift - slant * 0.5, y + h - cut * 0.5);
    }
    stroke (1.1 * line, grey, alpha);
}

} // namespace shutterbeat::demo
