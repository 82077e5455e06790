#pragma once

#include "overlay/Patch.h"
#include "overlay/Sketch.h"

#include <string>
#include <vector>

namespace shutterbeat::overlay
{
/// One frame of the countdown before a picture.
struct LeaderFrame
{
    int second = 0;      ///< how many seconds are left, rounded up: the number shown
    int frame = 0;       ///< which frame of that second, from 0
    int frames = 24;     ///< frames in a second
    std::string title;   ///< of the film
    std::string details; ///< edition, final rate, start timecode: one line
};

/// Our own countdown: the seconds left in large figures, below them a mark for each frame of the second, those that have
/// gone lit. The patches lie inside `picture`.
std::vector<Patch> drawLeader (const Letters& letters, const Box& picture, const LeaderFrame& frame);

/// A made card: its wording in a thin frame. The patch lies inside `picture`.
Patch drawCard (const Letters& letters, const Box& picture, const std::string& wording);
} // namespace shutterbeat::overlay
