#include "mix/Loudness.h"

#include "time/Rational.h"

#include <algorithm>
#include <cmath>
#include <ebur128.h>

namespace shutterbeat::mix
{
namespace
{
/// One decimal, as meters show it.
std::string tenths (double value)
{
    return time::decimalText (time::Rational (static_cast<std::int64_t> (std::llround (value * 10))) / time::Rational (10), 1);
}

std::optional<double> finite (double value)
{
    return std::isfinite (value) ? std::optional (value) : std::nullopt;
}
} // namespace

std::string loudnessText (const Loudness& loudness)
{
    if (! loudness.truePeak)
        return "silent";
    return (loudness.integrated ? tenths (*loudness.integrated) + " LUFS" : std::string ("too soft to be measured"))
           + (loudness.range ? ", range " + tenths (*loudness.range) + " LU" : "") + ", true peak " + tenths (*loudness.truePeak)
           + " dBTP";
}

struct LoudnessMeter::State
{
    ebur128_state* meter = nullptr;
    int samplesPerSecond = 48000;
    std::int64_t samples = 0, lastLook = 0;
    double loudestShort = -INFINITY;

    State() = default;
    State (const State&) = delete;
    State& operator= (const State&) = delete;
    ~State() { ebur128_destroy (&meter); }
};

LoudnessMeter::LoudnessMeter (int samplesPerSecond)
    : state (std::make_unique<State>())
{
    state->samplesPerSecond = samplesPerSecond;
    state->meter = ebur128_init (2, static_cast<unsigned long> (samplesPerSecond),
                                 EBUR128_MODE_I | EBUR128_MODE_S | EBUR128_MODE_LRA | EBUR128_MODE_TRUE_PEAK);
}

LoudnessMeter::~LoudnessMeter() = default;
LoudnessMeter::LoudnessMeter (LoudnessMeter&&) noexcept = default;
LoudnessMeter& LoudnessMeter::operator= (LoudnessMeter&&) noexcept = default;

bool LoudnessMeter::add (std::span<const float> stereo)
{
    if (state->meter == nullptr)
        return false;
    // A tenth of a second at a time: often enough to find the loudest three seconds.
    const auto part = static_cast<std::size_t> (std::max (1, state->samplesPerSecond / 10)) * 2;
    for (std::size_t at = 0; at < stereo.size(); at += part)
    {
        const auto piece = stereo.subspan (at, std::min (part, stereo.size() - at));
        if (ebur128_add_frames_float (state->meter, piece.data(), piece.size() / 2) != EBUR128_SUCCESS)
            return false;
        state->samples += static_cast<std::int64_t> (piece.size() / 2);
        double shortTerm = 0;
        if (state->samples >= 3 * std::int64_t (state->samplesPerSecond)
            && ebur128_loudness_shortterm (state->meter, &shortTerm) == EBUR128_SUCCESS)
            state->loudestShort = std::max (state->loudestShort, shortTerm);
    }
    return true;
}

Loudness LoudnessMeter::result() const
{
    Loudness loudness;
    if (state->meter == nullptr)
        return loudness;
    double value = 0;
    if (ebur128_loudness_global (state->meter, &value) == EBUR128_SUCCESS)
        loudness.integrated = finite (value);
    if (state->samples >= 60 * std::int64_t (state->samplesPerSecond)
        && ebur128_loudness_range (state->meter, &value) == EBUR128_SUCCESS)
        loudness.range = finite (value);
    loudness.loudestShort = finite (state->loudestShort);
    double peak = 0;
    for (unsigned c = 0; c < 2; ++c)
        if (ebur128_true_peak (state->meter, c, &value) == EBUR128_SUCCESS)
            peak = std::max (peak, value);
    if (peak > 0)
        loudness.truePeak = 20 * std::log10 (peak);
    return loudness;
}
} // namespace shutterbeat::mix
