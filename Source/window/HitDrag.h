#pragma once

#include "film/Timings.h"

#include <string>

namespace shutterbeat::window
{
/// A hit on its way to another place, before the mouse lets go.
struct HitDrag
{
    std::string hit;
    film::Position at;
    bool moved = false;
    std::string snapped; ///< what it has caught on: "the cut to shot 3", "bar 2 beat 1"; empty: nothing
};
} // namespace shutterbeat::window
