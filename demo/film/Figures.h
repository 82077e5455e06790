#pragma once

#include "Ink.h"

namespace shutterbeat::demo
{

/// What a face does. Numbers from 0 to 1 unless said.
struct Mood
{
    double smile = 0.3; ///< -1 (unhappy) to 1
    double open = 0;    ///< how far the mouth is open
    double brows = 0;   ///< -1 (frown) to 1 (astonished)
    double lids = 1;    ///< 1 wide open, 0 shut
    double lookX = 0;   ///< -1 to 1, along the way the face is turned
    double lookY = 0;   ///< -1 (up) to 1
    double icing = 0;   ///< how much cake is on the face
    bool hat = true;
};

/// How a standing figure holds itself. The origin is the ground between the feet; a grown figure is about 200 high.
struct Pose
{
    double x = 0;
    double y = 0;
    double size = 1;        ///< 1 is 200 high
    double way = 1;         ///< 1 looks right, -1 left
    double step = 0;        ///< phase of the walk in turns; feet stand at 0 when `stride` is 0
    double stride = 0;      ///< 0 standing, 1 walking, 1.8 running
    double lean = 0;        ///< radians forward
    double nearArm = 0.2;   ///< shoulder angle: 0 hangs, positive forward and up
    double nearElbow = 0.3; ///< bend, added to the shoulder's
    double farArm = -0.1;
    double farElbow = 0.3;
    double nod = 0; ///< head, radians forward
    Mood mood;
};

/// Where a drawn figure's near hand came to lie, in the coordinates of the caller.
Point drawBaker (Ink& ink, const Pose& pose);
Point drawKeeper (Ink& ink, const Pose& pose);
Point drawConstable (Ink& ink, const Pose& pose);

/// Heads alone, for close-ups: centred at the origin, about 120 high.
void bakerHead (Ink& ink, const Mood& mood);
void keeperHead (Ink& ink, const Mood& mood);
void constableHead (Ink& ink, const Mood& mood);
/// `ears` lifts them, `tongue` lets it hang.
void dogHead (Ink& ink, const Mood& mood, double ears, double tongue);

struct DogPose
{
    double x = 0;
    double y = 0;
    double size = 1; ///< 1 is about 90 high
    double way = 1;
    double step = 0;
    double stride = 0;
    double tail = 0; ///< swing, -1 to 1
    double nod = 0;
    double ears = 0;
    double tongue = 0;
    bool sits = false;
    Mood mood;
};

void drawDog (Ink& ink, const DogPose& pose);
/// A dog at an easy trot, tail and ears going with it; t in seconds.
DogPose trottingDog (double x, double y, double size, double t);
/// A cat upon a sill, tail swinging; `turn` (-1 to 1) is where it looks.
void drawCat (Ink& ink, double x, double y, double size, double turn, double tail, double lids);
/// The three tufts and the bow of a helmet, also seen flying on its own.
void drawHelmet (Ink& ink);

} // namespace shutterbeat::demo
