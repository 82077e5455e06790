#pragma once

#include "mix/SampleSource.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

namespace shutterbeat::tests
{
/// A sound given by a function of sample and channel; counts what was read.
class Formula final : public mix::SampleSource
{
public:
    using Of = std::function<float (std::int64_t sample, int channel)>;

    Formula (int samplesPerSecond, int channelCount, std::int64_t length, Of formula)
        : perSecond (samplesPerSecond)
        , wide (channelCount)
        , count (length)
        , of (std::move (formula))
    {
    }
    [[nodiscard]] int rate() const override { return perSecond; }
    [[nodiscard]] int channels() const override { return wide; }
    [[nodiscard]] std::int64_t samples() const override { return count; }
    bool read (std::int64_t first, std::span<float> out) override
    {
        for (std::size_t i = 0; i < out.size(); ++i)
        {
            const auto s = first + static_cast<std::int64_t> (i) / wide;
            out[i] = s >= 0 && s < count && ! gone ? of (s, static_cast<int> (i % static_cast<std::size_t> (wide))) : 0.0f;
        }
        return ! gone;
    }
    bool gone = false;

private:
    int perSecond, wide;
    std::int64_t count;
    Of of;
};

/// Noise that is the same each time.
inline float noiseAt (std::int64_t sample, int channel = 0)
{
    auto x =
        static_cast<std::uint64_t> (sample) * 0x9E3779B97F4A7C15ull + static_cast<std::uint64_t> (channel) * 0xBF58476D1CE4E5B9ull;
    x ^= x >> 30;
    x *= 0xBF58476D1CE4E5B9ull;
    x ^= x >> 27;
    return static_cast<float> (static_cast<double> (x >> 11) / 9007199254740992.0 - 0.5);
}

inline double sineAt (double hertz, double seconds)
{
    return std::sin (2 * std::numbers::pi * std::fmod (hertz * seconds, 1.0));
}
} // namespace shutterbeat::tests
