#include "Figures.h"

#include <cmath>

namespace shutterbeat::demo
{

namespace
{

struct Leg
{
    Point knee;
    Point foot;
    double toe; ///< radians the shoe is tipped
};

/// A walking leg from a hip: the foot runs an ellipse flattened on the ground, the knee bends forward.
Leg legAt (Point hip, double phase, double stride, double length)
{
    const double a = phase * 2 * kPi;
    const double swing = std::sin (a) * 0.42 * length * std::min (stride, 1.5) * (stride > 0 ? 1 : 0);
    const double lift = std::max (0.0, std::cos (a)) * 0.24 * length * stride;
    const Point foot{ hip.x + swing, -lift };
    const Point middle{ (hip.x + foot.x) / 2, (hip.y + foot.y) / 2 };
    const double bend = 3 + lift * 0.75;
    return { { middle.x + bend, middle.y - lift * 0.15 }, foot, -lift * 0.02 + swing * 0.006 };
}

void shoe (Ink& ink, const Leg& leg, double grey, double size)
{
    Ink::Hold hold (ink);
    ink.move (leg.foot.x, leg.foot.y);
    ink.turn (leg.toe);
    ink.scale (size);
    ink.curve ({ { -8, 0 }, { -9, -10 }, { 4, -11 }, { 16, -6 }, { 20, 0 } });
    ink.shape (grey);
}

struct Arm
{
    Point elbow;
    Point hand;
};

Arm armAt (Point shoulder, double angle, double bend, double upper, double lower)
{
    const Point elbow{ shoulder.x + std::sin (angle) * upper, shoulder.y + std::cos (angle) * upper };
    return { elbow, { elbow.x + std::sin (angle + bend) * lower, elbow.y + std::cos (angle + bend) * lower } };
}

void drawArm (Ink& ink, Point shoulder, const Arm& arm, double width, double sleeve, double cuff)
{
    ink.limb ({ shoulder, arm.elbow, arm.hand }, width, sleeve);
    ink.oval (arm.hand.x, arm.hand.y, width * 0.55, width * 0.55);
    ink.shape (0.84);
    const Point wrist{ mix (arm.elbow.x, arm.hand.x, 0.74), mix (arm.elbow.y, arm.hand.y, 0.74) };
    ink.oval (wrist.x, wrist.y, width * 0.56, width * 0.56);
    ink.shape (cuff, 1.2);
}

void shadowOnGround (Ink& ink, double wide)
{
    ink.glow (0, 1, wide, wide * 0.16, 0.0, 0.6);
}

void placeHead (Ink& ink, double x, double y, double size, double nod, const Mood& mood, void (*head) (Ink&, const Mood&))
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.turn (nod);
    ink.scale (size);
    ink.line *= 1.45;
    head (ink, mood);
}

Point toCaller (const Pose& pose, double bob, Point p)
{
    const double c = std::cos (pose.lean), s = std::sin (pose.lean);
    const double x = p.x * c - (p.y) * s, y = p.x * s + p.y * c;
    return { pose.x + pose.way * pose.size * x, pose.y + pose.size * (y + bob) };
}

double bobOf (const Pose& pose)
{
    return -std::abs (std::sin (pose.step * 2 * kPi)) * -4 * pose.stride - 3 * pose.stride;
}

void enter (Ink& ink, const Pose& pose, double shadow)
{
    ink.move (pose.x, pose.y);
    ink.scale (pose.size * pose.way, pose.size);
    ink.line *= 1 / std::sqrt (std::max (pose.size, 0.2));
    shadowOnGround (ink, shadow);
}

} // namespace

Point drawBaker (Ink& ink, const Pose& pose)
{
    Ink::Hold hold (ink);
    enter (ink, pose, 62);
    const double bob = bobOf (pose);
    const Leg far = legAt ({ 6, -50 }, pose.step + 0.5, pose.stride, 50), near = legAt ({ -6, -50 }, pose.step, pose.stride, 50);
    ink.limb ({ { 6, -50 }, far.knee, { far.foot.x, far.foot.y - 6 } }, 11, 0.5);
    shoe (ink, far, 0.12, 1);
    ink.limb ({ { -6, -50 }, near.knee, { near.foot.x, near.foot.y - 6 } }, 11, 0.6);
    shoe (ink, near, 0.15, 1);
    ink.move (0, bob);
    ink.turn (pose.lean);
    const Point shoulder{ -2, -134 };
    const Arm farArm = armAt ({ 12, -134 }, pose.farArm, pose.farElbow, 30, 28);
    drawArm (ink, { 12, -134 }, farArm, 13, 0.42, 0.9);
    // Skirt swings against the step; apron over it, bow behind
    const double sway = std::sin (pose.step * 2 * kPi) * 6 * pose.stride;
    ink.curve ({ { -24, -98 },
                 { 0, -104 },
                 { 26, -98 },
                 { 44 + sway, -50 },
                 { 52 + sway, -22 },
                 { 0 + sway * 0.5, -17 },
                 { -54 + sway, -22 },
                 { -42 + sway * 0.6, -56 } });
    ink.shapeAcross (-56, 0.2, 56, 0.44);
    for (int i = -2; i <= 2; ++i)
        ink.penLine ({ { i * 9.0, -92 }, { i * 14.0 + sway * 0.5, -56 }, { i * 19.0 + sway, -22 } }, 1.2, 0.1, 0.7);
    ink.curve (
        { { -6, -100 }, { 26, -98 }, { 42 + sway, -54 }, { 46 + sway, -34 }, { 20 + sway, -26 }, { -6 + sway, -32 }, { -8, -66 } });
    ink.shapeDown (-100, 0.98, -26, 0.8);
    ink.penLine ({ { 10, -94 }, { 16, -66 }, { 18 + sway, -34 } }, 1.2, 0.4);
    ink.curve ({ { -24, -100 }, { -40, -110 }, { -42, -96 }, { -28, -98 }, { -40 + sway * 0.4, -76 }, { -30, -80 } });
    ink.shape (0.94, 1.6);
    // Bodice with a bib
    ink.curve ({ { -30, -98 }, { -34, -122 }, { -22, -148 }, { 4, -152 }, { 26, -146 }, { 36, -120 }, { 28, -98 } });
    ink.shapeAcross (-36, 0.3, 40, 0.55);
    ink.curve ({ { 4, -100 }, { 6, -140 }, { 24, -142 }, { 32, -120 }, { 26, -99 } });
    ink.shape (0.95, 1.6);
    ink.curve ({ { -14, -148 }, { 4, -156 }, { 22, -146 }, { 8, -138 } });
    ink.shape (0.96, 1.6);
    placeHead (ink, 4, -172, 0.56, pose.nod, pose.mood, bakerHead);
    const Arm nearArm = armAt (shoulder, pose.nearArm, pose.nearElbow, 31, 30);
    drawArm (ink, shoulder, nearArm, 14, 0.5, 0.95);
    ink.oval (shoulder.x, shoulder.y, 12, 13);
    ink.shapeBall (shoulder.x - 2, shoulder.y - 4, 16, 0.66, 0.44, 1.6);
    return toCaller (pose, bob, nearArm.hand);
}

Point drawKeeper (Ink& ink, const Pose& pose)
{
    Ink::Hold hold (ink);
    enter (ink, pose, 48);
    const double bob = bobOf (pose);
    const Leg far = legAt ({ 8, -74 }, pose.step + 0.5, pose.stride, 74), near = legAt ({ -7, -74 }, pose.step, pose.stride, 74);
    ink.limb ({ { 8, -74 }, far.knee, { far.foot.x, far.foot.y - 8 } }, 17, 0.2);
    shoe (ink, far, 0.1, 1.2);
    ink.limb ({ { -7, -74 }, near.knee, { near.foot.x, near.foot.y - 8 } }, 18, 0.26);
    shoe (ink, near, 0.13, 1.2);
    ink.move (0, bob);
    ink.turn (pose.lean);
    const Point shoulder{ -6, -140 };
    drawArm (ink, { 14, -140 }, armAt ({ 14, -140 }, pose.farArm, pose.farElbow, 34, 32), 15, 0.2, 0.6);
    ink.curve ({ { -30, -60 }, { -34, -100 }, { -26, -148 }, { 0, -156 }, { 26, -148 }, { 38, -104 }, { 34, -58 }, { 0, -52 } });
    ink.shapeAcross (-36, 0.16, 42, 0.4);
    ink.penLine ({ { 16, -140 }, { 22, -100 }, { 18, -56 } }, 1.6, 0.07);
    for (int i = 0; i < 4; ++i)
        for (const double x : { 10.0, 26.0 })
        {
            ink.oval (x + std::sin (i * 0.9) * 2, -130 + i * 17, 2.6, 2.6);
            ink.shape (0.9, 1);
        }
    ink.box (-22, -88, 16, 10, 2);
    ink.outline (1.4, 0.8);
    placeHead (ink, 4, -174, 0.54, pose.nod, pose.mood, keeperHead);
    const Arm nearArm = armAt (shoulder, pose.nearArm, pose.nearElbow, 35, 33);
    drawArm (ink, shoulder, nearArm, 17, 0.3, 0.7);
    return toCaller (pose, bob, nearArm.hand);
}

Point drawConstable (Ink& ink, const Pose& pose)
{
    Ink::Hold hold (ink);
    enter (ink, pose, 46);
    const double bob = bobOf (pose);
    const Leg far = legAt ({ 8, -92 }, pose.step + 0.5, pose.stride, 84), near = legAt ({ -6, -92 }, pose.step, pose.stride, 84);
    ink.limb ({ { 8, -92 }, far.knee, { far.foot.x, far.foot.y - 8 } }, 15, 0.14);
    shoe (ink, far, 0.08, 1.35);
    ink.limb ({ { -6, -92 }, near.knee, { near.foot.x, near.foot.y - 8 } }, 16, 0.19);
    shoe (ink, near, 0.1, 1.35);
    ink.move (0, bob);
    ink.turn (pose.lean);
    const Point shoulder{ -6, -156 };
    drawArm (ink, { 14, -156 }, armAt ({ 14, -156 }, pose.farArm, pose.farElbow, 36, 34), 14, 0.17, 0.97);
    ink.curve ({ { -26, -76 }, { -24, -112 }, { -30, -158 }, { 0, -172 }, { 30, -158 }, { 28, -112 }, { 34, -76 }, { 0, -70 } });
    ink.shapeAcross (-32, 0.11, 36, 0.34);
    ink.curve ({ { -26, -106 }, { 0, -101 }, { 29, -106 }, { 29, -95 }, { 0, -90 }, { -26, -95 } });
    ink.shape (0.08, 1.4);
    ink.box (8, -107, 13, 13, 2);
    ink.shape (0.9, 1.4);
    for (int i = 0; i < 4; ++i)
    {
        ink.oval (16, -150 + i * 12, 2.7, 2.7);
        ink.shape (0.92, 1);
    }
    placeHead (ink, 3, -188, 0.5, pose.nod, pose.mood, constableHead);
    const Arm nearArm = armAt (shoulder, pose.nearArm, pose.nearElbow, 37, 35);
    drawArm (ink, shoulder, nearArm, 15, 0.23, 0.97);
    return toCaller (pose, bob, nearArm.hand);
}

void drawDog (Ink& ink, const DogPose& pose)
{
    Ink::Hold hold (ink);
    ink.move (pose.x, pose.y);
    ink.scale (pose.size * pose.way, pose.size);
    ink.line *= 1 / std::sqrt (std::max (pose.size, 0.2));
    shadowOnGround (ink, 46);
    const double run = pose.stride;
    const double bob = run > 0 ? std::sin (pose.step * 4 * kPi) * 4 * run : 0;
    const double pitch = pose.sits ? -0.62 : (run > 1 ? std::sin (pose.step * 2 * kPi) * 0.14 : 0);
    const Point rump{ -30, -34 }, chest{ 26, -36 };
    const auto leg = [&] (Point hip, double phase, double grey)
    {
        const Leg l = legAt (hip, phase, run, -hip.y);
        ink.limb ({ hip, { l.knee.x - 4, l.knee.y }, { l.foot.x, l.foot.y - 3 } }, 9, grey);
        ink.oval (l.foot.x + 3, l.foot.y - 3.5, 7, 4);
        ink.shape (grey, 1.5);
    };
    const double back = pose.sits ? 8 : 0;
    leg ({ chest.x + 3, chest.y + 12 }, pose.step + 0.45, 0.7);
    if (! pose.sits)
        leg ({ rump.x + 4, rump.y + 8 }, pose.step + 0.05, 0.7);
    ink.move (0, bob);
    // Tail
    ink.limb ({ { rump.x - 6, rump.y - 4 + back * 2 },
                { rump.x - 20, rump.y - 16 + back },
                { rump.x - 20 + pose.tail * 13, rump.y - 32 + back } },
              7, 0.22);
    {
        Ink::Hold body (ink);
        ink.move (chest.x, chest.y);
        ink.turn (pitch);
        ink.move (-chest.x, -chest.y);
        ink.curve ({ { -42, -42 }, { -14, -50 }, { 22, -56 }, { 42, -42 }, { 38, -22 }, { 8, -20 }, { -20, -24 }, { -42, -24 } });
        ink.shapeDown (-56, 0.99, -18, 0.7);
        ink.curve ({ { -36, -43 }, { -16, -48 }, { -4, -42 }, { -14, -32 }, { -32, -32 } });
        ink.fill (0.24);
    }
    if (pose.sits)
    {
        ink.curve ({ { -30, -4 }, { -26, -28 }, { -8, -30 }, { 2, -12 }, { -4, -1 } });
        ink.shape (0.9);
    }
    ink.move (0, -bob);
    leg ({ chest.x - 4, chest.y + 14 }, pose.step + 0.55, 0.94);
    if (! pose.sits)
        leg ({ rump.x - 2, rump.y + 10 }, pose.step + 0.12, 0.94);
    ink.move (0, bob);
    ink.limb ({ { 28, -44 }, { 36, -58 } }, 19, 0.92);
    ink.penLine ({ { 21, -52 }, { 32, -46 }, { 43, -52 } }, 4.2, 0.1);
    Ink::Hold head (ink);
    ink.move (40, -70);
    ink.turn (pose.nod);
    ink.scale (0.56);
    ink.line *= 1.45;
    dogHead (ink, pose.mood, pose.ears, pose.tongue);
}

DogPose trottingDog (double x, double y, double size, double t)
{
    DogPose dog;
    dog.x = x;
    dog.y = y;
    dog.size = size;
    dog.step = t * 2.3;
    dog.stride = 1;
    dog.tail = std::sin (t * 17);
    dog.tongue = 0.4 + 0.2 * std::sin (t * 12);
    dog.ears = 0.15 + 0.12 * std::sin (t * 14);
    dog.mood.lookX = 0.7;
    dog.mood.smile = 0.7;
    return dog;
}

void drawCat (Ink& ink, double x, double y, double size, double turn, double tail, double lids)
{
    Ink::Hold hold (ink);
    ink.move (x, y);
    ink.scale (size);
    ink.line *= 1 / std::sqrt (size);
    ink.limb ({ { 26, -10 }, { 48, 2 }, { 52 + tail * 8, 26 }, { 44 + tail * 20, 46 } }, 9, 0.16);
    ink.curve ({ { -30, 0 }, { -30, -36 }, { -14, -64 }, { 14, -64 }, { 32, -34 }, { 34, 0 } });
    ink.shapeBall (-4, -40, 56, 0.34, 0.13);
    for (const double side : { -1.0, 1.0 })
    {
        ink.oval (side * 11, -5, 10, 7);
        ink.shape (0.85, 1.6);
    }
    ink.move (turn * 6, -74);
    for (const double side : { -1.0, 1.0 })
    {
        ink.poly ({ { side * 24, -6 }, { side * 24, -38 }, { side * 6, -22 } });
        ink.shape (0.2);
    }
    ink.oval (0, 0, 29, 25);
    ink.shapeBall (-5, -8, 34, 0.36, 0.14);
    ink.oval (turn * 4, 10, 13, 9);
    ink.fill (0.85);
    for (const double side : { -1.0, 1.0 })
    {
        ink.oval (side * 11 + turn * 5, -4, 6.5, std::max (0.8, 8 * lids));
        ink.shape (0.95, 1.3);
        ink.oval (side * 11 + turn * 9, -4, 2.2, std::max (0.4, 6.5 * lids));
        ink.fill (0.05);
        for (int i = 0; i < 3; ++i)
            ink.penLine ({ { side * 8 + turn * 4, 10.0 + i }, { side * 36 + turn * 3, 4.0 + i * 6 } }, 1, 0.9);
    }
    ink.poly ({ { turn * 5 - 4, 5 }, { turn * 5 + 4, 5 }, { turn * 5, 10 } });
    ink.fill (0.08);
}

} // namespace shutterbeat::demo
