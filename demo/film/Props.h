#pragma once

#include "Ink.h"

namespace shutterbeat::demo
{

/// Three tiers, icing and a cherry; origin at the middle of its foot, 92 high. `wobble` leans the tiers one after another.
void drawCake (Ink& ink, double x, double y, double size, double wobble, bool cherry, bool candle = false, double flame = 0);
/// The baker's two-shelf wagon, origin on the ground below its middle, handle to the left. `roll` turns the wheels.
void drawWagon (Ink& ink, double x, double y, double size, double roll, double wobble, bool withCake = true);
/// A rowing boat from the side, origin on the water line, about 200 long.
void drawBoat (Ink& ink, double x, double y, double size, double tilt);
void drawGull (Ink& ink, double x, double y, double size, double flap);
/// A wall clock with a pendulum; hands in turns.
void drawClock (Ink& ink, double x, double y, double size, double hours, double minutes, double swing);
void drawCandle (Ink& ink, double x, double y, double size, double t, double flame);
void drawBarrel (Ink& ink, double x, double y, double size, double turn);
void drawApple (Ink& ink, double x, double y, double radius, double turn);
/// Drops thrown up from (x, y): `age` in seconds since the splash.
void drawSplash (Ink& ink, double x, double y, double size, double age, std::uint32_t seed);
/// Dust kicked up behind something that runs.
void drawDust (Ink& ink, double x, double y, double t, std::uint32_t seed);
void drawTelescope (Ink& ink, double x, double y, double size, double turn);

void drawRoundTable (Ink& ink, double x, double y, double half);

} // namespace shutterbeat::demo
