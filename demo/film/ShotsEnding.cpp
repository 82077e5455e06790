#include "Figures.h"
#include "Props.h"
#include "Sets.h"
#include "Shots.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::demo
{

void party (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("partyRoom", [] (Ink& pen) { partyRoom (pen); });
    const double cheer = bump (stage.share, 0.35, 0.75);
    Pose policeman;
    policeman.x = 330;
    policeman.y = 470 + 3 * std::sin (t * 5);
    policeman.size = 1.32;
    policeman.nearArm = 0.9 + 0.3 * std::sin (t * 7);
    policeman.nearElbow = 1.2;
    policeman.mood.hat = false;
    policeman.mood.smile = 0.9;
    policeman.mood.open = 0.3 * std::abs (std::sin (t * 7));
    policeman.nod = 0.06 * std::sin (t * 5);
    drawConstable (ink, policeman);
    Pose keeper;
    keeper.x = 146 + 3 * std::sin (t * 3);
    keeper.y = 508;
    keeper.size = 1.42;
    keeper.nearArm = mix (0.7, 2.3, cheer) + 0.05 * std::sin (t * 8);
    keeper.nearElbow = mix (1.1, 0.4, cheer);
    keeper.farArm = 0.7;
    keeper.farElbow = 0.9;
    keeper.mood.smile = 1;
    keeper.mood.open = 0.3 + 0.2 * std::sin (t * 9);
    keeper.mood.brows = 0.7;
    keeper.mood.lookX = 0.7;
    keeper.nod = -0.08 * cheer + 0.05 * std::sin (t * 4);
    Pose baker;
    baker.x = 508;
    baker.y = 506 + 4 * std::abs (std::sin (t * 6));
    baker.size = 1.4;
    baker.way = -1;
    baker.nearArm = 1.2 + 0.25 * std::sin (t * 12);
    baker.nearElbow = 0.9;
    baker.farArm = 1.1 - 0.25 * std::sin (t * 12);
    baker.farElbow = 0.9;
    baker.mood.smile = 1;
    baker.mood.open = 0.35 * std::abs (std::sin (t * 5));
    baker.mood.lookX = 0.5;
    baker.nod = 0.05 * std::sin (t * 6);
    const Point cup = drawKeeper (ink, keeper);
    ink.box (cup.x - 10, cup.y - 24, 22, 24, 4);
    ink.shape (0.95);
    drawBaker (ink, baker);
    drawRoundTable (ink, 330, 420, 232);
    drawCake (ink, 330, 416, 1.15, 0.05 * std::sin (t * 5), false, true, 1 + 0.15 * wander (3, t * 6));
    for (const double x : { 190.0, 468.0 })
    {
        ink.oval (x, 420, 34, 7);
        ink.shape (0.97);
        ink.poly ({ { x - 14, 418 }, { x + 14, 418 }, { x + 10, 396 }, { x - 10, 396 } });
        ink.shape (0.88);
    }
    DogPose dog;
    dog.x = 596;
    dog.y = 486;
    dog.size = 1.1;
    dog.way = -1;
    dog.sits = true;
    dog.tail = std::sin (t * 16);
    dog.tongue = 0.5 + 0.4 * std::sin (t * 9);
    dog.nod = -0.3;
    dog.ears = 0.3 + 0.2 * std::sin (t * 10);
    drawDog (ink, dog);
    // Paper snow
    for (std::uint32_t i = 0; i < 46; ++i)
    {
        const double age = std::fmod (t * (0.22 + 0.16 * chance (2, i)) + chance (1, i), 1.0);
        Ink::Hold hold (ink);
        ink.move (chance (3, i) * 660 + 18 * std::sin (t * 3 + i), -20 + 500 * age);
        ink.turn (t * 4 + i);
        ink.box (-4, -2.5, 8, 5);
        ink.fill (i % 3 == 0 ? 0.25 : 0.97, 0.9);
    }
    candleLight (ink, 330, 300, 600, 0.42);
}

void candleOut (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("candleWall",
                    [] (Ink& pen)
                    {
                        pen.camera (300, 150, 2.4);
                        watchRoom (pen);
                    });
    const int out = 24;
    const double since = (stage.frame - out) / static_cast<double> (kFilmFramesPerSecond);
    const double flame = since < 0 ? 1 + 0.15 * wander (3, t * 7) - 0.4 * ease (stage.share, 0.35, 0.6) : 0;
    ink.glow (320, 460, 300, 60, 0, 0.6);
    drawCake (ink, 320, 540, 3.4, 0, false);
    const double lean = since < 0 ? ease (stage.share, 0.3, 0.55) : 0;
    {
        Ink::Hold hold (ink);
        ink.move (320, 262);
        drawCandle (ink, 0, 0, 1.9, t, 0);
        if (since < 0)
        {
            ink.move (0, -92);
            ink.glow (0, -20, 190 * flame, 190 * flame, 1, 0.5);
            ink.turn (0.9 * lean + 0.1 * wander (9, t * 8));
            ink.curve ({ { 0, 6 }, { -13, -14 }, { 2 * wander (31, t * 7), -26 - 44 * flame }, { 13, -14 } });
            ink.fill (1);
        }
    }
    // The keeper's moustache leans in from the left and blows
    const double in = ease (stage.share, 0.08, 0.34) - ease (stage.share, 0.72, 0.95);
    {
        Ink::Hold hold (ink);
        ink.move (mix (-190, 62, in), 210 + 3 * std::sin (t * 8));
        ink.scale (2.5);
        ink.line = 0.62;
        Mood mood;
        mood.open = 0.5 * lean;
        mood.lids = since < 0 ? 0.5 : 1;
        mood.smile = since < 0 ? 0 : 1;
        mood.lookX = 1;
        mood.brows = 0.4;
        keeperHead (ink, mood);
    }
    if (lean > 0)
        for (int i = 0; i < 4; ++i)
        {
            const double s = std::fmod (t * 3 + i * 0.25, 1.0);
            ink.penLine ({ { 190 + 90 * s, 262 - 40.0 * s - 12 * i + 14 }, { 226 + 90 * s, 246 - 40.0 * s - 12 * i + 14 } }, 2.2,
                         0.97, 0.8 * lean);
        }
    candleLight (ink, 320, 170, since < 0 ? 520 + 30 * wander (6, t * 6) : 360, since < 0 ? 0.75 : 0.9);
    if (since >= 0)
    {
        stage.darken (0.62);
        Points smoke;
        for (int i = 0; i <= 14; ++i)
            smoke.push_back ({ 320 + (3 + i * 2.2) * std::sin (i * 0.7 - t * 5), 170 - i * 13.0 * std::min (1.0, since * 2.5) });
        ink.penLine (smoke, 5, 0.8, 0.45 * (1 - ease (since, 0.3, 0.9)));
    }
}

void nightBeam (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("nightSky",
                    [] (Ink& pen)
                    {
                        pen.box (-40, -40, 720, 420);
                        pen.fillDown (-40, 0.05, 330, 0.26);
                        for (std::uint32_t i = 0; i < 90; ++i)
                        {
                            const double r = 0.6 + 1.2 * chance (5, i);
                            pen.oval (chance (3, i) * 660, chance (4, i) * 290, r, r);
                            pen.fill (0.9, 0.4 + 0.5 * chance (6, i));
                        }
                        pen.oval (108, 92, 30, 30);
                        pen.fill (0.95);
                        pen.oval (120, 84, 27, 27);
                        pen.fill (0.1);
                    });
    const double a = t * 1.5 - 0.6, lampX = 386, lampY = 146;
    const auto beam = [&] (double angle)
    {
        const double reach = 620 * std::cos (angle),
                     wide = 26 + 54 * std::abs (std::cos (angle)) + 60 * std::max (0.0, std::sin (angle));
        cairo_pattern_t* pattern = cairo_pattern_create_linear (lampX, 0, lampX + reach, 0);
        cairo_pattern_add_color_stop_rgba (pattern, 0, 1, 1, 1, 0.75);
        cairo_pattern_add_color_stop_rgba (pattern, 1, 1, 1, 1, 0.0);
        ink.poly ({ { lampX, lampY - 6 }, { lampX + reach, lampY - wide }, { lampX + reach, lampY + wide }, { lampX, lampY + 6 } });
        cairo_set_source (ink.cr, pattern);
        cairo_fill (ink.cr);
        cairo_pattern_destroy (pattern);
    };
    beam (a);
    beam (a + kPi);
    sea (ink, 318, 520, t, 0.2, 0.1, 6);
    ink.glow (lampX + 260 * std::cos (a), 372, 160, 30, 0.95, 0.3);
    {
        Ink::Hold hold (ink);
        ink.move (-92, 42);
        ink.move (476, 318);
        ink.scale (1.25);
        ink.move (-476, -318);
        islet (ink);
    }
    cairo_new_path (ink.cr);
    ink.glow (386, 250, 190, 260, 0, 0.62);
    ink.glow (lampX, lampY, 76 + 40 * std::max (0.0, std::sin (a)), 76 + 40 * std::max (0.0, std::sin (a)), 1, 0.95);
    // One lit window: somebody is still at the cake
    ink.box (380, 232, 11, 19, 5);
    ink.fill (0.85 + 0.12 * wander (7, t * 6));
    sea (ink, 420, 540, t + 9, 0.14, 0.06, 16);
}

} // namespace shutterbeat::demo
