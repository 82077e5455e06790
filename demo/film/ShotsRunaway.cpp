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

DogPose runningDog (double x, double y, double size, double t)
{
    DogPose dog = trottingDog (x, y, size, t);
    dog.step = t * 3.4;
    dog.stride = 1.8;
    dog.ears = 0.7 + 0.3 * std::sin (t * 21);
    dog.tongue = 0.9;
    return dog;
}

Pose runner (double x, double y, double size, double t, double phase)
{
    Pose pose;
    pose.x = x;
    pose.y = y;
    pose.size = size;
    pose.step = t * 2.6 + phase;
    pose.stride = 1.7;
    pose.lean = 0.2;
    const double swing = std::sin (pose.step * 2 * kPi);
    pose.nearArm = 1.2 - 0.9 * swing;
    pose.nearElbow = 1.2;
    pose.farArm = 1.2 + 0.9 * swing;
    pose.farElbow = 1.2;
    pose.mood.open = 0.6 + 0.2 * std::sin (t * 11 + phase * 9);
    pose.mood.smile = -0.2;
    pose.mood.brows = 0.9;
    pose.mood.lookX = 0.8;
    return pose;
}

} // namespace

void hillRunaway (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("hill", [] (Ink& pen) { hillside (pen); });
    const auto slopeY = [] (double x)
    {
        const Points way{ { -80, 175 }, { 60, 224 }, { 240, 296 }, { 440, 384 }, { 720, 478 } };
        for (std::size_t i = 1; i < way.size(); ++i)
            if (x <= way[i].x || i + 1 == way.size())
                return mix (way[i - 1].y, way[i].y, (x - way[i - 1].x) / (way[i].x - way[i - 1].x));
        return 478.0;
    };
    const double run = std::max (0.0, t - 0.35);
    const double wx = 150 + 70 * run + 62 * run * run;
    drawGull (ink, 500 - 50 * t, 110 + 6 * std::sin (t * 3), 0.9, t * 1.7);
    {
        const double bx = 84 + 22 * run;
        Pose pose = runner (bx, slopeY (bx) + 22, 0.72, t, 0);
        pose.stride = run > 0.5 ? 1.2 : 0.3;
        pose.nearArm = 2.2 + 0.5 * std::sin (t * 12);
        pose.farArm = 2.0 - 0.5 * std::sin (t * 12);
        pose.nearElbow = 0.4;
        pose.farElbow = 0.4;
        drawBaker (ink, pose);
    }
    DogPose dog = runningDog (wx - 130, slopeY (wx - 130) + 30, 0.72, t);
    drawDog (ink, dog);
    drawDust (ink, wx - 40, slopeY (wx - 40) + 34, t, 5);
    Ink::Hold hold (ink);
    ink.move (wx, slopeY (wx) + 34);
    ink.turn (0.4);
    drawWagon (ink, 0, 0, 0.86, wx / 11, 0.9 * std::sin (t * 13));
}

void bakerShout (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("hillClose",
                    [] (Ink& pen)
                    {
                        pen.camera (190, 130, 1.9);
                        hillside (pen);
                    });
    const double call = std::abs (std::sin (t * 8));
    ink.curve ({ { 60, 540 }, { 110, 400 }, { 220, 350 }, { 400, 350 }, { 500, 400 }, { 560, 540 } });
    ink.shapeAcross (60, 0.36, 560, 0.62, 3);
    {
        Ink::Hold hold (ink);
        ink.move (306, 258 - 8 * call);
        ink.turn (0.05 * std::sin (t * 8));
        ink.scale (3.05);
        ink.line = 0.6;
        Mood mood;
        mood.smile = -0.3;
        mood.open = 0.7 + 0.7 * call;
        mood.brows = 1;
        mood.lids = 1.2;
        mood.lookX = 0.9;
        bakerHead (ink, mood);
    }
    for (const double side : { -1.0, 1.0 })
    {
        const double x = 326 + side * (128 + 8 * call), y = 350 - 10 * call;
        ink.limb ({ { 306 + side * 250, 540 }, { 320 + side * 210, 440 }, { x + side * 14, y + 16 } }, 62, 0.5);
        ink.curve ({ { x + side * 34, y + 30 },
                     { x + side * 20, y - 34 },
                     { x - side * 8, y - 46 },
                     { x - side * 22, y - 30 },
                     { x - side * 18, y + 20 },
                     { x + side * 8, y + 44 } });
        ink.shapeBall (x, y - 10, 64, 0.94, 0.64, 2.6);
        for (int i = 0; i < 3; ++i)
            ink.penLine ({ { x - side * 14, y - 18.0 + i * 16 }, { x + side * 8, y - 22.0 + i * 16 } }, 2, 0.3);
    }
}

void runawayTrack (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("strip2", 1280, stage.frame * 17.0, true, [] (Ink& pen) { streetStrip (pen, 1280, 360, 8); });
    const double wx = 420 + 24 * std::sin (t * 2.1);
    drawDust (ink, wx - 90, 428, t, 8);
    drawDog (ink, runningDog (mix (-60, 190, ease (stage.share, 0, 0.9)), 436, 1.25, t));
    Ink::Hold hold (ink);
    ink.move (wx, 430 - 5 * std::abs (std::sin (t * 19)));
    ink.turn (0.03 * std::sin (t * 15));
    drawWagon (ink, 0, 0, 1.5, t * 22, 0.9 * std::sin (t * 11));
}

void constableHalt (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("corner",
                    [] (Ink& pen)
                    {
                        pen.camera (330, 268, 1.25);
                        streetStrip (pen, 1280, 380, 14);
                    });
    const double since = (stage.frame - kHelmetFlies) / static_cast<double> (kFilmFramesPerSecond);
    const bool hit = since >= 0;
    const double wx = -260 + 26.5 * std::max (0, stage.frame - 14);
    Pose pose;
    pose.x = 352 + (hit ? 10 * bump (since, 0, 0.5) : 0);
    pose.y = 462 - (hit ? 26 * bump (since, 0, 0.4) : 0);
    pose.size = 1.62;
    pose.way = -1;
    pose.lean = hit ? -0.18 * bump (since, 0, 0.7) : 0.03 * std::sin (t * 2);
    const double raise = ease (t, 0.35, 0.7);
    pose.nearArm = hit ? 2.4 + 0.6 * std::sin (t * 18) : mix (0.1, 1.75, raise) + 0.05 * std::sin (t * 5);
    pose.nearElbow = hit ? 0.5 : 0.05;
    pose.farArm = hit ? 2.4 - 0.6 * std::sin (t * 18) : -0.2;
    pose.mood.brows = hit ? 1 : -0.6 + 1.2 * ease (t, 1.2, 1.8);
    pose.mood.open = hit ? 0.8 : 0.25 * bump (t, 0.5, 1.2);
    pose.mood.smile = hit ? -0.4 : 0.1;
    pose.mood.lids = hit ? 1.25 : 0.9;
    pose.mood.lookX = 0.6;
    pose.mood.hat = ! hit;
    const auto wagon = [&]
    {
        drawDust (ink, wx - 80, 470, t, 21);
        drawWagon (ink, wx, 470, 1.42, t * 20, 0.9 * std::sin (t * 12));
    };
    drawConstable (ink, pose);
    wagon();
    if (hit)
    {
        Ink::Hold hold (ink);
        ink.move (352 - 40 * since, 162 - 560 * since + 520 * since * since);
        ink.turn (since * 7);
        ink.scale (-0.82, 0.82);
        ink.move (0, 60);
        drawHelmet (ink);
    }
    if (hit && since < 0.25)
        for (int i = 0; i < 7; ++i)
        {
            const double a = -2.9 + i * 0.45, r = 44 + 160 * since;
            ink.penLine ({ { 352 + std::cos (a) * r, 150 + std::sin (a) * r },
                           { 352 + std::cos (a) * (r + 26), 150 + std::sin (a) * (r + 26) } },
                         4, 0.98);
        }
}

void chase (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("chaseStreet",
                    [] (Ink& pen)
                    {
                        pen.camera (720, 262, 0.98);
                        streetStrip (pen, 1280, 392, 23);
                    });
    const double x = -150 + 15.5 * stage.frame;
    drawGull (ink, 560 - 66 * t, 80 + 10 * std::sin (t * 3), 0.8, t * 1.9);
    Pose policeman = runner (x - 70, 436, 0.98, t, 0.3);
    policeman.mood.hat = false;
    policeman.mood.brows = -0.7;
    policeman.nearArm = 2.2 + 0.3 * std::sin (t * 13);
    drawConstable (ink, policeman);
    drawBaker (ink, runner (x + 62, 446, 1.02, t, 0));
    drawDog (ink, runningDog (x + 190, 452, 0.98, t));
    drawDust (ink, x - 100, 446, t, 3);
}

void marketBarrel (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("market", [] (Ink& pen) { market (pen); });
    const double since = (stage.frame - 30) / static_cast<double> (kFilmFramesPerSecond);
    const double wx = -130 + 15.5 * stage.frame;
    Pose seller;
    seller.x = 512;
    seller.y = 392;
    seller.size = 0.98;
    seller.way = -1;
    seller.mood.hat = false;
    seller.mood.open = since > 0 ? 0.8 : 0.3 * std::abs (std::sin (t * 6));
    seller.mood.brows = since > 0 ? 1 : 0.2;
    seller.nearArm = since > 0 ? 2.5 + 0.3 * std::sin (t * 15) : 0.9 + 0.3 * std::sin (t * 4);
    seller.farArm = since > 0 ? 2.4 - 0.3 * std::sin (t * 15) : 0.2;
    seller.nod = 0.05 * std::sin (t * 5);
    drawBaker (ink, seller);
    ink.box (424, 288, 190, 58);
    ink.shapeDown (288, 0.5, 346, 0.3);
    for (int i = 1; i < 6; ++i)
        ink.penLine ({ { 426 + i * 30.0, 290 }, { 426 + i * 30.0, 344 } }, 1.2);
    const double tip = since > 0 ? std::min (kPi / 2, 5.2 * since * since + 1.2 * since) : 0;
    drawDust (ink, wx - 50, 436, t, 6);
    drawBarrel (ink, 398 + 60 * (tip / (kPi / 2)), 402 + 16 * (tip / (kPi / 2)), 1.05, tip);
    for (std::uint32_t i = 0; i < 20; ++i)
    {
        const double a = since - 0.2 - 0.03 * i;
        if (a <= 0)
            continue;
        const double vx = 60 + 230 * chance (51, i), floorY = 410 + 70 * chance (52, i);
        const double fall = std::min (1.0, a * 3.4);
        drawApple (ink, 490 + vx * a, mix (404, floorY, fall * fall) - 16 * std::abs (std::sin (a * 9)) * std::max (0.0, 1 - a),
                   9.5, a * 9);
    }
    if (since < 0)
        for (int i = 0; i < 5; ++i)
            drawApple (ink, 378 + i * 10.0, 353 - (i % 2) * 5, 9, i);
    drawWagon (ink, wx, 446, 1.05, t * 20, 0.9 * std::sin (t * 12));
    drawDog (ink, runningDog (wx - 190, 456, 0.95, t));
}

void dogRun (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("blurStreet", 960, stage.frame * 38.0, true,
                    [] (Ink& pen)
                    {
                        pen.box (-40, -40, 1060, 560);
                        pen.fillDown (-40, 0.86, 520, 0.5);
                        for (int i = 0; i < 70; ++i)
                        {
                            const double y = -20 + 8.0 * i, x = chance (6, i) * 700, w = 120 + 240 * chance (7, i);
                            pen.box (std::min (x, 950 - w), y, w, 5 + 8 * chance (8, i), 5);
                            pen.fill (0.3 + 0.6 * chance (9, i), 0.45);
                        }
                    });
    const double gallop = std::sin (t * 2 * kPi * 3.2);
    ink.curve ({ { -60, 540 }, { -40, 300 + 20 * gallop }, { 120, 250 + 22 * gallop }, { 250, 330 + 20 * gallop }, { 270, 540 } });
    ink.shapeAcross (-40, 0.7, 270, 0.99, 3);
    ink.limb ({ { 100, 330 + 20 * gallop }, { 180, 372 + 20 * gallop }, { 262, 330 + 20 * gallop } }, 20, 0.12);
    Ink::Hold hold (ink);
    ink.move (270 + 14 * std::cos (t * 20), 224 + 28 * gallop);
    ink.turn (0.12 * std::cos (t * 2 * kPi * 3.2));
    ink.scale (2.9);
    ink.line = 0.6;
    Mood mood;
    mood.lookX = 1;
    mood.brows = -0.8;
    mood.smile = 0.6;
    dogHead (ink, mood, 0.75 + 0.35 * gallop, 1 + 0.3 * gallop);
}

} // namespace shutterbeat::demo
