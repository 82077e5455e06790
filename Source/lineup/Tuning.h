#pragma once

#include "lineup/Flux.h"

namespace shutterbeat::lineup
{
/// How a sound is tuned against the notes of equal temperament at a' = 440 Hz.
struct Tuning
{
    double cents = 0;         ///< -50 to 50, of 100 a semitone; above zero is higher
    double concentration = 0; ///< 0 to 1: how far its partials agree; below 0.5 nothing should be built on it
};

/// Mean over the spectral peaks between 110 and 1800 Hz of up to two minutes, on the circle of a semitone.
Tuning tuningOf (const Signal& signal, const std::function<bool (double)>& goOn = {});

/// Where a tuning lies after the sound runs `ratio` times as long: cents on the same circle. The pitch of a file played at a wrong
/// sample rate moves so; that of music played anew at another tempo does not.
double movedCents (double cents, double ratio);

/// The shorter way round the circle from one tuning to another, 0 to 50.
double centsApart (double a, double b);
} // namespace shutterbeat::lineup
