#include "Cards.h"
#include "Figures.h"
#include "Props.h"
#include "Sets.h"
#include "Shots.h"

#include <cmath>

namespace shutterbeat::demo
{

namespace
{

/// Head and shoulders for a close-up, the head drawn by the caller afterwards.
void shoulders (Ink& ink, double x, double y, double wide, double tone, double collar)
{
    ink.curve ({ { x - wide, y + 260 },
                 { x - wide * 0.92, y + 90 },
                 { x - wide * 0.4, y + 20 },
                 { x + wide * 0.4, y + 20 },
                 { x + wide * 0.92, y + 90 },
                 { x + wide, y + 260 } });
    ink.shapeAcross (x - wide, tone * 0.7, x + wide, tone * 1.3, 3);
    ink.curve ({ { x - wide * 0.42, y + 16 },
                 { x, y + 70 },
                 { x + wide * 0.42, y + 16 },
                 { x + wide * 0.5, y + 50 },
                 { x, y + 112 },
                 { x - wide * 0.5, y + 50 } });
    ink.shape (collar, 2.4);
}

void bowl (Ink& ink, double x, double y, double size)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.curve ({ { -48, -40 }, { -42, -12 }, { -18, 0 }, { 18, 0 }, { 42, -12 }, { 48, -40 } });
    ink.shapeAcross (-48, 0.95, 48, 0.58);
    ink.oval (0, -40, 48, 9);
    ink.shape (0.82);
    ink.penLine ({ { -43, -24 }, { 0, -15 }, { 43, -24 } }, 3, 0.3);
}

} // namespace

void kitchenWhisk (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("kitchen",
                    [] (Ink& pen)
                    {
                        pen.camera (300, 236, 1.12);
                        bakery (pen);
                    });
    Ink::Hold hold (ink);
    ink.camera (300, 236, 1.12);
    ink.glow (60, 270, 90 + 14 * wander (4, t * 6), 80, 1, 0.3 + 0.1 * wander (5, t * 8));
    const double beat = t * 2 * kPi * 2.2;
    Pose pose;
    pose.x = 288 + 3 * std::sin (t * 2);
    pose.y = 446;
    pose.size = 1.38;
    pose.nearArm = 0.72 + 0.16 * std::sin (beat);
    pose.nearElbow = 0.75 + 0.2 * std::cos (beat);
    pose.farArm = 0.72;
    pose.farElbow = 0.95;
    pose.lean = 0.05 + 0.02 * std::sin (beat);
    pose.nod = 0.1 + 0.05 * std::sin (t * 3.1) - 0.2 * ease (stage.share, 0.66, 0.8);
    pose.mood.smile = 0.9;
    pose.mood.lookY = 0.7 - 1.2 * ease (stage.share, 0.66, 0.8);
    pose.mood.lookX = 0.4;
    pose.mood.lids = stage.frame % 41 < 3 ? 0.05 : 0.9;
    const Point hand = drawBaker (ink, pose);
    bakeryTable (ink, 372);
    const double bx = 384;
    ink.limb ({ hand, { bx + 10 * std::sin (beat), 318 + 6 * std::cos (beat) } }, 4, 0.4);
    bowl (ink, bx, 372, 1.1);
    // Batter thrown about, and a cloud of flour
    for (std::uint32_t i = 0; i < 9; ++i)
    {
        const double age = std::fmod (t * 1.3 + i * 0.37, 1.0);
        const auto turn = static_cast<std::uint32_t> (t * 1.3 + i * 0.37);
        const double out = (chance (i, turn) - 0.5) * 130;
        ink.oval (bx + out * age, 322 - 150 * age + 190 * age * age, 3.2, 3.8);
        ink.shape (0.98, 1);
        ink.glow (bx + out * 0.7 * age, 318 - 46 * age, 20 + 20 * age, 16 + 12 * age, 1, 0.25 * (1 - age));
    }
    ink.box (470, 342, 46, 30, 4);
    ink.shapeAcross (470, 0.9, 516, 0.7);
    ink.oval (186, 362, 13, 10);
    ink.shape (0.96);
    ink.oval (212, 363, 12, 9);
    ink.shape (0.93);
}

void bakerClose (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("kitchenClose",
                    [] (Ink& pen)
                    {
                        pen.camera (420, 150, 2.3);
                        bakery (pen);
                    });
    const double see = ease (stage.share, 0.42, 0.55);
    const double bob = 5 * std::sin (t * 14) * (1 - see) - 10 * bump (stage.share, 0.42, 0.62);
    shoulders (ink, 300, 300 + bob * 0.5, 190, 0.5, 0.96);
    Ink::Hold hold (ink);
    ink.move (300, 250 + bob);
    ink.turn (0.05 * std::sin (t * 5) - 0.1 * see);
    ink.scale (2.75);
    ink.line = 0.62;
    Mood mood;
    mood.smile = mix (0.9, 0.1, see);
    mood.open = 0.75 * see * (0.9 + 0.1 * std::sin (t * 9));
    mood.brows = mix (0.1, 1, see);
    mood.lids = stage.frame >= 14 && stage.frame < 17 ? 0.05 : 0.9 + 0.3 * see;
    mood.lookX = mix (0.3, 1, see);
    mood.lookY = mix (0.8, -0.8, see);
    bakerHead (ink, mood);
    ink.glow (38, 26, 5, 4, 1, 0.9); // flour on her cheek
}

void clockInsert (Stage& stage)
{
    Ink& ink = stage.ink;
    stage.backdrop ("clockWall",
                    [] (Ink& pen)
                    {
                        pen.camera (250, 60, 2.6);
                        pen.box (-40, -200, 720, 620);
                        pen.fillAcross (100, 0.5, 420, 0.74);
                        for (int i = 0; i < 70; ++i)
                        {
                            const double x = 110 + (i % 10) * 32.0 + (i / 10 % 2) * 16, y = -60 + (i / 10) * 36.0;
                            pen.penLine ({ { x, y + 6 }, { x + 1, y }, { x - 3, y - 4 } }, 1.2, 0.3, 0.5);
                            pen.oval (x + 3, y - 3, 2.4, 2.4);
                            pen.fill (0.92, 0.5);
                        }
                    });
    const double minute = mix (0.93, 1.0, ease (stage.share, 0.1, 0.75));
    const double shake = stage.share > 0.72 ? 1.6 * std::sin (stage.frame * 2.4) : 0;
    ink.glow (350 + shake, 250, 220, 210, 0, 0.5);
    drawClock (ink, 322 + shake, 188, 1.75, (3 + minute) / 12, minute, std::sin (stage.t * 2 * kPi * 1.1));
}

void letterInsert (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("desk",
                    [] (Ink& pen)
                    {
                        pen.box (-40, -40, 720, 560);
                        pen.fillAcross (0, 0.26, 640, 0.16);
                        for (int i = 0; i < 9; ++i)
                        {
                            const double y = -20 + i * 62.0;
                            pen.penLine ({ { -40, y }, { 680, y + 10 } }, 2.4);
                            for (int j = 0; j < 4; ++j)
                                pen.penLine ({ { -40.0 + j * 180, y + 16 + j * 9 },
                                               { 60.0 + j * 170, y + 22 + j * 8 },
                                               { 200.0 + j * 170, y + 18 + j * 9 } },
                                             1.2, 0.1, 0.7);
                        }
                    });
    Ink::Hold hold (ink);
    ink.move (322 + 3 * wander (12, t * 1.5), 236 + 3 * wander (13, t * 1.7));
    ink.turn (-0.035 + 0.012 * wander (14, t * 2.2));
    ink.glow (10, 16, 330, 260, 0, 0.8);
    ink.poly ({ { -232, -176 }, { 226, -182 }, { 236, 178 }, { -222, 186 } });
    ink.shapeAcross (-232, 0.78, 236, 0.97, 2.4);
    ink.penLine ({ { -228, 2 }, { 0, -2 }, { 232, 0 } }, 1.4, 0.5, 0.6);
    ink.penLine ({ { 0, -178 }, { 3, 0 }, { 4, 180 } }, 1.2, 0.6, 0.5);
    writeText (ink,
               "Dear Madam,\n     one birthday cake, please,\nfor one person.\n          Yours, Old Grævling,\n                    "
               "the Lighthouse.",
               "EB Garamond, serif Italic 27", -200, -134, 460, 0.1);
    ink.glow (150 - 120 * stage.share, 120, 120, 60, 0, 0.14);
    // Her thumb and fingers hold the sheet
    const double slide = 2.5 * std::sin (t * 3.3);
    ink.curve ({ { 250, 96 + slide },
                 { 206, 92 + slide },
                 { 172, 104 + slide },
                 { 168, 124 + slide },
                 { 190, 136 + slide },
                 { 240, 142 + slide },
                 { 330, 190 },
                 { 340, 110 } });
    ink.shapeBall (210, 108, 130, 0.92, 0.6, 2.6);
    ink.curve ({ { 172, 108 + slide }, { 186, 103 + slide }, { 198, 108 + slide }, { 194, 122 + slide }, { 176, 122 + slide } });
    ink.shape (0.97, 1.6);
    ink.penLine ({ { 224, 104 + slide }, { 228, 116 + slide } }, 1.6, 0.3);
}

void kitchenCherry (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("kitchenLow",
                    [] (Ink& pen)
                    {
                        pen.camera (330, 270, 1.02);
                        bakery (pen);
                    });
    const double reach = ease (stage.share, 0.12, 0.4);
    const double placed = stage.share > 0.46 ? 1 : 0;
    const double joy = ease (stage.share, 0.56, 0.66);
    ink.glow (60, 260, 90 + 12 * wander (4, t * 6), 70, 1, 0.3);
    drawWagon (ink, 418, 440, 1.36, 0, placed > 0 ? 0.25 * std::sin (t * 16) * (1 - ease (stage.share, 0.46, 0.6)) : 0);
    Pose pose;
    pose.x = 282 + 14 * reach - 26 * joy;
    pose.y = 446 - 8 * std::abs (std::sin (t * 7)) * joy;
    pose.size = 1.5;
    pose.lean = 0.12 * reach - 0.16 * joy;
    pose.nearArm = mix (mix (0.4, 1.62, reach), 1.2 + 0.2 * std::sin (t * 14), joy);
    pose.nearElbow = mix (mix (1.4, 0.3, reach), 1.0 + 0.3 * std::sin (t * 14), joy);
    pose.farArm = mix (0.3, 1.15 - 0.2 * std::sin (t * 14), joy);
    pose.farElbow = mix (0.7, 1.0 - 0.3 * std::sin (t * 14), joy);
    pose.mood.smile = mix (0.2, 1, joy);
    pose.mood.open = 0.45 * joy;
    pose.mood.lids = mix (0.7, 1, joy);
    pose.mood.lookX = 0.8;
    pose.mood.lookY = 0.3;
    pose.nod = 0.12 * reach - 0.1 * joy + 0.03 * std::sin (t * 4);
    const Point hand = drawBaker (ink, pose);
    if (placed <= 0)
        drawApple (ink, hand.x + 9, hand.y + 5, 9, 0);
    DogPose dog;
    dog.x = 556;
    dog.y = 462;
    dog.size = 1.15;
    dog.way = -1;
    dog.sits = true;
    dog.tail = std::sin (t * 15);
    dog.nod = -0.5 - 0.08 * std::sin (t * 5);
    dog.tongue = 0.6 + 0.3 * std::sin (t * 10);
    dog.ears = 0.2 + 0.2 * joy * std::sin (t * 14);
    dog.mood.lookX = 0.6;
    dog.mood.lookY = -0.6;
    drawDog (ink, dog);
}

void dogClose (Stage& stage)
{
    Ink& ink = stage.ink;
    const double t = stage.t;
    stage.backdrop ("kitchenDog",
                    [] (Ink& pen)
                    {
                        pen.camera (390, 340, 2.4);
                        bakery (pen);
                    });
    ink.glow (600, 470, 230, 60, 0, 0.5);
    drawCake (ink, 588, 470, 3.1, 0.04 * std::sin (t * 3), true);
    const double near = ease (stage.share, 0.1, 0.6);
    const double sniff = 4 * std::sin (t * 22) * (1 - ease (stage.share, 0.55, 0.65));
    ink.curve ({ { 60, 520 }, { 90, 380 }, { 170, 300 }, { 270, 320 }, { 300, 420 }, { 300, 520 } });
    ink.shapeAcross (60, 0.72, 300, 0.99, 3);
    ink.limb ({ { 120, 392 }, { 190, 420 }, { 290, 386 } }, 20, 0.12);
    ink.oval (214, 428, 15, 15);
    ink.shapeBall (210, 424, 18, 1, 0.55);
    Ink::Hold hold (ink);
    ink.move (206 + 44 * near, 240 + sniff);
    ink.turn (-0.12 + 0.1 * near);
    ink.scale (3);
    ink.line = 0.6;
    Mood mood;
    mood.lookX = 1;
    mood.lookY = 0.1 + 0.3 * std::sin (t * 4);
    mood.brows = near;
    mood.lids = stage.frame > 24 && stage.frame < 27 ? 0.1 : 1;
    mood.smile = near;
    dogHead (ink, mood, 0.15 + 0.1 * std::sin (t * 9), bump (stage.share, 0.6, 1.0) * 1.2);
}

} // namespace shutterbeat::demo
