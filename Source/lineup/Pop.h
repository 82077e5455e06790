#pragma once

#include "lineup/Flux.h"

#include <vector>

namespace shutterbeat::lineup
{
/// A sync pop in a sound: a tone of 1 kHz, about a frame long, with silence around it.
struct Pop
{
    double seconds = 0; ///< where it begins, from sample 0
    double length = 0;  ///< seconds
};

/// Every pop of a sound, in order: 800 to 1200 Hz, 15 to 100 ms long, and 0.4 s before and after it 30 dB and more below it.
std::vector<Pop> popsOf (const Signal& signal);

/// Where a sound really begins and ends: the first and last moment that is less than 45 dB below its loud parts.
struct Sounding
{
    double first = 0, last = 0; ///< seconds from sample 0; both 0 of a silent sound
    bool silent = true;
};
Sounding soundingOf (const Signal& signal);
} // namespace shutterbeat::lineup
