#pragma once

#include "spotting/Hit.h"

#include <vector>

namespace shutterbeat::spotting
{
/// One step of an outline in the square from (0, 0) to (1, 1), y downward.
struct MarkStep
{
    enum class Kind
    {
        move,
        line,
        curve, ///< cubic, through control points 1 and 2
        close
    };
    Kind kind = Kind::move;
    double x = 0, y = 0;                   ///< where it goes
    double x1 = 0, y1 = 0, x2 = 0, y2 = 0; ///< control points of a curve
};

/// The shape of a kind of hit: its outline, filled by the even-odd rule. Pure numbers, drawn alike by whatever draws.
/// Cut: a notched tick. Card: a small frame. Gag: a four-point spark. Action: a wedge pointing on. Entrance: a doorway.
/// Effect: a ring. Mood: a wave. Music seen: a note. Stop: an octagon.
std::vector<MarkStep> markShape (HitKind kind);

/// From which height of the square downward the shape is filled: must 0 (all), should one half, may 1 (outline only).
double markFillFrom (Weight weight);

/// Centre and radius of the dot that stands above the shape of an open question, in the same square.
struct MarkDot
{
    double x = 0.5, y = -0.26, radius = 0.12;
};
} // namespace shutterbeat::spotting
