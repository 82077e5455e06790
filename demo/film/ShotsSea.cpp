#include "Figures.h"
#include "Props.h"
#include "Sets.h"
#include "Shots.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

namespace
{

/// The wagon stands in the boat, the dog in the bow; the hull hides the wheels.
void loadedBoat (Ink& ink, double x, double y, double size, double t, double bark)
{
    Ink::Hold hold (ink);
    ink.move (x, y + 4 * size * std::sin (t * 3.1));
    ink.turn (0.07 * std::sin (t * 2.3));
    ink.scale (size);
    ink.line *= 1 / std::sqrt (size);
    drawWagon (ink, -18, 6, 0.9, 0.3, 0.5 * std::sin (t * 2.3 + 1));
    DogPose dog;
    dog.x = 62;
    dog.y = -8;
    dog.size = 0.8;
    dog.sits = true;
    dog.tail = std::sin (t * 15);
    dog.ears = 0.25 + 0.2 * std::sin (t * 6) + 0.3 * bark;
    dog.nod = -0.12 - 0.15 * bark;
    dog.tongue = 0.5;
    dog.mood.lookX = 0.8;
    drawDog (ink, dog);
    drawBoat (ink, 0, 0, 1, 0);
}

/// A few bold waves in front of everything.
void foreWaves (Ink& ink, double y, double t, double tone)
{
    for (int row = 0; row < 2; ++row)
    {
        const double length = 116 + 24 * row, base = y + row * 40;
        const double shift = std::fmod (t * (row == 0 ? 46 : -34) + 24 * std::sin (t * 1.7 + row) + 5 * length, length);
        cairo_new_path (ink.cr);
        cairo_move_to (ink.cr, -300, 560);
        for (double x = -300 + shift; x < 760; x += length)
        {
            const double lift = 5 * std::sin (t * 2 + row + x * 0.01);
            cairo_line_to (ink.cr, x, base - 13 + lift);
            cairo_curve_to (ink.cr, x + length * 0.26, base + 18 + lift, x + length * 0.72, base + 18 + lift, x + length,
                            base - 13 + lift);
        }
        cairo_line_to (ink.cr, 900, 560);
        cairo_close_path (ink.cr);
        ink.fillDown (base - 12, tone + 0.22, base + 60, tone - 0.06, true);
        ink.stroke (2, std::min (1.0, tone + 0.55), 0.9);
    }
}

} // namespace

void harbourWide (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("harbour", [] (Ink& pen) { harbour (pen); });
    sea (ink, 284, 500, t, 0.62, 0.34, 3);
    {
        Ink::Hold hold (ink);
        ink.move (150, 340 + 3 * std::sin (t * 2.4));
        ink.turn (0.04 * std::sin (t * 2));
        drawBoat (ink, 0, 0, 0.5, 0);
        ink.limb ({ { 0, -10 }, { 2, -92 } }, 4, 0.3);
        ink.curve ({ { 5, -88 }, { 44, -52 }, { 52, -22 }, { 5, -20 } });
        ink.shapeAcross (4, 0.99, 54, 0.74);
    }
    islet (ink);
    ink.glow (476, 330, 150, 12, 1, 0.5);
    for (int i = 0; i < 4; ++i)
    {
        const double x = -60 + std::fmod (i * 210 + t * (58 + 9 * i), 820.0);
        drawGull (ink, x, 92 + i * 31 + 10 * std::sin (t * 2 + i * 2), 0.7 + 0.16 * i, t * 1.5 + i * 0.3);
    }
    foreWaves (ink, 440, t, 0.26);
    // Smoke from the bakery chimney
    for (int i = 0; i < 7; ++i)
    {
        const double age = std::fmod (t * 0.35 + i / 7.0, 1.0);
        ink.glow (64 + 70 * age + 5 * wander (6, t + i), 150 - 96 * age, 12 + 26 * age, 9 + 18 * age, 0.96, 0.7 * (1 - age));
    }
}

void jettyRush (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    const Vista vista{ 330, 196, 420 };
    stage.backdrop ("jettySky",
                    [] (Ink& pen)
                    {
                        sky (pen, 0.56, 0.96, 206, 61);
                        pen.glow (120, 90, 160, 120, 1, 0.5);
                    });
    sea (ink, 204, 520, t, 0.66, 0.34, 9);
    rock (ink, 470, 214, 90, 18, 5);
    lighthouse (ink, 474, 202, 70, 0.4);
    jettyLong (ink, vista);
    drawGull (ink, 150 + 40 * t, 80 + 12 * std::sin (t * 2.2), 1.1, t * 1.6);
    const auto sizeAt = [&] (double z) { return vista.focal * 1.55 / (200 * z); };
    // Dog and wagon run away from us towards the end of the planks
    const double z = 1.9 + 6.4 * std::pow (stage.share, 1.25);
    const Point wagon = vista.at (0.16 * std::sin (t * 6), 1.7, z);
    const double hop = 30 * std::abs (std::sin (t * 9)) / z;
    drawDust (ink, wagon.x, wagon.y, t, 2);
    drawWagon (ink, wagon.x, wagon.y - hop * 0.4, sizeAt (z) * 1.05, t * 20, 0.8 * std::sin (t * 12));
    const double zd = std::max (1.45, z - 0.75 + 0.5 * stage.share);
    const Point p = vista.at (-0.5, 1.7, zd);
    DogPose dog;
    dog.x = p.x;
    dog.y = p.y - hop;
    dog.size = sizeAt (zd);
    dog.step = t * 3.4;
    dog.stride = 1.8;
    dog.ears = 0.7 + 0.3 * std::sin (t * 20);
    dog.tail = std::sin (t * 16);
    dog.tongue = 0.8;
    drawDog (ink, dog);
    if (stage.share > 0.4)
    {
        const double zb = mix (1.3, 4.4, (stage.share - 0.4) / 0.6);
        const Point b = vista.at (mix (-1.7, -0.2, ease (stage.share, 0.36, 0.75)), 1.7, zb);
        Pose pose;
        pose.x = b.x;
        pose.y = b.y;
        pose.size = sizeAt (zb);
        pose.step = t * 2.5;
        pose.stride = 1.6;
        pose.lean = 0.15;
        pose.nearArm = 2.2 + 0.4 * std::sin (t * 12);
        pose.farArm = 2.0 - 0.4 * std::sin (t * 12);
        pose.mood.open = 0.8;
        pose.mood.brows = 1;
        drawBaker (ink, pose);
    }
}

void jettyLeap (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("leapSky", [] (Ink& pen) { sky (pen, 0.6, 0.97, 250, 71); });
    sea (ink, 246, 520, t, 0.66, 0.36, 4);
    const double since = (stage.frame - kBoatSplash) / static_cast<double> (kFilmFramesPerSecond);
    const int leap = 20;
    jettyEnd (ink, 274, 300);
    const double boatX = 486 + (since > 0 ? 46 * since + 30 * since * since : 0);
    const double boatY = 404 + 4 * std::sin (t * 2.6) + (since > 0 ? 30 * std::sin (since * 9) * std::exp (-2.4 * since) : 0);
    const double tilt = 0.05 * std::sin (t * 2) + (since > 0 ? 0.2 * std::sin (since * 8) * std::exp (-2 * since) : 0);
    double x = 0, y = 0, turn = 0;
    if (stage.frame < leap)
    {
        x = 312 - 19.0 * (leap - stage.frame);
        y = 274 - 3 * std::abs (std::sin (t * 18));
    }
    else
    {
        const double s = std::min (1.0, (stage.frame - leap) / static_cast<double> (kBoatSplash - leap));
        x = mix (312, 478, s);
        y = mix (274, 404, s * s) - 90 * s * (1 - s);
        turn = 0.5 * std::sin (s * kPi) * (s - 0.3);
    }
    if (since >= 0)
    {
        x = boatX - 10;
        y = boatY + 2;
        turn = tilt;
    }
    drawGull (ink, 560 - 60 * t, 96 + 10 * std::sin (t * 3), 1, t * 1.8);
    {
        Ink::Hold hold (ink);
        ink.move (x, y);
        ink.turn (turn);
        drawWagon (ink, 0, 0, 1, t * 20, since > 0 ? 1.6 * std::sin (since * 14) * std::exp (-2 * since) : 0.8 * std::sin (t * 12));
        // The dog took the lower shelf at the last moment
        DogPose dog;
        dog.x = 62 - 84 * (since < 0 ? 1 : 0);
        dog.y = since < 0 ? -24 : -12;
        dog.size = 0.7;
        dog.sits = true;
        dog.ears = since < 0.4 ? 0.9 : 0.2;
        dog.tail = std::sin (t * 14);
        dog.tongue = 0.6;
        dog.mood.brows = 1;
        dog.mood.lookX = 0.5;
        dog.mood.lids = 1.2;
        drawDog (ink, dog);
    }
    drawBoat (ink, boatX, boatY, 1.08, tilt);
    drawSplash (ink, 470, 424, 1.0, since, 77);
    foreWaves (ink, 430, t, 0.3);
}

void jettySkid (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("skidSky", [] (Ink& pen) { sky (pen, 0.62, 0.96, 300, 81); });
    sea (ink, 300, 540, t, 0.62, 0.36, 8);
    jettyEnd (ink, 420, 440);
    const double slide = ease (stage.share, 0, 0.42), teeter = ease (stage.share, 0.4, 0.5);
    const double swing = std::sin (t * 13);
    Pose pose;
    pose.x = mix (40, 368, slide);
    pose.y = 422;
    pose.size = 1.5;
    pose.lean = mix (-0.22, 0.3 * std::sin (t * 5.5), teeter);
    pose.step = slide < 0.98 ? 0.2 + 0.02 * stage.frame : 0.25;
    pose.stride = 1 - slide * 0.9;
    pose.nearArm = mix (1.4, 1.9 + 1.2 * swing, teeter);
    pose.farArm = mix (1.2, 1.9 - 1.2 * swing, teeter);
    pose.nearElbow = 0.2;
    pose.farElbow = 0.2;
    pose.mood.open = 0.8;
    pose.mood.brows = 1;
    pose.mood.lids = 1.2;
    pose.mood.lookX = 1;
    pose.mood.lookY = 0.5;
    Pose policeman = pose;
    policeman.x = mix (-170, 236, ease (stage.share, 0.04, 0.5));
    policeman.size = 1.4;
    policeman.lean = mix (-0.24, -0.08 + 0.06 * swing, teeter);
    policeman.nearArm = mix (1.4, 1.5 - 0.3 * swing, teeter);
    policeman.mood.hat = false;
    drawConstable (ink, policeman);
    drawDust (ink, policeman.x - 10, 420, t, 9);
    drawBaker (ink, pose);
    foreWaves (ink, 462, t, 0.3);
}

void boatAtSea (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("openSky",
                    [] (Ink& pen)
                    {
                        sky (pen, 0.5, 0.97, 230, 91);
                        pen.glow (170, 130, 190, 150, 1, 0.7);
                        pen.oval (170, 120, 34, 34);
                        pen.fill (1, 0.8);
                    });
    sea (ink, 226, 520, t, 0.7, 0.34, 12);
    ink.glow (170, 260, 60, 14, 1, 0.6);
    for (int i = 0; i < 3; ++i)
        drawGull (ink, 120 + 130 * i + 44 * t, 100 + 26 * ((i * 2) % 3) + 12 * std::sin (t * 2.2 + i), 0.9 + 0.2 * i,
                  t * 1.6 + 0.3 * i);
    loadedBoat (ink, mix (210, 396, stage.share), 360, 1.45, t, std::max (0.0, std::sin (t * 5)));
    foreWaves (ink, 404, t, 0.34);
}

void telescopeView (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    {
        Ink::Hold hold (ink);
        ink.move (10 * wander (8, t * 1.6), 8 * wander (9, t * 1.8));
        stage.backdrop ("glassSky", [] (Ink& pen) { sky (pen, 0.7, 0.99, 250, 101); });
        sea (ink, 236, 540, t, 0.74, 0.4, 14);
        loadedBoat (ink, mix (230, 372, stage.share), 330, mix (1.15, 1.5, stage.share), t + 3, std::max (0.0, std::sin (t * 7)));
        foreWaves (ink, 392, t + 1, 0.4);
    }
    stage.iris (320 + 7 * wander (18, t * 1.3), 240 + 5 * wander (19, t * 1.3), 186);
}

void rockWide (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("rockSky", [] (Ink& pen) { sky (pen, 0.55, 0.96, 250, 111); });
    sea (ink, 268, 520, t, 0.66, 0.32, 5);
    {
        Ink::Hold hold (ink);
        ink.move (-40, 60);
        ink.move (476, 318);
        ink.scale (1.35);
        ink.move (-476, -318);
        islet (ink);
    }
    const int bump36 = 36;
    const double since = (stage.frame - bump36) / static_cast<double> (kFilmFramesPerSecond);
    Pose pose;
    pose.x = 372 - (since > 0 ? 22 * since : 0) + 5 * std::sin (t * 4);
    pose.y = 334;
    pose.size = 0.5;
    pose.way = -1;
    pose.step = t * 2;
    pose.stride = since > 0 ? 0.9 : 0.2;
    pose.nearArm = 1.9 + 0.5 * std::sin (t * 9);
    pose.farArm = 1.9 - 0.5 * std::sin (t * 9);
    pose.nod = since > 0 ? -0.4 : 0;
    pose.mood.open = 0.6;
    pose.mood.brows = 1;
    drawKeeper (ink, pose);
    const double bx = since < 0 ? mix (-60, 232, stage.frame / static_cast<double> (bump36)) : 232 - 16 * bump (since, 0, 0.6);
    const double rock36 = since > 0 ? 0.3 * std::exp (-2.5 * since) * std::sin (since * 9) : 0;
    {
        Ink::Hold hold (ink);
        ink.move (bx, 404 + 4 * std::sin (t * 3));
        ink.turn (0.05 * std::sin (t * 2.3) + rock36);
        ink.scale (0.72);
        drawWagon (ink, -18, 6, 0.9, 0.3, 0.4 * std::sin (t * 5), since < 0);
        DogPose dog;
        dog.x = 62;
        dog.y = -8;
        dog.size = 0.8;
        dog.sits = true;
        dog.tail = std::sin (t * 15);
        dog.ears = since > 0 ? 0.9 : 0.2;
        dog.nod = since > 0 ? -0.5 : -0.1;
        drawDog (ink, dog);
        drawBoat (ink, 0, 0, 1, 0);
    }
    drawSplash (ink, 304, 420, 0.5, since, 61);
    if (since >= 0)
    {
        Ink::Hold hold (ink);
        ink.move (218 + 80 * since, 354 - 360 * since + 130 * since * since);
        ink.turn (since * 2.4);
        drawCake (ink, 0, 30, 0.66, 0.5 * std::sin (since * 12), true);
    }
    foreWaves (ink, 440, t, 0.28);
}

} // namespace shutterbeat::demo
