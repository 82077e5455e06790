#include "Sets.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

void house (Ink& ink, double x, double y, double w, double h, double tone, std::uint32_t seed)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    const double gable = w * (0.42 + 0.2 * chance (seed, 1));
    const int kind = static_cast<int> (chance (seed, 2) * 3);
    // Chimney, then the front with its gable
    ink.box (w * 0.16, -h - gable * 0.78, w * 0.12, gable * 0.6);
    ink.shape (tone * 0.7, 1.6);
    Points front{ { 0, 0 }, { 0, -h } };
    if (kind == 0)
        front.insert (front.end(), { { w / 2, -h - gable }, { w, -h } });
    else if (kind == 1)
        for (int i = 0; i < 4; ++i)
        {
            front.push_back ({ w * 0.125 * i, -h - gable * 0.3 * i });
            front.push_back ({ w * 0.125 * i, -h - gable * 0.3 * (i + 1) });
        }
    else
        front.insert (front.end(), { { w * 0.18, -h - gable * 0.3 },
                                     { w * 0.22, -h - gable * 0.75 },
                                     { w * 0.5, -h - gable },
                                     { w * 0.78, -h - gable * 0.75 },
                                     { w * 0.82, -h - gable * 0.3 },
                                     { w, -h } });
    if (kind == 1)
    {
        for (int i = 3; i >= 0; --i)
        {
            front.push_back ({ w - w * 0.125 * i, -h - gable * 0.3 * (i + 1) });
            front.push_back ({ w - w * 0.125 * i, -h - gable * 0.3 * i });
        }
    }
    front.push_back ({ w, 0 });
    ink.poly (front);
    ink.shapeAcross (0, tone * 0.8, w, std::min (1.0, tone * 1.12));
    ink.hatch (0, -h * 0.5, w * 0.3, h * 0.5, 7, 14, 0.1, 0.16, seed);
    for (int i = 0; i < 10; ++i)
    {
        const double bx = chance (seed, 20 + i) * w * 0.85, by = -chance (seed, 40 + i) * h;
        ink.box (bx, by, w * 0.09, 4);
        ink.outline (1, 0.3);
    }
    const double glass = tone > 0.6 ? 0.2 : 0.12;
    const int columns = w > 110 ? 3 : 2;
    const int rows = std::max (1, static_cast<int> (h / 95));
    const double ww = w / (columns * 1.75), wh = ww * 1.35;
    const auto window = [&] (double cx, double cy)
    {
        ink.box (cx - ww / 2 - 2, cy - wh / 2 - 2, ww + 4, wh + 4);
        ink.shape (0.93, 1.4);
        ink.box (cx - ww / 2 + 1, cy - wh / 2 + 1, ww - 2, wh - 2);
        ink.fillDown (cy - wh / 2, glass + 0.25, cy + wh / 2, glass);
        ink.penLine ({ { cx, cy - wh / 2 }, { cx, cy + wh / 2 } }, 1.8, 0.9);
        ink.penLine ({ { cx - ww / 2, cy - wh * 0.12 }, { cx + ww / 2, cy - wh * 0.12 } }, 1.8, 0.9);
        ink.box (cx - ww / 2 - 5, cy + wh / 2 + 1, ww + 10, 4);
        ink.shape (0.8, 1.2);
        if (chance (seed, 60u + static_cast<std::uint32_t> (cx + cy * 3 + 4000)) > 0.55)
            for (int i = 0; i < 5; ++i)
            {
                ink.oval (cx - ww * 0.4 + i * ww * 0.2, cy + wh / 2 - 3, ww * 0.13, 5);
                ink.shape (0.5 + 0.1 * (i % 3), 1);
            }
    };
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column)
            if (row > 0 || column != columns - 1)
                window (w * (column + 0.5) / columns, -wh * 1.1 - 26 - row * (h - wh * 0.7) / rows);
    window (w / 2, -h - gable * 0.34);
    const double doorX = w * (columns - 0.5) / columns;
    ink.box (doorX - ww * 0.45, -wh * 1.75, ww * 0.9, wh * 1.75, 5);
    ink.shapeAcross (doorX - ww, 0.16, doorX + ww, 0.4);
    ink.box (doorX - ww * 0.28, -wh * 1.55, ww * 0.56, wh * 0.6, 2);
    ink.outline (1.2);
    ink.oval (doorX + ww * 0.28, -wh * 0.8, 2, 2);
    ink.fill (0.9);
}

void lampPost (Ink& ink, double x, double y, double high)
{
    ink.limb ({ { x, y }, { x, y - high } }, 5, 0.16);
    ink.box (x - 8, y - 16, 16, 16, 2);
    ink.shape (0.16);
    ink.poly ({ { x - 9, y - high }, { x - 14, y - high - 30 }, { x + 14, y - high - 30 }, { x + 9, y - high } });
    ink.shapeAcross (x - 14, 0.5, x + 14, 0.95);
    ink.poly ({ { x - 17, y - high - 30 }, { x, y - high - 46 }, { x + 17, y - high - 30 } });
    ink.shape (0.14);
}

namespace
{

void cobbles (Ink& ink, double top, double bottom, double left, double right, std::uint32_t seed)
{
    std::uint32_t i = 0;
    for (double y = top; y < bottom;)
    {
        const double size = 5 + (y - top) * 0.085;
        for (double x = left + chance (seed, i) * size * 3; x < right; x += size * 4)
        {
            ++i;
            const double jx = (chance (seed, i) - 0.5) * size * 2;
            ink.arc (x + jx, y, size * 1.5, kPi * 1.1, kPi * 1.9);
            ink.stroke (1.1, 0.1, 0.3);
        }
        y += size * 0.95;
    }
}

/// A quarter of a wall running away from the camera, with the same windows as a front has.
void wallAway (Ink& ink, const Vista& vista, double side, double z0, double z1, double high, double tone, std::uint32_t seed)
{
    const auto at = [&] (double Y, double Z) { return vista.at (side, Y, Z); };
    ink.poly ({ at (2, z0), at (2 - high, z0), at (2 - high, z1), at (2, z1) });
    const Point near = at (0, z0), far = at (0, z1);
    ink.shapeAcross (near.x, tone * 0.7, far.x, std::min (1.0, tone * 1.1));
    const double roof = 1.1 + chance (seed, 3);
    const Point ridgeNear = vista.at (side * 1.5, 2 - high - roof, z0), ridgeFar = vista.at (side * 1.5, 2 - high - roof, z1);
    ink.poly ({ at (2 - high, z0), ridgeNear, ridgeFar, at (2 - high, z1) });
    ink.shape (tone * 0.45, 1.8);
    const int columns = 3, rows = static_cast<int> (high / 1.5);
    for (int c = 0; c < columns; ++c)
        for (int r = 0; r < rows; ++r)
        {
            const double a = z0 + (z1 - z0) * (c + 0.25) / columns, b = z0 + (z1 - z0) * (c + 0.72) / columns;
            const double low = 2 - 0.55 - r * 1.45, up = low - 0.85;
            const bool door = r == 0 && c == 1;
            ink.poly ({ at (door ? 2 : low, a), at (up, a), at (up, b), at (door ? 2 : low, b) });
            ink.shape (door ? 0.15 : 0.22, 1.6);
            if (! door)
            {
                const double mid = (a + b) / 2;
                ink.penLine ({ at (low, mid), at (up, mid) }, 1.6, 0.9);
                ink.penLine ({ at ((low + up) / 2, a), at ((low + up) / 2, b) }, 1.4, 0.9);
                ink.poly ({ at (low + 0.12, a), at (low, a), at (low, b), at (low + 0.12, b) });
                ink.shape (0.85, 1);
            }
        }
}

} // namespace

void longStreet (Ink& ink, const Vista& vista)
{
    sky (ink, 0.72, 0.96, vista.y + 20, 11);
    // At the far end: the sea, and the lighthouse on its rock
    ink.box (-40, vista.y - 6, 720, 60);
    ink.fillDown (vista.y - 6, 0.66, vista.y + 54, 0.5);
    lighthouse (ink, vista.x + 18, vista.y + 4, 66, 0.3);
    ink.poly ({ { -60, 520 }, { vista.x - 40, vista.y + 30 }, { vista.x + 40, vista.y + 30 }, { 700, 520 } });
    ink.fillDown (vista.y + 30, 0.78, 520, 0.5);
    ink.poly ({ { -800, 520 }, { vista.x - 60, vista.y + 28 }, { vista.x + 60, vista.y + 28 }, { 1400, 520 } });
    ink.fillDown (vista.y + 30, 0.8, 520, 0.52);
    for (int i = 0; i < 28; ++i)
    {
        const double z = 1.4 * std::pow (1.125, i);
        const double y = vista.at (0, 2, z).y;
        if (y < 530)
            ink.penLine ({ vista.at (-2.9, 2, z), vista.at (2.9, 2, z) }, 1, 0.1, 0.22);
    }
    for (int i = -7; i <= 7; ++i)
        ink.penLine ({ vista.at (i * 0.42, 2, 1.6), vista.at (i * 0.42, 2, 28) }, 1, 0.1, 0.2);
    const double tones[] = { 0.62, 0.82, 0.5, 0.75, 0.9, 0.56 };
    for (int i = 5; i >= 0; --i)
    {
        const double z0 = i == 0 ? 1.0 : 1.0 + i * 3.4, z1 = 1.0 + (i + 1) * 3.4;
        wallAway (ink, vista, -3, z0, z1, 3.8 + 1.4 * chance (77, static_cast<std::uint32_t> (i)), tones[i],
                  static_cast<std::uint32_t> (100 + i));
        wallAway (ink, vista, 3.1, z0, z1, 3.5 + 1.7 * chance (78, static_cast<std::uint32_t> (i)), tones[5 - i],
                  static_cast<std::uint32_t> (200 + i));
    }
    for (const double side : { -1.0, 1.0 })
    {
        ink.poly (
            { vista.at (side * 3, 2, 1), vista.at (side * 2.3, 2, 1), vista.at (side * 2.3, 2, 24), vista.at (side * 3, 2, 24) });
        ink.shape (0.74, 1.2);
    }
    // Washing across the street
    Points rope;
    for (int i = 0; i <= 10; ++i)
        rope.push_back ({ 150 + 26.0 * i, 118 + 16 * std::sin (i * kPi / 10) });
    ink.penLine (rope, 1.2);
}

void streetStrip (Ink& ink, double width, double ground, std::uint32_t seed)
{
    sky (ink, 0.74, 0.95, ground, seed);
    double x = 0;
    std::uint32_t i = 0;
    const double widths[] = { 168, 132, 150, 186, 144, 160 };
    for (; x < width - 1; ++i)
    {
        double w = widths[(i + seed) % 6];
        if (width - x - w < 110)
            w = width - x;
        house (ink, x, ground - 16, w, 190 + 90 * chance (seed, i), 0.48 + 0.42 * chance (seed + 5, i), seed * 31 + i);
        x += w;
    }
    // The same first front again beyond the seam, so that margins match
    house (ink, width, ground - 16, widths[seed % 6], 190 + 90 * chance (seed, 0), 0.48 + 0.42 * chance (seed + 5, 0), seed * 31);
    ink.box (-40, ground - 17, width + 80, 20);
    ink.shapeDown (ground - 17, 0.85, ground, 0.66, 1.6);
    for (double at = 0; at < width; at += 48)
        ink.penLine ({ { at, ground - 16 }, { at - 8, ground + 1 } }, 1, 0.1, 0.5);
    ink.box (-40, ground + 3, width + 80, 540 - ground);
    ink.fillDown (ground, 0.56, 520, 0.4);
    cobbles (ink, ground + 12, 520, -40, width + 40, seed);
    for (double at = 120; at < width; at += 420)
        lampPost (ink, at, ground - 6, 150);
}

void hillside (Ink& ink)
{
    sky (ink, 0.66, 0.97, 300, 21);
    ink.box (-40, 236, 720, 300);
    ink.fillDown (236, 0.72, 356, 0.5);
    for (int i = 0; i < 16; ++i)
        ink.penLine (
            { { 230.0 + 30 * chance (3, i) + 22 * i, 246.0 + 5 * i }, { 262.0 + 30 * chance (3, i) + 22 * i, 246.0 + 5 * i } }, 1.2,
            0.95, 0.6);
    rock (ink, 560, 250, 90, 22, 8);
    lighthouse (ink, 566, 238, 84, 0.4);
    for (int i = 0; i < 5; ++i)
        house (ink, 60 + i * 92.0, 208 + i * 44.0 + 24, 84, 74, 0.5 + 0.42 * chance (61, i), static_cast<std::uint32_t> (301 + i));
    ink.curve ({ { -80, 175 }, { 60, 224 }, { 240, 296 }, { 440, 384 }, { 700, 470 }, { 720, 560 }, { -80, 560 } });
    ink.shapeDown (180, 0.74, 500, 0.42);
    for (int i = 0; i < 26; ++i)
    {
        const double x = -30 + 27.0 * i, y = 190 + x * 0.43 + chance (9, i) * 120;
        ink.penLine ({ { x, y + 22 }, { x + 26, y + 34 } }, 1.2, 0.1, 0.3);
    }
    ink.curve ({ { -60, 400 }, { 60, 396 }, { 190, 452 }, { 260, 540 }, { -60, 540 } });
    ink.shapeDown (390, 0.32, 520, 0.12);
    for (int i = 0; i < 40; ++i)
    {
        const double x = -30 + 6.4 * i, y = 400 + std::max (0.0, x - 60) * 0.45;
        ink.penLine ({ { x, y + 6 }, { x + 3, y - 8 }, { x + 8 * chance (4, i), y - 16 - 10 * chance (5, i) } }, 1.6, 0.12);
    }
}

void market (Ink& ink)
{
    sky (ink, 0.78, 0.95, 260, 33);
    for (int i = 0; i < 5; ++i)
        house (ink, -30 + i * 142.0, 300, 138, 150 + 60 * chance (70, i), 0.6 + 0.3 * chance (71, i),
               static_cast<std::uint32_t> (401 + i));
    ink.box (-40, 298, 720, 240);
    ink.fillDown (298, 0.72, 520, 0.45);
    cobbles (ink, 312, 520, -40, 680, 44);
    // Two stalls with striped awnings
    const double stalls[] = { 60, 430 };
    for (int s = 0; s < 2; ++s)
    {
        const double x = stalls[s];
        for (const double post : { x + 4, x + 172 })
            ink.limb ({ { post, 346 }, { post, 200 } }, 5, 0.35);
        ink.box (x - 4, 286, 184, 58);
        ink.shapeDown (286, 0.5, 344, 0.3);
        for (int i = 1; i < 6; ++i)
            ink.penLine ({ { x - 4 + i * 30.0, 288 }, { x - 4 + i * 30.0, 342 } }, 1.2);
        for (int i = 0; i < 22; ++i)
        {
            if (s == 0)

                ink.oval (x + 8 + (i % 11) * 16.0, 284 - (i / 11) * 10.0, 9, 8.5);
            else
                ink.curve ({ { x + 4 + (i % 11) * 16.0, 284.0 - (i / 11) * 9 },
                             { x + 14 + (i % 11) * 16.0, 276.0 - (i / 11) * 9 },
                             { x + 28 + (i % 11) * 16.0, 285.0 - (i / 11) * 9 },
                             { x + 14 + (i % 11) * 16.0, 289.0 - (i / 11) * 9 } });
            ink.shape (s == 0 ? 0.42 + 0.2 * chance (81, i) : 0.72 + 0.2 * chance (82, i), 1.4);
        }
        for (int i = 0; i < 8; ++i)
        {
            const double a = x - 12 + i * 25.0;
            ink.poly ({ { x + 4 + i * 21.5, 176 }, { x + 4 + (i + 1) * 21.5, 176 }, { a + 25, 218 }, { a, 218 } });
            ink.shape (i % 2 == 0 ? 0.93 : 0.34, 1.5);
            ink.arc (a + 12.5, 218, 12.5, 0, kPi);
            ink.shape (i % 2 == 0 ? 0.9 : 0.3, 1.5);
        }
    }
}

} // namespace shutterbeat::demo
