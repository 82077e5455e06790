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

/// The baker pushing her wagon along the ground, seen from the side. x is the wagon's.
void bakerWithWagon (Ink& ink, double x, double y, double size, double t, double wobble)
{
    Pose pose;
    pose.x = x - 118 * size;
    pose.y = y;
    pose.size = size;
    pose.step = t * 1.5;
    pose.stride = 1;
    pose.lean = 0.07;
    pose.nearArm = 0.75;
    pose.nearElbow = 0.62;
    pose.farArm = 0.78;
    pose.farElbow = 0.62;
    pose.nod = 0.05 * std::sin (t * 9);
    pose.mood.smile = 0.8;
    pose.mood.lookX = 0.5;
    drawWagon (ink, x, y + 2, size, t * 7, wobble);
    drawBaker (ink, pose);
}

void washing (Ink& ink, double t)
{
    for (int i = 0; i < 5; ++i)
    {
        const double x = 182 + 46.0 * i, y = 124 + 15 * std::sin ((x - 150) / 260 * kPi), blow = 7 * std::sin (t * 4 + i * 1.1);
        if (i % 2 == 0)
            ink.curve ({ { x - 15, y - 2 },
                         { x + 15, y - 2 },
                         { x + 15 + blow, y + 40 },
                         { x + blow, y + 36 },
                         { x - 15 + blow, y + 42 } });
        else
            ink.poly ({ { x - 10, y },
                        { x + 10, y },
                        { x + 12 + blow, y + 34 },
                        { x + 3 + blow, y + 34 },
                        { x, y + 12 },
                        { x - 4 + blow, y + 34 },
                        { x - 13 + blow, y + 34 } });
        ink.shapeAcross (x - 15, 0.99, x + 20, i % 2 == 0 ? 0.8 : 0.5, 1.6);
    }
}

} // namespace

void streetWide (Stage& stage)
{
    Ink& ink = stage.ink;
    const Vista vista{ 320, 186, 430 };
    stage.backdrop ("street", [&] (Ink& pen) { longStreet (pen, vista); });
    const double t = stage.t;
    const double z = mix (9.5, 3.5, stage.share);
    const Point wagon = vista.at (mix (-0.5, 1.25, stage.share), 2, z);
    const double size = vista.focal * 1.75 / (200 * z);
    drawGull (ink, 120 + 60 * stage.t, 70 + 8 * std::sin (t * 2), 0.7, t * 1.6);
    {
        const Point p = vista.at (mix (-1.9, -0.75, stage.share), 2, z - 0.1);
        drawDog (ink, trottingDog (p.x, p.y, size, t));
    }
    bakerWithWagon (ink, wagon.x, wagon.y, size, t, 0.25 * std::sin (t * 9));
    washing (ink, t);
}

void streetTrack (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("strip", 1280, stage.frame * 5.0, true, [] (Ink& pen) { streetStrip (pen, 1280, 372, 3); });
    drawDog (ink, trottingDog (118 + 10 * std::sin (t * 1.4), 434, 1.12, t));
    bakerWithWagon (ink, 424 + 6 * std::sin (t * 1.7), 432, 1.32, t, 0.4 * std::sin (t * 8));
    // Railings close to the lens slide by faster
    for (int i = 0; i < 26; ++i)
    {
        const double x = std::fmod (i * 64.0 - stage.frame * 9.0 + 6400, 1664.0) - 64;
        if (x > 720)
            continue;
        ink.limb ({ { x, 540 }, { x, 452 } }, 7, 0.1);
        ink.poly ({ { x - 7, 454 }, { x, 436 }, { x + 7, 454 } });
        ink.fill (0.08);
    }
    ink.box (-40, 468, 720, 7);
    ink.fill (0.08);
}

void wheelInsert (Stage& stage)
{
    Ink& ink = stage.ink;
    stage.backdrop (
        "stones", 960, stage.frame * 14.0, true,
        [] (Ink& pen)
        {
            pen.box (-40, -40, 1060, 330);
            pen.fillDown (-40, 0.2, 290, 0.38);
            for (int i = 0; i < 12; ++i)
            {
                pen.box (i * 80.0, 120, 78, 170);
                pen.shapeAcross (i * 80.0, 0.3 + 0.12 * chance (5, i), i * 80.0 + 78, 0.44, 1.6);
            }
            pen.box (-40, 288, 1060, 260);
            pen.fillDown (288, 0.66, 520, 0.42);
            for (int row = 0; row < 4; ++row)
                for (int i = -1; i < 14; ++i)
                {
                    const double w = 80, x = i * w + (row % 2) * 40, y = 322 + row * 54.0;
                    pen.curve ({ { x + 3, y }, { x + w / 2, y - 20 }, { x + w - 3, y }, { x + w - 6, y + 26 }, { x + 6, y + 26 } });
                    pen.shapeDown (y - 20, 0.86 - 0.12 * chance (9, i * 5 + row), y + 26, 0.42, 2);
                }
        });
    const double loose = ease (stage.share, 0.2, 0.6);
    Ink::Hold hold (ink);
    ink.move (320 + 3 * std::sin (stage.frame * 1.9), 200 + 5 * std::sin (stage.frame * 1.3));
    ink.glow (10, 190, 240, 30, 0, 0.7);
    ink.limb ({ { -60, -260 }, { -20, -120 }, { 0, 0 } }, 30, 0.4);
    ink.turn (0.16 * loose * std::sin (stage.frame * 1.2));
    ink.oval (0, 0, 168, 168);
    ink.stroke (40, 0.06);
    ink.oval (0, 0, 168, 168);
    ink.stroke (31, 0.36);
    ink.oval (0, 0, 178, 178);
    ink.stroke (6, 0.78);
    {
        Ink::Hold spin (ink);
        ink.turn (stage.frame * 0.33);
        for (int i = 0; i < 8; ++i)
        {
            ink.turn (kPi / 4);
            ink.limb ({ { 0, 24 }, { 0, 150 } }, 14, 0.52);
        }
    }
    ink.oval (0, 0, 42, 42);
    ink.shapeBall (-12, -12, 56, 0.85, 0.25, 3);
    const double fly = std::max (0, stage.frame - 13);
    ink.move (12 * fly, 2 * loose * std::sin (stage.frame * 2.6) - 30 * fly + 4.2 * fly * fly);
    ink.turn (0.5 * fly + 0.3 * loose);
    ink.box (-8, -26 - 18 * loose, 16, 52, 5);
    ink.shape (0.95, 2.4);
}

void catOnSill (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("sill",
                    [] (Ink& pen)
                    {
                        pen.box (-40, -40, 720, 560);
                        pen.fillAcross (0, 0.5, 640, 0.74);
                        for (int row = 0; row < 14; ++row)
                            for (int i = -1; i < 11; ++i)
                            {
                                pen.box (i * 66.0 + (row % 2) * 33, -30 + row * 38.0, 64, 36, 2);
                                pen.fill (0.5 + 0.2 * chance (3, row * 13 + i + 5), 0.7, true);
                                pen.outline (1.3, 0.45);
                            }
                        pen.box (150, -20, 340, 372);
                        pen.shape (0.92, 3);
                        pen.box (172, -20, 296, 350);
                        pen.shapeDown (0, 0.12, 330, 0.3);
                        pen.box (312, -20, 16, 350);
                        pen.shape (0.9);
                        pen.poly ({ { 172, -20 }, { 250, -20 }, { 196, 330 }, { 172, 330 } });
                        pen.shapeAcross (172, 0.9, 250, 0.7);
                        pen.poly ({ { 468, -20 }, { 392, -20 }, { 444, 330 }, { 468, 330 } });
                        pen.shapeAcross (392, 0.75, 468, 0.9);
                        pen.box (120, 348, 400, 26, 3);
                        pen.shapeDown (348, 0.95, 374, 0.6, 2.6);
                    });
    const double look = mix (-1, 1, ease (stage.share, 0.2, 0.7));
    drawCat (ink, 322, 350, 2.5, look, std::sin (t * 6), stage.share > 0.8 ? 0.25 : 1);
    for (const double side : { 0.0, 1.0 })
        for (int i = 0; i < 4; ++i)
        {
            const double x = 158 + side * 268 + i * 19.0, sway = 3 * std::sin (t * 3 + i);
            ink.penLine ({ { x, 330 }, { x + sway * 0.5, 312 }, { x + sway, 294.0 - 6 * (i % 2) } }, 2.4, 0.2);
            ink.oval (x + sway, 288.0 - 6 * (i % 2), 9, 8);
            ink.shape (0.7 + 0.25 * (i % 2), 1.6);
        }
    for (const double side : { 0.0, 1.0 })
    {
        ink.box (140 + side * 268, 326, 88, 26, 4);
        ink.shape (0.36);
    }
    // Far below, only the top of a cake and a dog's ears go by
    const double x = -90 + 820 * ease (stage.share, 0.08, 0.85);
    drawDust (ink, x - 60, 470, t, 4);
    drawCake (ink, x, 512 - 4 * std::abs (std::sin (t * 18)), 1.35, std::sin (t * 11), true);
}

} // namespace shutterbeat::demo
