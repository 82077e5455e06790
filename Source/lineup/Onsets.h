#pragma once

#include "lineup/Flux.h"

#include <vector>

namespace shutterbeat::lineup
{
/// The beginning of a note or stroke.
struct Onset
{
    double seconds = 0;  ///< from sample 0: where it begins to sound, not where it is loudest
    float strength = 0;  ///< flux at its peak; 0.05 and more is a clear attack
    bool pinned = false; ///< its attack was found in the samples themselves, to about a millisecond
};

/// How onsets are picked from a curve.
struct OnsetLook
{
    double share = 0.11;   ///< of the curve's 99.5th percentile: what a peak must rise above `dense` times the mean around it
    double least = 0.004;  ///< and at least this much
    double around = 0.160; ///< seconds before and after that this mean is taken over
    double dense = 2;
    double pin = 1.5;     ///< energy after to energy before from which an attack counts as found in the samples
    double apart = 0.030; ///< seconds; of two peaks closer than this the higher one counts
    double bias = 0;      ///< seconds by which the curve's peaks lie late; taken off where the attack could not be pinned
};

/// Peaks of a curve in time order, each set back to where its attack begins in the samples. Look and curve belong together:
/// sharpOnsets and slowOnsets know theirs.
std::vector<Onset> onsetsOf (const Signal& signal, const Curve& curve, const OnsetLook& look);

std::vector<Onset> sharpOnsets (const Signal& signal, const Curve& curve);
std::vector<Onset> slowOnsets (const Signal& signal, const Curve& curve);

/// Where an attack begins close to a moment: the place where the energy of the next 8 ms most exceeds that of the last 8 ms,
/// looked for from 25 ms before to 15 ms after, no further (a plucked string's body follows its pluck). Nothing when it does not
/// exceed it by half: there is no attack to be pinned.
struct Attack
{
    double seconds = 0;
    double ratio = 1; ///< energy after to energy before
};
Attack attackNear (const Signal& signal, double seconds, double before = 0.025, double after = 0.015);
} // namespace shutterbeat::lineup
