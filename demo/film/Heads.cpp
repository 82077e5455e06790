#include "Figures.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

struct EyeLook
{
    double x, y, rx, ry, lid;
};

/// One eye: white, pupil with a light in it, upper lid and lashes.
void eye (Ink& ink, const EyeLook& e, const Mood& mood)
{
    const double open = std::clamp (mood.lids, 0.0, 1.25);
    const double ry = e.ry * std::max (open, 0.08);
    if (open > 0.12)
    {
        ink.oval (e.x, e.y, e.rx, ry);
        ink.shape (0.97, 1.4);
        Ink::Hold hold (ink);
        ink.oval (e.x, e.y, e.rx, ry);
        cairo_clip (ink.cr);
        const double px = e.x + mood.lookX * e.rx * 0.42, py = e.y + mood.lookY * e.ry * 0.45;
        ink.oval (px, py, e.rx * 0.5, e.rx * 0.55);
        ink.fill (0.06);
        ink.oval (px - e.rx * 0.17, py - e.rx * 0.2, e.rx * 0.15, e.rx * 0.15);
        ink.fill (1);
    }
    ink.penLine ({ { e.x - e.rx * 1.15, e.y + (1 - open) * e.ry * 0.3 },
                   { e.x, e.y - ry * 1.05 + (open < 0.12 ? e.ry * 0.4 : 0) },
                   { e.x + e.rx * 1.15, e.y + (1 - open) * e.ry * 0.3 } },
                 2.6, e.lid);
}

void brow (Ink& ink, double x, double y, double half, double inward, const Mood& mood, double width, double grey)
{
    const double lift = -mood.brows * 7;
    // An unhappy mouth draws the inner ends up; a frown pushes them down.
    const double grief = mood.brows >= 0 && mood.smile < 0 ? -mood.smile * 5 : 0;
    const double tilt = (mood.brows < 0 ? -mood.brows * 5 : -mood.brows * 2) - grief;
    const double inner = inward > 0 ? half : -half;
    ink.penLine ({ { x - inner, y + lift * 0.7 + grief * 0.8 }, { x, y + lift - 3 }, { x + inner, y + lift + tilt } }, width, grey);
}

/// A mouth from a closed curve to a round call.
void mouth (Ink& ink, double x, double y, double half, const Mood& mood)
{
    const double lift = mood.smile * half * 0.45;
    if (mood.open < 0.08)
    {
        ink.penLine ({ { x - half, y - lift },
                       { x - half * 0.4, y + lift * 0.5 },
                       { x + half * 0.4, y + lift * 0.5 },
                       { x + half, y - lift } },
                     2.6);
        return;
    }
    const double drop = mood.open * half * 1.3;
    const double wide = half * (1 - 0.35 * mood.open * (mood.smile < 0.3 ? 1 : 0.2));
    ink.curve ({ { x - wide, y - lift },
                 { x, y - lift * 0.2 - 2 },
                 { x + wide, y - lift },
                 { x + wide * 0.7, y + drop * 0.7 },
                 { x, y + drop },
                 { x - wide * 0.7, y + drop * 0.7 } });
    ink.shape (0.1, 2);
    ink.oval (x, y + drop * 0.72, wide * 0.5, drop * 0.2);
    ink.fill (0.42);
}

void blush (Ink& ink, double x, double y, double r, double alpha)
{
    ink.glow (x, y, r, r * 0.8, 0.42, alpha);
}

void icingOn (Ink& ink, double amount)
{
    if (amount <= 0)
        return;
    // What is left of a tier sits on the cap; cream runs down as the amount grows.
    ink.curve ({ { -30, -96 }, { -32, -66 }, { 0, -58 }, { 36, -66 }, { 32, -98 }, { 0, -104 } });
    ink.shapeAcross (-32, 0.62, 36, 0.9, 2);
    ink.curve ({ { -32, -96 },
                 { -26, -80 },
                 { -18, -88 },
                 { -8, -74 },
                 { 2, -86 },
                 { 12, -76 },
                 { 22, -88 },
                 { 30, -80 },
                 { 34, -98 },
                 { 0, -108 } });
    ink.shape (0.98, 1.8);
    ink.curve ({ { -50, -34 },
                 { -46, -58 },
                 { -26, -72 },
                 { 2, -76 },
                 { 34, -70 },
                 { 52, -52 },
                 { 54, -30 },
                 { 49, -22 + 16 * amount },
                 { 42, -32 },
                 { 33, -27 + 5 * amount },
                 { 24, -35 },
                 { 14, -31 + 4 * amount },
                 { 6, -37 },
                 { -6, -32 + 4 * amount },
                 { -16, -37 },
                 { -26, -28 + 8 * amount },
                 { -34, -32 },
                 { -42, -22 + 34 * amount },
                 { -47, -24 } });
    ink.shapeDown (-76, 1.0, 20, 0.84, 2);
    ink.penLine ({ { -30, -58 }, { -6, -66 }, { 16, -64 } }, 1.6, 0.6);
    for (int i = 0; i < 4; ++i)
    {
        ink.oval (-26 + 20.0 * i, -50 + (i % 2) * 5, 3.6, 3.6);
        ink.shape (0.22, 1.2);
    }
    ink.curve ({ { -30, 36 }, { -22, 26 }, { -10, 30 }, { -14, 42 }, { -24, 44 } });
    ink.shape (0.97, 1.6);
    ink.oval (23, 4, 6, 4.5);
    ink.shape (0.99, 1.4);
    ink.oval (4, -113, 9.5, 9.5);
    ink.shapeBall (1, -116, 11, 0.6, 0.12, 1.8);
    ink.penLine ({ { 6, -121 }, { 12, -132 }, { 21, -135 } }, 1.8);
}

} // namespace

void bakerHead (Ink& ink, const Mood& mood)
{
    // Hair, bun and neck behind
    ink.oval (-44, -8, 19, 22);
    ink.shapeBall (-50, -14, 26, 0.38, 0.16);
    ink.oval (-2, -8, 50, 50);
    ink.shapeBall (-10, -20, 62, 0.34, 0.14);
    // Face
    ink.curve ({ { -34, -22 }, { 0, -38 }, { 38, -20 }, { 44, 8 }, { 34, 38 }, { 8, 52 }, { -20, 44 }, { -36, 14 } });
    ink.shapeBall (12, -6, 66, 0.93, 0.7);
    blush (ink, -12, 18, 17, 0.42);
    blush (ink, 34, 18, 13, 0.42);
    eye (ink, { -6, -4, 9, 11, 0.07 }, mood);
    eye (ink, { 25, -4, 8, 11, 0.07 }, mood);
    brow (ink, -8, -22, 11, 1, mood, 3, 0.12);
    brow (ink, 27, -22, 10, -1, mood, 3, 0.12);
    ink.penLine ({ { 13, 2 }, { 20, 13 }, { 12, 17 } }, 2.2);
    mouth (ink, 11, 30, 14, mood);
    ink.penLine ({ { -30, -14 }, { -26, 0 }, { -30, 10 } }, 3, 0.2);
    // Frilled cap
    if (mood.hat)
    {
        ink.curve ({ { -50, -24 },
                     { -54, -52 },
                     { -30, -78 },
                     { 4, -84 },
                     { 38, -72 },
                     { 52, -46 },
                     { 48, -26 },
                     { 20, -38 },
                     { -10, -40 },
                     { -34, -32 } });
        ink.shapeDown (-86, 0.99, -24, 0.8);
        Points frill;
        for (int i = 0; i <= 18; ++i)
            frill.push_back ({ -52 + i * 5.7, -28 - 9 * std::sin (i * kPi / 18) + (i % 2 == 0 ? 4.5 : -2.0) });
        ink.curve (frill, false);
        ink.stroke (7.5, 0.07);
        ink.curve (frill, false);
        ink.stroke (4.5, 0.97);
        ink.penLine ({ { -28, -70 }, { -20, -56 }, { -22, -44 } }, 1.3, 0.45);
        ink.penLine ({ { 14, -78 }, { 14, -60 }, { 18, -48 } }, 1.3, 0.45);
    }
}

void keeperHead (Ink& ink, const Mood& mood)
{
    ink.oval (-36, 4, 9, 13);
    ink.shape (0.72);
    ink.curve ({ { -36, -30 }, { 4, -42 }, { 38, -24 }, { 40, 10 }, { 24, 44 }, { -16, 46 }, { -36, 18 } });
    ink.shapeBall (10, -8, 66, 0.86, 0.56);
    ink.hatch (-34, -4, 18, 34, 5, 6, 0.3, 0.35, 5);
    eye (ink, { -5, -8, 8, 9.5, 0.07 }, mood);
    eye (ink, { 24, -8, 7, 9.5, 0.07 }, mood);
    ink.penLine ({ { -14, 4 }, { -6, 7 }, { 2, 5 } }, 1.4, 0.3);
    blush (ink, -14, 14, 15, 0.4);
    // Beard before mouth, so that the mouth opens inside it
    const double drop = mood.open * 9;
    ink.curve ({ { -38, 4 },
                 { -30, 22 },
                 { -8, 18 },
                 { 12, 24 },
                 { 30, 18 },
                 { 42, 4 },
                 { 44, 34 },
                 { 34, 60 + drop },
                 { 10, 76 + drop },
                 { -18, 66 + drop },
                 { -38, 40 } });
    ink.shapeDown (0, 0.98, 80, 0.72);
    for (int i = 0; i < 9; ++i)
    {
        const double x = -26 + i * 7.5;
        ink.penLine ({ { x, 34 }, { x + 2, 46 + drop * 0.6 }, { x + 4 - i * 0.6, 57 + drop - std::abs (i - 4) * 2.0 } }, 1.2, 0.45);
    }
    mouth (ink, 11, 34, 12, mood);
    ink.curve ({ { 12, 18 },
                 { 28, 14 },
                 { 44, 22 + mood.smile * -5 },
                 { 54, 18 - mood.smile * 9 },
                 { 44, 34 },
                 { 26, 34 },
                 { 12, 27 },
                 { -4, 34 },
                 { -24, 34 },
                 { -36, 19 - mood.smile * 9 },
                 { -24, 22 + mood.smile * -4 },
                 { -6, 14 } });
    ink.shapeDown (12, 1, 36, 0.82);
    ink.oval (16, 9, 11, 9);
    ink.shapeBall (13, 6, 13, 0.9, 0.55);
    brow (ink, -7, -23, 12, 1, mood, 7.5, 0.07);
    brow (ink, -7, -23, 11, 1, mood, 4.6, 0.94);
    brow (ink, 26, -23, 10, -1, mood, 7.5, 0.07);
    brow (ink, 26, -23, 9, -1, mood, 4.6, 0.94);
    if (mood.icing > 0)
        icingOn (ink, mood.icing);
    else if (mood.hat)
    {
        ink.curve ({ { -44, -32 }, { -46, -58 }, { -14, -74 }, { 26, -72 }, { 50, -56 }, { 44, -34 } });
        ink.shapeDown (-76, 0.3, -30, 0.12);
        ink.curve ({ { -42, -44 }, { 0, -52 }, { 42, -44 }, { 46, -31 }, { 0, -38 }, { -42, -30 } });
        ink.shape (0.2);
        ink.curve ({ { 2, -38 }, { 40, -38 }, { 64, -22 }, { 36, -26 } });
        ink.shape (0.1);
        ink.penLine ({ { 12, -34 }, { 38, -34 }, { 54, -26 } }, 1.6, 0.6);
        ink.penLine ({ { 16, -66 }, { 16, -52 } }, 2.2, 0.9);
        ink.penLine ({ { 9, -57 }, { 16, -52 }, { 23, -57 } }, 2.2, 0.9);
        ink.penLine ({ { 11, -63 }, { 21, -63 } }, 2, 0.9);
    }
}

void drawHelmet (Ink& ink)
{
    ink.curve ({ { -46, -26 }, { -42, -66 }, { -18, -98 }, { 6, -104 }, { 28, -96 }, { 44, -64 }, { 48, -28 }, { 0, -38 } });
    ink.shapeAcross (-46, 0.13, 50, 0.36);
    ink.curve ({ { -58, -20 }, { -46, -32 }, { 0, -42 }, { 46, -32 }, { 62, -20 }, { 0, -30 } });
    ink.shape (0.16);
    ink.oval (4, -104, 6, 7);
    ink.shape (0.85);
    ink.curve ({ { 10, -74 }, { 22, -62 }, { 10, -48 }, { -2, -62 } });
    ink.shape (0.9, 1.6);
}

void constableHead (Ink& ink, const Mood& mood)
{
    ink.oval (-36, 2, 8, 12);
    ink.shape (0.72);
    if (! mood.hat)
    {
        // The bald head that the helmet hid, and one proud hair.
        ink.oval (2, -28, 40, 30);
        ink.shapeBall (-6, -44, 46, 0.98, 0.74);
        ink.penLine ({ { 0, -57 }, { 2, -70 }, { 10, -76 }, { 14, -70 } }, 2);
    }
    ink.curve ({ { -34, -32 }, { 4, -40 }, { 40, -28 }, { 40, 6 }, { 40, 40 }, { 14, 56 }, { -18, 46 }, { -34, 16 } });
    ink.fillBall (12, -8, 66, 0.92, 0.66, true);
    mood.hat ? ink.outline() : ink.outline (1.2, 0.5);
    blush (ink, -10, 16, 15, 0.4);
    eye (ink, { -4, -8, 8, 9, 0.07 }, mood);
    eye (ink, { 25, -8, 7, 9, 0.07 }, mood);
    brow (ink, -6, -23, 11, 1, mood, 4.5, 0.1);
    brow (ink, 27, -23, 9, -1, mood, 4.5, 0.1);
    ink.penLine ({ { 14, -4 }, { 26, 10 }, { 14, 13 } }, 2.2);
    mouth (ink, 13, 36, 12, mood);
    const double curl = 4 + 5 * mood.smile;
    ink.curve ({ { 14, 18 },
                 { 30, 18 },
                 { 46, 22 - curl },
                 { 58, 12 - curl },
                 { 48, 29 },
                 { 28, 29 },
                 { 14, 24 },
                 { -2, 29 },
                 { -20, 29 },
                 { -32, 12 - curl },
                 { -18, 22 - curl },
                 { -2, 18 } });
    ink.shape (0.12, 1.6);
    ink.penLine ({ { 6, 48 }, { 14, 51 }, { 22, 48 } }, 1.5, 0.3);
    if (mood.hat)
    {
        drawHelmet (ink);
        ink.penLine ({ { -36, -20 }, { -32, 18 }, { -16, 44 }, { 8, 57 } }, 2.4, 0.1);
    }
}

void dogHead (Ink& ink, const Mood& mood, double ears, double tongue)
{
    const double lift = ears * 26;
    // Far ear, skull with a patch, muzzle
    ink.curve ({ { 10, -34 }, { 26, -44 - lift * 0.6 }, { 40, -28 - lift }, { 34, -8 - lift * 0.9 }, { 20, -18 } });
    ink.shape (0.55);
    ink.curve ({ { -36, -12 }, { -20, -38 }, { 10, -40 }, { 30, -24 }, { 34, 2 }, { 20, 26 }, { -10, 32 }, { -34, 16 } });
    ink.shapeBall (0, -12, 58, 0.98, 0.76);
    {
        Ink::Hold hold (ink);
        ink.curve ({ { -36, -12 }, { -20, -38 }, { 10, -40 }, { 30, -24 }, { 34, 2 }, { 20, 26 }, { -10, 32 }, { -34, 16 } });
        cairo_clip (ink.cr);
        ink.oval (-6, -12, 18, 21);
        ink.fill (0.24);
    }
    if (tongue > 0)
    {
        ink.curve (
            { { 24, 24 }, { 36, 24 }, { 38 + tongue * 2, 36 + tongue * 16 }, { 30, 44 + tongue * 18 }, { 23, 36 + tongue * 14 } });
        ink.shape (0.5, 1.8);
        ink.penLine ({ { 30, 27 }, { 31, 34 + tongue * 14 } }, 1.2, 0.25);
    }
    ink.curve ({ { 2, 2 }, { 24, -8 }, { 50, -2 }, { 62, 10 }, { 52, 24 }, { 26, 30 }, { 4, 24 } });
    ink.shapeBall (30, 4, 38, 1, 0.8);
    ink.penLine ({ { 12, 25 }, { 32, 22 - mood.smile * 3 }, { 56, 19 - mood.smile * 5 } }, 2);
    ink.curve ({ { 50, -3 }, { 60, -6 }, { 68, 2 }, { 62, 11 }, { 54, 8 } });
    ink.shape (0.06, 1.5);
    ink.oval (60, -1, 2.4, 1.6);
    ink.fill (0.85);
    for (int i = 0; i < 4; ++i)
    {
        ink.oval (30 + 6.0 * i, 13 + (i % 2) * 4, 1, 1);
        ink.fill (0.3);
    }
    eye (ink, { -2, -12, 7.5, 9, 0.04 }, mood);
    eye (ink, { 22, -15, 6.5, 8.5, 0.04 }, mood);
    brow (ink, -3, -25, 7, 1, mood, 2.4, 0.9);
    brow (ink, 22, -27, 6, -1, mood, 2.4, 0.12);
    // Near ear: hangs, or flies when running
    ink.curve ({ { -12, -38 },
                 { -34, -38 - lift * 0.4 },
                 { -52, -14 - lift * 1.6 },
                 { -48, 12 - lift * 1.9 },
                 { -36, 14 - lift * 1.4 },
                 { -24, -12 - lift * 0.4 } });
    ink.shapeBall (-38, -14 - lift, 34, 0.34, 0.14);
}

} // namespace shutterbeat::demo
