#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace shutterbeat::lineup
{
/// One channel of a sound; sample 0 is second 0.
struct Signal
{
    std::span<const float> samples;
    double rate = 48000; ///< samples a second
};

/// How rising sound is looked for.
struct FluxLook
{
    double window = 0.0232; ///< seconds looked at together, taken to the nearest power of two of samples
    double hop = 0.005;     ///< seconds from one look to the next
    double lag = 0.010;     ///< seconds back to what a look is compared with
    int bandsAnOctave = 24;

    /// For attacks: drums, piano, plucked strings.
    static FluxLook sharp() { return {}; }
    /// For bowed and blown sounds: four times the window.
    static FluxLook slow() { return { 0.0929, 0.010, 0.030, 24 }; }
};

/// A value every `hop` seconds, the first at second 0.
struct Curve
{
    double hop = 0.005;
    std::vector<float> values;

    /// Linear between values; 0 outside.
    [[nodiscard]] float at (double seconds) const;
};

/// How much new sound appears at each moment: the rise of log magnitudes in bands of equal musical width against the loudest of
/// three neighbouring bands a lag before (so that a vibrato is no attack), mean over the bands. A sound's own loudness does not
/// count: its 99.9th percentile is taken as full. `goOn` is told the fraction done and stops the work by answering false; the
/// curve is empty then. Method: maximum-filtered spectral flux (Böck and Widmer, DAFx 2013), worked out anew.
Curve fluxOf (const Signal& signal, const FluxLook& look, const std::function<bool (double)>& goOn = {});

/// The value that `part` (0 to 1) of all values do not exceed; 0 of nothing.
float percentile (std::vector<float> values, double part);
} // namespace shutterbeat::lineup
