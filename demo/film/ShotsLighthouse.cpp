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

void keeperBust (Ink& ink, double x, double y, double size, double nod, const Mood& mood)
{
    ink.curve ({ { x - 190, 560 },
                 { x - 176, y + 190 },
                 { x - 90, y + 116 },
                 { x + 90, y + 116 },
                 { x + 180, y + 190 },
                 { x + 200, 560 } });
    ink.shapeAcross (x - 190, 0.12, x + 200, 0.4, 3);
    for (const double side : { -1.0, 1.0 })
        for (int i = 0; i < 2; ++i)
        {
            ink.oval (x + 14 + side * 40, y + 236 + i * 60, 9, 9);
            ink.shapeBall (x + 10 + side * 40, y + 232 + i * 60, 12, 1, 0.5);
        }
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (nod);
    ink.scale (size);
    ink.line = 0.62;
    keeperHead (ink, mood);
}

/// The wall of the lantern gallery and the sky behind, for close shots out of doors.
void outsideClose (Ink& ink, std::uint32_t seed)
{
    sky (ink, 0.55, 0.97, 350, seed);
    ink.box (-60, 336, 800, 220);
    ink.fillDown (336, 0.72, 500, 0.44);
    for (std::uint32_t i = 0; i < 30; ++i)
    {
        const double y = 344 + 5.5 * i, x = chance (seed, i) * 420;
        ink.penLine ({ { x, y }, { x + 14 + 0.2 * y, y } }, 1.4, 0.95, 0.5);
    }
    ink.poly ({ { 420, -40 }, { 700, -40 }, { 700, 520 }, { 470, 520 } });
    ink.shapeAcross (420, 0.96, 680, 0.6, 3);
    for (int i = 0; i < 5; ++i)
        ink.penLine ({ { 440 + i * 8.0, 20 + i * 110.0 }, { 700, 12 + i * 112.0 } }, 1.6, 0.3, 0.6);
}

} // namespace

void watchRoomDark (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("watchRoom", [] (Ink& pen) { watchRoom (pen); });
    const double flame = 1 + 0.12 * wander (41, t * 6);
    Pose pose;
    pose.x = 282;
    pose.y = 530;
    pose.size = 1.55;
    const double sigh = bump (stage.share, 0.2, 0.6);
    pose.y += 9 * ease (stage.share, 0.4, 0.6) - 7 * sigh + 1.5 * std::sin (t * 2.6);
    pose.nearArm = 0.62 + 0.03 * std::sin (t * 6);
    pose.nearElbow = 1.15 + 0.07 * std::max (0.0, std::sin (t * 12));
    pose.farArm = 0.8;
    pose.farElbow = 1.0;
    pose.nod = 0.16 + 0.1 * ease (stage.share, 0.45, 0.65) - 0.08 * sigh;
    pose.mood.smile = -0.9;
    pose.mood.brows = 0.3;
    pose.mood.lids = stage.frame % 33 < 3 ? 0.1 : 0.62;
    pose.mood.lookX = 0.7;
    pose.mood.lookY = 0.7;
    drawKeeper (ink, pose);
    drawRoundTable (ink, 372, 404, 190);
    ink.oval (430, 402, 42, 9);
    ink.shape (0.95);
    ink.oval (430, 400, 30, 6);
    ink.outline (1.3);
    candleLight (ink, 392 + 3 * wander (43, t * 5), 348, 330 * flame, 0.95);
    drawCandle (ink, 372, 402, 1.15, t, flame);
}

void keeperSigh (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("roomClose",
                    [] (Ink& pen)
                    {
                        pen.camera (300, 150, 2.0);
                        watchRoom (pen);
                    });
    Mood mood;
    const double sigh = bump (stage.share, 0.15, 0.7);
    mood.smile = -1;
    mood.brows = 0.35 + 0.3 * sigh;
    mood.lids = stage.frame > 26 && stage.frame < 31 ? 0.06 : 0.66;
    mood.lookX = 0.5;
    mood.lookY = 0.8 - 0.4 * sigh;
    mood.open = 0.35 * bump (stage.share, 0.45, 0.8);
    keeperBust (ink, 296, 222 - 12 * sigh + 2 * std::sin (t * 2.4), 2.5, 0.05 + 0.06 * ease (stage.share, 0.5, 0.8), mood);
    candleLight (ink, 430 + 6 * wander (44, t * 5), 350, 430 + 34 * wander (45, t * 6), 0.9);
    ink.glow (590, 430, 150 + 16 * wander (46, t * 7), 190, 1, 0.28);
}

void galleryWatch (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("gallery",
                    [] (Ink& pen)
                    {
                        sky (pen, 0.5, 0.98, 400, 121);
                        pen.box (-60, 330, 800, 220);
                        pen.fillDown (330, 0.7, 480, 0.5);
                        pen.box (-60, -60, 170, 640);
                        pen.shapeAcross (-60, 0.5, 110, 0.95, 3);
                        pen.box (-60, -60, 190, 66);
                        pen.shape (0.2);
                    });
    for (int i = 0; i < 2; ++i)
        drawGull (ink, 620 - 90 * t - 60 * i, 90 + 50 * i + 14 * std::sin (t * 2.5 + i), 1.4 - 0.4 * i, t * 1.7 + i * 0.4);
    const double lower = ease (stage.share, 0.68, 0.8);
    Pose pose;
    pose.x = 262 + 5 * std::sin (t * 2);
    pose.y = 520;
    pose.size = 1.72;
    pose.lean = 0.06 + 0.05 * std::sin (t * 1.7);
    pose.nearArm = mix (1.75, 1.0, lower);
    pose.nearElbow = mix (0.5, 0.5, lower);
    pose.farArm = mix (1.5, 1.0, lower);
    pose.farElbow = 0.9;
    pose.mood.lids = mix (0.1, 1.25, lower);
    pose.mood.brows = mix (-0.4, 1, lower);
    pose.mood.lookX = 1;
    pose.mood.open = 0.6 * lower;
    pose.mood.smile = 0;
    const Point hand = drawKeeper (ink, pose);
    drawTelescope (ink, hand.x - 36 * (1 - lower), hand.y - 6, 1.35, mix (0.06 + 0.08 * std::sin (t * 1.7), 0.5, lower));
    galleryRail (ink);
}

void keeperAmazed (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("amazedSky", [] (Ink& pen) { outsideClose (pen, 131); });
    drawGull (ink, 90 + 90 * t, 90 + 10 * std::sin (t * 3), 1.3, t * 1.8);
    const double see = ease (stage.share, 0.15, 0.4);
    Mood mood;
    mood.smile = mix (-0.4, 0.9, see);
    mood.open = 0.9 * see + 0.1 * std::sin (t * 10);
    mood.brows = mix (-0.2, 1.2, see);
    mood.lids = mix (0.7, 1.25, see);
    mood.lookX = -0.2 + 0.5 * std::sin (t * 6) * see;
    keeperBust (ink, 300, 230 - 14 * bump (stage.share, 0.15, 0.5) + 2 * std::sin (t * 12), 2.75, 0.04 * std::sin (t * 7), mood);
}

void cakeLands (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop (
        "doorstep",
        [] (Ink& pen)
        {
            sky (pen, 0.58, 0.97, 330, 141);
            pen.box (-60, 300, 800, 140);
            pen.fillDown (300, 0.7, 420, 0.5);
            pen.poly ({ { 356, 470 }, { 392, -60 }, { 720, -60 }, { 760, 470 } });
            pen.shapeAcross (350, 0.98, 720, 0.56, 3);
            for (int row = 0; row < 9; ++row)
                pen.penLine ({ { 360 + (8 - row) * 3.0, 20 + row * 54.0 }, { 540, 28 + row * 54.0 }, { 740, 18 + row * 54.0 } },
                             1.4, 0.3, 0.5);
            pen.box (468, 196, 124, 240, 60);
            pen.shapeAcross (468, 0.14, 592, 0.36, 3);
            for (int i = 1; i < 4; ++i)
                pen.penLine ({ { 468 + i * 31.0, 204 }, { 468 + i * 31.0, 430 } }, 1.6);
            pen.oval (574, 330, 6, 6);
            pen.shape (0.9);
            pen.curve ({ { -60, 430 }, { 120, 410 }, { 330, 424 }, { 700, 428 }, { 700, 560 }, { -60, 560 } });
            pen.shapeDown (410, 0.56, 540, 0.24, 2.6);
            for (int i = 0; i < 16; ++i)
                pen.penLine ({ { -20 + i * 42.0, 446 + 40 * chance (3, i) }, { 6 + i * 42.0, 452 + 40 * chance (3, i) } }, 1.8,
                             0.12, 0.6);
        });
    const double since = (stage.frame - kCakeLands) / static_cast<double> (kFilmFramesPerSecond);
    const bool hit = since >= 0;
    drawGull (ink, 60 + 60 * t, 130 + 10 * std::sin (t * 3), 1, t * 1.7);
    Pose pose;
    pose.x = 264 + (hit ? 0 : 40 * std::sin (t * 4.4));
    pose.y = 462 + (hit ? 20 * bump (since, 0, 0.3) : 0);
    pose.size = 1.5 * (hit ? 1 - 0.05 * bump (since, 0, 0.25) : 1);
    pose.step = t * 2.2;
    pose.stride = hit ? 0 : 0.7;
    pose.nearArm = hit ? mix (1.9, 0.5, ease (since, 0.1, 0.6)) + 0.05 * std::sin (t * 9) : 2.2 + 0.15 * std::sin (t * 8);
    pose.farArm = hit ? mix (1.9, 0.4, ease (since, 0.1, 0.6)) : 2.0 - 0.15 * std::sin (t * 8);
    pose.nearElbow = hit ? 0.5 : 0.4;
    pose.farElbow = hit ? 0.5 : 0.4;
    pose.nod = hit ? 0.05 * std::sin (since * 20) * std::exp (-3 * since) : -0.28;
    pose.mood.lookY = hit ? 0 : -1;
    pose.mood.brows = hit ? 0 : 1;
    pose.mood.open = hit ? 0 : 0.5;
    pose.mood.smile = hit ? -0.1 : 0.3;
    pose.mood.lids = hit ? (since < 0.45 ? 0.05 : since < 0.8 || stage.frame % 8 > 2 ? 1 : 0.05) : 1.1;
    pose.mood.icing = hit ? 0.3 + 0.7 * ease (since, 0, 1.2) : 0;
    drawKeeper (ink, pose);
    if (! hit)
    {
        const double fall = stage.frame / static_cast<double> (kCakeLands);
        Ink::Hold hold (ink);
        ink.move (mix (200, 266, fall), mix (-150, 150, fall * fall));
        ink.turn (0.7 * std::sin (t * 5));
        drawCake (ink, 0, 20, 1.2, 0.6 * std::sin (t * 12), true);
    }
    else
        for (std::uint32_t i = 0; i < 42; ++i)
        {
            const double a = since, angle = chance (71, i) * 2 * kPi, speed = 90 + 230 * chance (72, i);
            const double x = 268 + std::cos (angle) * speed * a, y = 150 + std::sin (angle) * speed * a + 420 * a * a;
            ink.curve ({ { x - 4, y - 3 }, { x + 4 + 3 * chance (73, i), y - 4 }, { x + 5, y + 4 }, { x - 3, y + 5 } });
            if (y < 470)
                ink.shape (i % 4 == 0 ? 0.5 : 0.98, 1.2);
            else
                cairo_new_path (ink.cr);
        }
}

void keeperTastes (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("tasteSky", [] (Ink& pen) { outsideClose (pen, 151); });
    const double glad = ease (stage.share, 0.45, 0.62);
    Mood mood;
    mood.icing = 1;
    mood.smile = mix (-0.3, 1, glad);
    mood.brows = 0.9 * glad;
    mood.lids = stage.frame < 10 || (stage.frame > 20 && stage.frame < 24) ? 0.06 : mix (0.8, 1.0, glad);
    mood.lookX = stage.share < 0.4 ? -0.8 : 0.2;
    mood.lookY = stage.share < 0.4 ? 0.6 : 0;
    mood.open = stage.share < 0.45 ? 0.5 * std::abs (std::sin (t * 6)) : 0.35 * glad * (0.8 + 0.2 * std::sin (t * 12));
    keeperBust (ink, 306, 276 + 3 * std::sin (t * (3 + 9 * glad)), 2.1, 0.05 * std::sin (t * 3.4), mood);
    // A drop of cream runs and falls
    const double drop = std::fmod (t * 0.9, 1.0);
    ink.oval (262 + 3 * std::sin (t), 372 + 130 * drop * drop, 5, 8);
    ink.shape (0.98, 1.6);
    drawGull (ink, 60 + 46 * t, 86 + 12 * std::sin (t * 2.6), 1.2, t * 1.7);
}

} // namespace shutterbeat::demo
