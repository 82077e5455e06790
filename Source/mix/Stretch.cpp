#include "mix/Stretch.h"

#include <algorithm>
#include <array>
#include <rubberband/RubberBandStretcher.h>
#include <vector>

namespace shutterbeat::mix
{
namespace
{
using RubberBand::RubberBandStretcher;
constexpr std::int64_t block = 4096;
} // namespace

struct Stretch::State
{
    Source source;
    std::int64_t first = 0, count = 0, fed = 0;
    std::unique_ptr<RubberBandStretcher> engine;
    std::vector<float> stereo = std::vector<float> (2 * block), left = std::vector<float> (block),
                       right = std::vector<float> (block);
    bool whole = true;

    /// Reads the block that begins `at` samples after `first`, parted into channels; how many samples it has.
    std::int64_t take (std::int64_t at)
    {
        const auto size = std::min (block, count - at);
        const std::span<float> piece (stereo.data(), static_cast<std::size_t> (2 * size));
        whole = source (first + at, piece) && whole;
        for (std::size_t i = 0; i < static_cast<std::size_t> (size); ++i)
        {
            left[i] = stereo[2 * i];
            right[i] = stereo[2 * i + 1];
        }
        return size;
    }
};

Stretch::Stretch (std::unique_ptr<State> made)
    : state (std::move (made))
{
}
Stretch::~Stretch() = default;
Stretch::Stretch (Stretch&&) noexcept = default;
Stretch& Stretch::operator= (Stretch&&) noexcept = default;

Result<Stretch> Stretch::of (Source source, std::int64_t first, std::int64_t count, const time::Rational& factor,
                             int samplesPerSecond, const Watch& watch)
{
    if (factor < time::Rational (1, 4) || factor > time::Rational (4))
        return usageError ("stretching by " + time::fractionText (factor), "is too much; from a quarter to four times is possible");
    auto state = std::make_unique<State>();
    state->source = std::move (source);
    state->first = first;
    state->count = count;
    state->engine = std::make_unique<RubberBandStretcher> (
        static_cast<std::size_t> (samplesPerSecond), 2,
        RubberBandStretcher::OptionProcessOffline | RubberBandStretcher::OptionEngineFiner
            | RubberBandStretcher::OptionChannelsTogether | RubberBandStretcher::OptionThreadingNever,
        time::toDouble (factor), 1.0);
    state->engine->setMaxProcessSize (block);
    state->engine->setExpectedInputDuration (static_cast<std::size_t> (count));
    for (std::int64_t at = 0; at < count; at += block)
    {
        if (watch && ! watch (static_cast<double> (at) / static_cast<double> (count)))
            return Error{ ErrorCode::cancelled, "stretching", "stopped; nothing was written" };
        const auto size = state->take (at);
        const std::array<const float*, 2> channels{ state->left.data(), state->right.data() };
        state->engine->study (channels.data(), static_cast<std::size_t> (size), at + block >= count);
    }
    if (! state->whole)
        return unreadable ("stretching", "a sound can't be read any more; check that its disk is still there");
    return Stretch (std::move (state));
}

bool Stretch::read (std::span<float> stereo)
{
    auto& s = *state;
    std::size_t have = 0;
    const auto want = stereo.size() / 2;
    while (have < want)
    {
        const int ready = s.engine->available();
        if (ready > 0)
        {
            const auto size = std::min ({ want - have, static_cast<std::size_t> (ready), static_cast<std::size_t> (block) });
            std::array<float*, 2> channels{ s.left.data(), s.right.data() };
            const auto got = s.engine->retrieve (channels.data(), size);
            for (std::size_t i = 0; i < got; ++i)
            {
                stereo[2 * (have + i)] = s.left[i];
                stereo[2 * (have + i) + 1] = s.right[i];
            }
            have += got;
            continue;
        }
        if (ready < 0 || s.fed >= s.count)
            break;
        const auto size = s.take (s.fed);
        const std::array<const float*, 2> channels{ s.left.data(), s.right.data() };
        s.fed += size;
        s.engine->process (channels.data(), static_cast<std::size_t> (size), s.fed >= s.count);
    }
    std::fill (stereo.begin() + static_cast<std::ptrdiff_t> (2 * have), stereo.end(), 0.0f);
    return s.whole;
}
} // namespace shutterbeat::mix
