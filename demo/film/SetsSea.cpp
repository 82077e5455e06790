#include "Sets.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

void sky (Ink& ink, double top, double horizon, double horizonY, std::uint32_t seed)
{
    ink.box (-400, -40, 3600, horizonY + 60);
    ink.fillDown (-40, top, horizonY, horizon);
    for (std::uint32_t i = 0; i < 9; ++i)
    {
        const double x = -60 + chance (seed, i) * 760, y = 10 + chance (seed + 1, i) * horizonY * 0.55,
                     wide = 50 + 90 * chance (seed + 2, i);
        for (std::uint32_t j = 0; j < 6; ++j)
            ink.glow (x + (j - 2.5) * wide * 0.34, y + (chance (seed + 3, i * 6 + j) - 0.5) * 14, wide * 0.42,
                      13 + 12 * chance (seed + 4, i * 6 + j), 0.99, 0.5);
        ink.glow (x, y + 14, wide, 8, top * 0.8, 0.3);
    }
}

void sea (Ink& ink, double top, double bottom, double t, double far, double near, std::uint32_t seed)
{
    ink.box (-400, top, 1500, bottom - top + 80);
    ink.fillDown (top, far, bottom, near);
    const int rows = std::clamp (static_cast<int> ((bottom - top) / 17), 4, 13);
    for (int row = 0; row < rows; ++row)
    {
        const double s = (row + 0.35) / rows;
        const double y = top + (bottom - top) * std::pow (s, 1.35);
        const double length = 16 + 74 * s, high = 1.2 + 9 * s;
        const double drift =
            (row % 2 == 0 ? 1 : -1) * (14 + 26 * s) * std::sin (t * 1.5 + row * 0.9) + t * 11 * (row % 2 == 0 ? 1 : -0.6);
        const double rise = std::sin (t * 2.2 + row * 1.7) * high * 0.4;
        const double shift = std::fmod (drift + chance (seed, static_cast<std::uint32_t> (row)) * length, length);
        cairo_new_path (ink.cr);
        cairo_move_to (ink.cr, -60 - length * 2, y + rise + 26 + 44 * s);
        // Cut-paper crests: round hollows between sharp tips
        for (double x = -60 - length * 2 + shift; x < 720; x += length)
        {
            cairo_line_to (ink.cr, x, y + rise - high);
            cairo_curve_to (ink.cr, x + length * 0.28, y + rise + high, x + length * 0.72, y + rise + high, x + length,
                            y + rise - high);
        }
        cairo_line_to (ink.cr, 760, y + rise + 26 + 44 * s);
        cairo_close_path (ink.cr);
        const double tone = mix (far, near, s) + (row % 2 == 0 ? 0.05 : -0.04);
        ink.fillDown (y - high, clamp01 (tone + 0.16), y + 22 + 30 * s, clamp01 (tone - 0.05), true);
        ink.stroke (0.9 + 0.7 * s, clamp01 (tone + 0.42), 0.8);
    }
}

void rock (Ink& ink, double x, double y, double w, double h, std::uint32_t seed)
{
    Points edge{ { x - w / 2, y + 8 } };
    for (int i = 0; i <= 8; ++i)
    {
        const double s = i / 8.0;
        edge.push_back (
            { x - w / 2 + w * s,
              y - h * std::pow (std::sin (s * kPi), 0.6) * (0.78 + 0.34 * chance (seed, static_cast<std::uint32_t> (i))) });
    }
    edge.push_back ({ x + w / 2, y + 8 });
    ink.poly (edge);
    ink.shapeAcross (x - w / 2, 0.16, x + w / 2, 0.5);
    for (std::uint32_t i = 0; i < 12; ++i)
    {
        const double px = x + (chance (seed + 1, i) - 0.5) * w * 0.7, py = y - h * 0.65 * chance (seed + 2, i);
        ink.penLine ({ { px, py }, { px + w * 0.04, py + h * 0.14 }, { px + w * 0.02, py + h * 0.25 } }, 1.4,
                     i % 2 == 0 ? 0.05 : 0.62, 0.6);
    }
}

void lighthouse (Ink& ink, double x, double y, double high, double lamp)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (high / 200);
    ink.line *= 1 / std::sqrt (std::max (high / 200, 0.25)) * 0.8;
    // Tower in bands
    const double half0 = 32, half1 = 19;
    for (int i = 0; i < 5; ++i)
    {
        const double a = i / 5.0, b = (i + 1) / 5.0;
        ink.poly ({ { -mix (half0, half1, a), -150 * a },
                    { -mix (half0, half1, b), -150 * b },
                    { mix (half0, half1, b), -150 * b },
                    { mix (half0, half1, a), -150 * a } });
        i % 2 == 0 ? ink.fillAcross (-34, 0.66, 30, 1) : ink.fillAcross (-34, 0.1, 30, 0.42);
    }
    ink.poly ({ { -half0, 0 }, { -half1, -150 }, { half1, -150 }, { half0, 0 } });
    ink.outline (2.2);
    for (int i = 0; i < 3; ++i)
    {
        ink.box (-5, -48.0 - i * 38, 9, 15, 4);
        ink.shape (0.08, 1.2);
    }
    ink.box (-10, -26, 18, 26, 8);
    ink.shape (0.14, 1.6);
    ink.box (-27, -157, 54, 8);
    ink.shape (0.3);
    for (int i = 0; i <= 6; ++i)
        ink.penLine ({ { -26.0 + i * 8.7, -157 }, { -26.0 + i * 8.7, -168 } }, 1.4);
    ink.penLine ({ { -27, -168 }, { 27, -168 } }, 1.8);
    ink.box (-14, -184, 28, 27);
    ink.shape (0.3 + 0.68 * lamp, 2);
    ink.penLine ({ { -5, -184 }, { -5, -157 } }, 1.3);
    ink.penLine ({ { 5, -184 }, { 5, -157 } }, 1.3);
    ink.curve ({ { -19, -183 }, { -12, -196 }, { 0, -203 }, { 12, -196 }, { 19, -183 } });
    ink.shapeAcross (-18, 0.1, 18, 0.4);
    ink.penLine ({ { 0, -203 }, { 0, -214 } }, 2);
    if (lamp > 0)
        ink.glow (0, -170, 70, 70, 1, 0.55 * lamp);
}

void harbour (Ink& ink)
{
    sky (ink, 0.6, 0.96, 270, 51);
    ink.glow (470, 120, 190, 150, 1, 0.5);
    // Far coast, then the town climbing its hill on the left
    ink.curve ({ { -60, 262 }, { 80, 236 }, { 220, 250 }, { 420, 258 }, { 700, 262 }, { 700, 290 }, { -60, 290 } });
    ink.fill (0.72);
    ink.curve ({ { -80, 110 }, { 30, 150 }, { 130, 200 }, { 230, 250 }, { 300, 292 }, { 300, 330 }, { -80, 330 } });
    ink.shapeAcross (-60, 0.42, 300, 0.62);
    for (int row = 0; row < 3; ++row)
        for (int i = 0; i < 5 - row; ++i)
            house (ink, -34 + i * 58.0 + row * 12 - (2 - row) * 4,
                   196 + row * 0.0
                       + (row == 0   ? i * 22.0
                          : row == 1 ? 48 + i * 18.0
                                     : 98 + i * 6.0),
                   52, 38, 0.52 + 0.42 * chance (91, static_cast<std::uint32_t> (row * 7 + i)),
                   static_cast<std::uint32_t> (500 + row * 7 + i));
    ink.box (-40, 296, 322, 14);
    ink.shapeDown (296, 0.7, 310, 0.3);
}

void islet (Ink& ink)
{
    rock (ink, 470, 318, 240, 62, 15);
    lighthouse (ink, 476, 268, 190, 0.35);
    for (int i = 0; i < 6; ++i)
    {
        ink.box (430.0 - i * 9, 276.0 + i * 7, 22, 7);
        ink.shape (0.6 - 0.05 * i, 1.2);
    }
}

void jettyLong (Ink& ink, const Vista& vista)
{
    const auto deck = [&] (double X, double Z) { return vista.at (X, 1.7, Z); };
    for (double z = 9.5; z > 1.2; z -= 1.4)
        for (const double side : { -1.25, 1.25 })
        {
            const Point top = deck (side, z), foot = vista.at (side, 2.7, z);
            ink.limb ({ { top.x, top.y - 60 / z }, foot }, 34 / z, 0.2);
        }
    ink.poly ({ deck (-1.2, 1.1), deck (-1.2, 10), deck (1.2, 10), deck (1.2, 1.1) });
    ink.shapeDown (vista.y, 0.86, 520, 0.5);
    for (double z = 1.12; z < 10; z *= 1.075)
        ink.penLine ({ deck (-1.2, z), deck (1.2, z) }, 1.5, 0.1, 0.7);
    for (const double side : { -1.2, 1.2 })
    {
        const Point a = deck (side, 1.1), b = deck (side, 10);
        ink.poly ({ a, b, { b.x, b.y + 4 }, { a.x, a.y + 44 } });
        ink.shape (0.3, 1.6);
    }
}

void jettyEnd (Ink& ink, double deckY, double endX)
{
    for (double x = endX - 14; x > -60; x -= 92)
    {
        ink.limb ({ { x, deckY - 22 }, { x, deckY + 150 } }, 17, 0.24);
        ink.oval (x, deckY - 24, 10, 4);
        ink.shape (0.6, 1.6);
        ink.penLine ({ { x - 5, deckY + 10 }, { x - 4, deckY + 120 } }, 1.4, 0.55, 0.7);
    }
    ink.box (-60, deckY, endX + 60, 17);
    ink.shapeDown (deckY, 0.88, deckY + 17, 0.4);
    for (double x = -50; x < endX; x += 26)
        ink.penLine ({ { x, deckY + 2 }, { x + 1, deckY + 16 } }, 1.3);
    // A rope in swags between the posts
    for (double x = endX - 14; x > -60; x -= 92)
        ink.penLine ({ { x, deckY - 14 }, { x - 46, deckY + 2 - 4 }, { x - 92, deckY - 14 } }, 2.6, 0.75);
}

} // namespace shutterbeat::demo
