#include "Sets.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

void shelf (Ink& ink, double x, double y, double w, std::uint32_t seed)
{
    for (int i = 0; i * 26 < w - 20; ++i)
    {
        const double px = x + 14 + i * 26.0, kind = chance (seed, static_cast<std::uint32_t> (i));
        const double tone = 0.35 + 0.5 * chance (seed + 1, static_cast<std::uint32_t> (i));
        if (kind < 0.35)
            ink.box (px - 9, y - 30, 19, 30, 4);
        else if (kind < 0.65)
            ink.curve ({ { px - 12, y }, { px - 13, y - 12 }, { px, y - 19 }, { px + 13, y - 12 }, { px + 12, y } });
        else
            ink.curve ({ { px - 8, y },
                         { px - 10, y - 16 },
                         { px - 4, y - 26 },
                         { px - 4, y - 38 },
                         { px + 4, y - 38 },
                         { px + 4, y - 26 },
                         { px + 10, y - 16 },
                         { px + 8, y } });
        ink.shapeAcross (px - 12, tone * 0.7, px + 12, std::min (1.0, tone * 1.25), 1.6);
    }
    ink.box (x, y, w, 8);
    ink.shapeDown (y, 0.55, y + 8, 0.25);
    for (const double at : { x + 16, x + w - 16 })
    {
        ink.poly ({ { at - 3, y + 8 }, { at + 3, y + 8 }, { at, y + 24 } });
        ink.shape (0.3, 1.4);
    }
}

void tiles (Ink& ink, const Vista& vista, double light, double dark)
{
    for (int row = 0; row < 12; ++row)
        for (int column = -9; column < 9; ++column)
        {
            const double z0 = 1.5 + row * 0.42, z1 = z0 + 0.42, x0 = column * 0.42, x1 = x0 + 0.42;
            ink.poly ({ vista.at (x0, 1.5, z0), vista.at (x0, 1.5, z1), vista.at (x1, 1.5, z1), vista.at (x1, 1.5, z0) });
            ink.fill (((row + column) % 2 == 0 ? light : dark) * (1 - row * 0.025));
        }
}

void roomWindow (Ink& ink, double x, double y, double w, double h, double top, double low)
{
    ink.box (x - 8, y - 8, w + 16, h + 16);
    ink.shape (0.42);
    ink.box (x, y, w, h);
    ink.shapeDown (y, top, y + h, low);
    ink.box (x + w / 2 - 3, y, 6, h);
    ink.shape (0.5, 1.2);
    ink.box (x, y + h * 0.42, w, 6);
    ink.shape (0.5, 1.2);
    ink.box (x - 16, y + h + 8, w + 32, 10);
    ink.shape (0.6);
}

void curtain (Ink& ink, double x, double y, double w, double h, double side)
{
    ink.curve ({ { x, y },
                 { x + side * w, y },
                 { x + side * w * 0.8, y + h * 0.4 },
                 { x + side * w * 0.32, y + h * 0.62 },
                 { x + side * w * 0.5, y + h },
                 { x, y + h } });
    ink.shapeDown (y, 0.96, y + h, 0.74, 1.6);
    for (int i = 1; i < 4; ++i)
        ink.penLine ({ { x + side * w * 0.22 * i, y + 4 },
                       { x + side * w * 0.17 * i, y + h * 0.4 },
                       { x + side * w * 0.07 * i, y + h * 0.62 } },
                     1, 0.45);
}

} // namespace

void bakery (Ink& ink)
{
    ink.box (-40, -40, 720, 420);
    ink.fillAcross (0, 0.5, 640, 0.78);
    // Wallpaper sprigs
    for (int i = 0; i < 90; ++i)
    {
        const double x = -20 + (i % 15) * 48.0 + (i / 15 % 2) * 24, y = -10 + (i / 15) * 56.0;
        ink.penLine ({ { x, y + 8 }, { x + 1, y }, { x - 4, y - 5 } }, 1.2, 0.3, 0.5);
        ink.oval (x + 4, y - 4, 3, 3);
        ink.fill (0.92, 0.5);
    }
    ink.box (-40, 318, 720, 12);
    ink.shape (0.36);
    ink.box (-40, 328, 720, 200);
    ink.fill (0.4);
    tiles (ink, { 300, 130, 420 }, 0.8, 0.36);
    // Oven of bricks with its fire
    ink.curve ({ { -40, 330 }, { -40, 110 }, { 20, 90 }, { 92, 96 }, { 140, 130 }, { 148, 330 } });
    ink.shapeAcross (-40, 0.3, 150, 0.6);
    for (int row = 0; row < 9; ++row)
        for (int i = 0; i < 5; ++i)
        {
            ink.box (-46 + i * 38.0 + (row % 2) * 18, 118 + row * 23.0, 36, 21, 3);
            ink.outline (1.1, 0.35);
        }
    ink.curve ({ { 10, 300 }, { 10, 214 }, { 60, 186 }, { 108, 214 }, { 108, 300 } });
    ink.shape (0.08, 3);
    ink.glow (60, 288, 58, 54, 1, 0.75);
    ink.box (50, -40, 34, 140);
    ink.shapeAcross (50, 0.2, 84, 0.5);
    roomWindow (ink, 446, 60, 124, 150, 0.98, 0.9);
    curtain (ink, 438, 50, 52, 176, 1);
    curtain (ink, 578, 50, 52, 176, -1);
    shelf (ink, 186, 108, 208, 5);
    shelf (ink, 186, 190, 208, 6);
    // Shaft of daylight
    ink.poly ({ { 446, 60 }, { 570, 60 }, { 420, 480 }, { 200, 480 } });
    ink.fill (1, 0.1);
    for (int i = 0; i < 4; ++i)
    {
        ink.penLine ({ { 604, 60.0 + i * 26 }, { 622, 60.0 + i * 26 } }, 3);
        ink.oval (622, 82.0 + i * 26, 14, 12);
        ink.shapeBall (618, 78.0 + i * 26, 18, 0.85, 0.3);
    }
}

void bakeryTable (Ink& ink, double y)
{
    for (const double x : { 130.0, 500.0 })
    {
        ink.box (x, y + 18, 18, 190);
        ink.shapeAcross (x, 0.2, x + 18, 0.45);
    }
    ink.poly ({ { 100, y - 12 }, { 540, y - 12 }, { 572, y + 16 }, { 70, y + 16 } });
    ink.shapeDown (y - 12, 0.9, y + 16, 0.66);
    ink.box (70, y + 16, 502, 13);
    ink.shape (0.4);
    for (int i = 0; i < 7; ++i)
        ink.penLine ({ { 120 + i * 60.0, y - 4 }, { 150 + i * 60.0, y + 3 } }, 1, 0.4, 0.5);
}

void watchRoom (Ink& ink)
{
    ink.box (-40, -40, 720, 560);
    ink.fillAcross (0, 0.26, 640, 0.4);
    // Round wall of stones
    for (int row = 0; row < 11; ++row)
        for (int i = 0; i < 11; ++i)
        {
            const double bend = std::pow ((i - 5) / 6.0, 2) * 14;
            ink.box (-60 + i * 68.0 + (row % 2) * 32, -30 + row * 38.0 + bend, 64, 34, 6);
            ink.fill (0.3 + 0.13 * chance (17, static_cast<std::uint32_t> (row * 11 + i)), 1, true);
            ink.outline (1.2, 0.6);
        }
    ink.box (-40, 372, 720, 160);
    ink.fillDown (372, 0.3, 520, 0.2);
    for (int i = -9; i <= 9; ++i)
        ink.penLine ({ { 320 + i * 44.0, 372 }, { 320 + i * 92.0, 520 } }, 1.6);
    roomWindow (ink, 92, 84, 108, 138, 0.16, 0.34);
    for (std::uint32_t i = 0; i < 9; ++i)
    {
        ink.oval (98 + chance (6, i) * 96, 90 + chance (7, i) * 70, 1.3, 1.3);
        ink.fill (0.95);
    }
    ink.oval (170, 116, 14, 14);
    ink.fill (0.9);
    ink.oval (164, 112, 13, 13);
    ink.fill (0.2);
    // A chart on the wall, a lantern on a hook, a spiral stair
    ink.poly ({ { 420, 76 }, { 546, 70 }, { 550, 164 }, { 424, 168 } });
    ink.shape (0.7);
    ink.penLine ({ { 436, 140 }, { 460, 110 }, { 484, 128 }, { 506, 92 }, { 536, 100 } }, 1.8, 0.2);
    ink.oval (512, 132, 13, 13);
    ink.outline (1.3);
    ink.penLine ({ { 512, 116 }, { 512, 148 } }, 1.2, 0.2);
    ink.penLine ({ { 496, 132 }, { 528, 132 } }, 1.2, 0.2);
    for (int i = 0; i < 7; ++i)
    {
        ink.poly ({ { 586.0 - i * 4, 372.0 - i * 46 },
                    { 690, 372.0 - i * 46 },
                    { 690, 356.0 - i * 46 },
                    { 580.0 - i * 4, 362.0 - i * 46 } });
        ink.shape (0.42, 1.6);
    }
}

void galleryRail (Ink& ink)
{
    ink.box (-40, 392, 720, 150);
    ink.shapeDown (392, 0.5, 520, 0.2);
    for (int i = 0; i < 12; ++i)
        ink.limb ({ { -20 + i * 62.0, 392 }, { -20 + i * 62.0, 300 } }, 6, 0.28);
    ink.limb ({ { -60, 300 }, { 320, 296 }, { 700, 300 } }, 9, 0.36);
    ink.limb ({ { -60, 346 }, { 320, 343 }, { 700, 346 } }, 4, 0.3);
}

void partyRoom (Ink& ink)
{
    watchRoom (ink);
    ink.box (-40, -40, 720, 560);
    ink.fill (0.95, 0.2);
    // Paper chains and flags from wall to wall
    Points rope;
    for (int i = 0; i <= 20; ++i)
        rope.push_back ({ -30 + i * 35.0, 34 + 34 * std::sin (i * kPi / 10) * std::sin (i * kPi / 10) });
    ink.penLine (rope, 1.6);
    for (int i = 0; i < 20; ++i)
    {
        const Point a = rope[static_cast<std::size_t> (i)];
        ink.poly ({ { a.x, a.y }, { a.x + 26, a.y + 3 }, { a.x + 11, a.y + 30 } });
        ink.shape (i % 3 == 0 ? 0.95 : i % 3 == 1 ? 0.2 : 0.6, 1.5);
    }
}

void candleLight (Ink& ink, double x, double y, double reach, double dark)
{
    Ink::Hold hold (ink);
    cairo_pattern_t* pattern = cairo_pattern_create_radial (x, y, reach * 0.12, x, y, reach);
    cairo_pattern_add_color_stop_rgba (pattern, 0, 0, 0, 0, 0);
    cairo_pattern_add_color_stop_rgba (pattern, 0.45, 0, 0, 0, dark * 0.55);
    cairo_pattern_add_color_stop_rgba (pattern, 1, 0, 0, 0, dark);
    cairo_set_source (ink.cr, pattern);
    cairo_paint (ink.cr);
    cairo_pattern_destroy (pattern);
}

} // namespace shutterbeat::demo
