#pragma once

#include "film/Timings.h"

#include <atomic>
#include <string>

namespace shutterbeat::window
{
/// Work that goes on in the background.
struct Job
{
    std::string what;
    std::atomic<double> fraction{ 0 };
    std::atomic<bool> cancelled{ false };
};

/// A hit on its way to another place, before the mouse lets go.
struct HitDrag
{
    std::string hit;
    film::Position at;
    bool moved = false;
    std::string snapped; ///< what it has caught on: "the cut before shot 3"; empty: nothing
};
} // namespace shutterbeat::window
