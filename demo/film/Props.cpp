#include "Props.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

void tier (Ink& ink, double y, double half, double high, double shift, int drips)
{
    Ink::Hold hold (ink);
    ink.move (shift, y);
    ink.curve ({ { -half, -high }, { -half, -2 }, { 0, half * 0.16 }, { half, -2 }, { half, -high } });
    ink.shapeAcross (-half, 0.6, half, 0.92);
    // Icing: a lid that runs down in drips
    Points lid{ { -half - 1, -high } };
    for (int i = 0; i <= drips * 2; ++i)
    {
        const double s = static_cast<double> (i) / (drips * 2);
        const double x = -half + 2 * half * s;
        const double round = std::sin (s * kPi) * half * 0.15;
        lid.push_back ({ x, -high + round + (i % 2 == 1 ? high * (0.42 + 0.16 * ((i * 7) % 3)) : high * 0.12) });
    }
    lid.push_back ({ half + 1, -high });
    lid.push_back ({ 0, -high - half * 0.17 });
    ink.curve (lid);
    ink.shape (0.99, 1.6);
    ink.oval (0, -high, half, half * 0.16);
    ink.fill (1, 0.9);
}

} // namespace

void drawCake (Ink& ink, double x, double y, double size, double wobble, bool cherry, bool candle, double flame)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.3));
    ink.curve ({ { -52, -2 }, { 0, 9 }, { 52, -2 }, { 0, -10 } });
    ink.shape (0.7);
    tier (ink, -2, 42, 30, wobble * 1.5, 6);
    tier (ink, -32, 31, 26, wobble * 5, 5);
    tier (ink, -58, 20, 22, wobble * 10, 4);
    for (int i = 0; i < 5; ++i)
    {
        ink.oval (-36 + 18.0 * i + wobble * 2, -33 + 4 * std::sin (i * kPi / 4), 3.6, 3.6);
        ink.shape (0.25, 1.2);
    }
    if (cherry)
    {
        ink.oval (wobble * 13, -88, 7, 7);
        ink.shapeBall (wobble * 13 - 2, -90, 8, 0.6, 0.14, 1.6);
        ink.penLine ({ { wobble * 13 + 1, -94 }, { wobble * 15 + 5, -104 }, { wobble * 17 + 11, -107 } }, 1.6);
    }
    if (candle)
        drawCandle (ink, 0, -82, 0.42, flame * 3, flame);
}

void drawWagon (Ink& ink, double x, double y, double size, double roll, double wobble, bool withCake)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.3));
    ink.glow (0, 1, 84, 11, 0.0, 0.65);
    ink.turn (wobble * 0.02);
    ink.limb ({ { -58, -58 }, { -76, -78 }, { -88, -84 } }, 4.5, 0.5);
    ink.limb ({ { -50, -14 }, { -50, -58 } }, 5, 0.34);
    ink.limb ({ { 50, -14 }, { 50, -58 } }, 5, 0.34);
    ink.box (-58, -26, 116, 7, 2);
    ink.shapeAcross (-58, 0.3, 58, 0.6);
    ink.box (-26, -44, 22, 18, 2);
    ink.shape (0.75, 1.5);
    ink.oval (16, -33, 9, 7);
    ink.shape (0.55, 1.5);
    ink.box (-64, -63, 128, 8, 2);
    ink.shapeAcross (-64, 0.4, 64, 0.72);
    // Lace along the edge of the upper shelf
    for (int i = 0; i < 8; ++i)
    {
        ink.arc (-56 + 16.0 * i, -56, 8, 0, kPi);
        ink.shape (0.97, 1.2);
    }
    for (const double at : { -46.0, 46.0 })
    {
        Ink::Hold wheel (ink);
        ink.move (at, -13);
        ink.oval (0, 0, 13, 13);
        ink.stroke (4.5, 0.07);
        ink.oval (0, 0, 13, 13);
        ink.stroke (2, 0.5);
        ink.turn (roll);
        for (int i = 0; i < 3; ++i)
        {
            ink.turn (kPi / 3);
            ink.penLine ({ { -12, 0 }, { 12, 0 } }, 1.8, 0.2);
        }
        ink.oval (0, 0, 3.5, 3.5);
        ink.shape (0.8, 1.4);
    }
    if (withCake)
        drawCake (ink, 4, -64, 1, wobble, true);
}

void drawBoat (Ink& ink, double x, double y, double size, double tilt)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (tilt);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.3));
    ink.curve ({ { -104, -34 },
                 { -60, -26 },
                 { 0, -23 },
                 { 60, -27 },
                 { 112, -42 },
                 { 96, -8 },
                 { 70, 16 },
                 { 0, 20 },
                 { -74, 16 },
                 { -94, -4 } });
    ink.shapeDown (-42, 0.62, 20, 0.24);
    for (int i = 1; i <= 3; ++i)
    {
        const double d = i * 9;
        ink.penLine ({ { -100 + d * 0.8, -33 + d }, { -50, -25 + d }, { 20, -23 + d }, { 106 - d, -40 + d } }, 1.3, 0.1, 0.8);
    }
    ink.penLine ({ { -104, -34 }, { -60, -26 }, { 0, -23 }, { 60, -27 }, { 112, -42 } }, 5.5, 0.07);
    ink.penLine ({ { -104, -34 }, { -60, -26 }, { 0, -23 }, { 60, -27 }, { 112, -42 } }, 3, 0.88);
}

void drawGull (Ink& ink, double x, double y, double size, double flap)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.2));
    const double up = std::sin (flap * 2 * kPi) * 12;
    ink.curve ({ { 0, 0 }, { -10, -7 - up * 0.7 }, { -30, -3 - up * 1.6 }, { -12, -1 - up * 0.5 } });
    ink.shape (0.93, 1.4);
    ink.curve ({ { 0, 0 }, { 10, -7 - up * 0.7 }, { 30, -3 - up * 1.6 }, { 12, -1 - up * 0.5 } });
    ink.shape (0.98, 1.4);
    ink.curve ({ { -9, 1 }, { 0, -4 }, { 11, 0 }, { 16, 2 }, { 2, 6 } });
    ink.shape (0.97, 1.3);
}

void drawClock (Ink& ink, double x, double y, double size, double hours, double minutes, double swing)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.3));
    {
        // Pendulum in its box below the dial
        ink.box (-34, 40, 68, 106, 6);
        ink.shapeAcross (-34, 0.2, 34, 0.4);
        ink.box (-26, 48, 52, 90, 4);
        ink.shape (0.08, 1.4);
        Ink::Hold pendulum (ink);
        ink.move (0, 44);
        ink.turn (swing * 0.26);
        ink.penLine ({ { 0, 0 }, { 0, 66 } }, 2.6, 0.8);
        ink.oval (0, 72, 13, 13);
        ink.shapeBall (-4, 68, 16, 1, 0.5);
    }
    ink.poly ({ { -66, -60 }, { 0, -104 }, { 66, -60 } });
    ink.shapeDown (-104, 0.5, -60, 0.25);
    ink.oval (0, 0, 72, 72);
    ink.shapeBall (-20, -24, 96, 0.55, 0.2, 2.6);
    ink.oval (0, 0, 60, 60);
    ink.shapeBall (-10, -10, 72, 0.98, 0.8, 1.8);
    for (int i = 0; i < 60; ++i)
    {
        const double a = i * kPi / 30, inner = i % 5 == 0 ? 46 : 53;
        ink.penLine ({ { std::sin (a) * inner, -std::cos (a) * inner }, { std::sin (a) * 56, -std::cos (a) * 56 } },
                     i % 5 == 0 ? 4.0 : 1.2);
    }
    const auto hand = [&] (double turns, double reach, double wide)
    {
        Ink::Hold turned (ink);
        ink.turn (turns * 2 * kPi);
        ink.poly ({ { -wide, 8 },
                    { -wide * 0.7, -reach * 0.7 },
                    { -wide * 1.6, -reach * 0.72 },
                    { 0, -reach },
                    { wide * 1.6, -reach * 0.72 },
                    { wide * 0.7, -reach * 0.7 },
                    { wide, 8 } });
        ink.fill (0.06);
    };
    hand (hours, 34, 3);
    hand (minutes, 50, 2);
    ink.oval (0, 0, 5, 5);
    ink.shape (0.6);
}

void drawCandle (Ink& ink, double x, double y, double size, double t, double flame)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (std::max (size, 0.3));
    ink.box (-7, -44, 14, 44, 2);
    ink.shapeAcross (-7, 0.7, 7, 0.98, 1.6);
    ink.penLine ({ { 0, -44 }, { 0, -51 } }, 2);
    if (flame <= 0)
        return;
    const double lean = wander (31, t * 5) * 5, tall = 24 + wander (32, t * 7) * 5;
    ink.glow (0, -58, 62 * flame, 62 * flame, 1, 0.42);
    ink.curve ({ { 0, -46 }, { -6.5, -54 }, { lean, -50 - tall * flame }, { 6.5, -54 } });
    ink.fill (1);
}

void drawBarrel (Ink& ink, double x, double y, double size, double turn)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (turn);
    ink.scale (size);
    ink.curve ({ { -27, -42 }, { -35, 0 }, { -27, 42 }, { 0, 46 }, { 27, 42 }, { 35, 0 }, { 27, -42 }, { 0, -47 } });
    ink.shapeAcross (-35, 0.24, 35, 0.58);
    for (const double at : { -17.0, 0.0, 17.0 })
        ink.penLine ({ { at * 0.85, -44 }, { at * 1.15, 0 }, { at * 0.85, 43 } }, 1.2, 0.1);
    for (const double at : { -25.0, 25.0 })
    {
        ink.penLine ({ { -32, at }, { 0, at + 5 }, { 32, at } }, 6);
        ink.penLine ({ { -32, at }, { 0, at + 5 }, { 32, at } }, 3, 0.7);
    }
}

void drawApple (Ink& ink, double x, double y, double radius, double turn)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (turn);
    ink.oval (0, 0, radius, radius * 0.94);
    ink.shapeBall (-radius * 0.3, -radius * 0.3, radius * 1.2, 0.85, 0.35, 1.5);
    ink.penLine ({ { 0, -radius * 0.7 }, { radius * 0.3, -radius * 1.3 } }, 1.6);
}

void drawSplash (Ink& ink, double x, double y, double size, double age, std::uint32_t seed)
{
    if (age < 0 || age > 1.4)
        return;
    const double fade = 1 - ease (age, 0.7, 1.4);
    for (std::uint32_t i = 0; i < 46; ++i)
    {
        const double out = (chance (seed, i) - 0.5) * 340, up = 170 + chance (seed + 1, i) * 260;
        const double px = x + size * out * age, py = y - size * (up * age - 300 * age * age);
        if (py > y + 6)
            continue;
        ink.oval (px, py, size * (2 + 4 * chance (seed + 2, i)), size * (3 + 6 * chance (seed + 3, i)));
        ink.fill (0.96, 0.9 * fade);
    }
    const double crown = bump (age, 0, 0.8) * size;
    if (crown > 0.02)
    {
        Points jets{ { x - 90 * size, y + 6 } };
        for (int i = 0; i <= 12; ++i)
            jets.push_back ({ x + size * (-84 + 14.0 * i) * (1 + age * 0.5),
                              y - crown * (i % 2 == 0 ? 20 : 60 + 40 * chance (seed + 4, static_cast<std::uint32_t> (i))) });
        jets.push_back ({ x + 90 * size, y + 6 });
        ink.curve (jets);
        ink.fill (0.95, 0.6 * fade);
    }
}

void drawDust (Ink& ink, double x, double y, double t, std::uint32_t seed)
{
    for (std::uint32_t i = 0; i < 7; ++i)
    {
        const double age = std::fmod (t * 1.6 + i / 7.0, 1.0);
        const double r = 5 + age * 20;
        ink.glow (x - age * 80 - 6, y - 5 - age * 20 * (0.4 + chance (seed, i)), r * 1.4, r, 0.94, 0.6 * (1 - age));
    }
}

void drawTelescope (Ink& ink, double x, double y, double size, double turn)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (turn);
    ink.scale (size);
    ink.box (-6, -6, 34, 12, 2);
    ink.shapeDown (-6, 0.95, 6, 0.4);
    ink.box (26, -8, 32, 16, 2);
    ink.shapeDown (-8, 0.85, 8, 0.25);
    ink.box (56, -11, 34, 22, 3);
    ink.shapeDown (-11, 0.5, 11, 0.1);
    ink.box (86, -12.5, 6, 25, 2);
    ink.shape (0.85);
}

void drawRoundTable (Ink& ink, double x, double y, double half)
{
    ink.limb ({ { x, y + 10 }, { x, y + 160 } }, 30, 0.26);
    ink.oval (x, y + 9, half, half * 0.19);
    ink.shape (0.24);
    ink.oval (x, y, half, half * 0.19);
    ink.shapeAcross (x - half, 0.5, x + half, 0.86);
}

} // namespace shutterbeat::demo
