#include "media/SoundPeaks.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::media
{
namespace
{
Peak joined (const Peak& a, const Peak& b)
{
    return { std::min (a.low, b.low), std::max (a.high, b.high) };
}

std::int16_t scaled (float sample)
{
    return static_cast<std::int16_t> (std::lround (std::clamp (std::isnan (sample) ? 0.0f : sample, -1.0f, 1.0f) * 32767.0f));
}
} // namespace

SoundPeaks::SoundPeaks (std::vector<Peak> finestPeaks, std::int64_t samples)
    : length (samples)
{
    levels.push_back (std::move (finestPeaks));
    while (levels.back().size() > static_cast<std::size_t> (step))
    {
        const auto& fine = levels.back();
        std::vector<Peak> coarse ((fine.size() + step - 1) / step);
        for (std::size_t i = 0; i < fine.size(); ++i)
            coarse[i / step] = i % step == 0 ? fine[i] : joined (coarse[i / step], fine[i]);
        levels.push_back (std::move (coarse));
    }
}

/// Peaks first to end - 1 of the finest zoom, taken from as few as reach.
Peak SoundPeaks::over (std::int64_t first, std::int64_t end) const
{
    Peak all;
    bool any = false;
    for (std::size_t level = 0; level < levels.size() && first < end; ++level)
    {
        const auto& peaks = levels[level];
        const auto take = [&] (std::int64_t i)
        {
            all = any ? joined (all, peaks[static_cast<std::size_t> (i)]) : peaks[static_cast<std::size_t> (i)];
            any = true;
        };
        const bool last = level + 1 == levels.size();
        while (first < end && (last || first % step != 0))
            take (first++);
        // An end short of a whole one of the coarser zoom is taken here, unless it is the end of the sound.
        const bool whole = end == static_cast<std::int64_t> (peaks.size());
        while (! last && first < end && end % step != 0 && ! whole)
            take (--end);
        if (first >= end)
            break;
        first /= step;
        end = (end + step - 1) / step;
    }
    return all;
}

std::vector<Peak> SoundPeaks::outline (std::int64_t first, std::int64_t end, std::size_t columns) const
{
    std::vector<Peak> drawn (columns);
    if (levels.empty() || levels.front().empty() || end <= first)
        return drawn;
    const auto count = static_cast<std::int64_t> (levels.front().size());
    const auto edge = [&] (std::size_t column)
    { return first + static_cast<std::int64_t> (static_cast<long double> (end - first) * column / columns); };
    for (std::size_t c = 0; c < columns; ++c)
    {
        const std::int64_t from = edge (c), to = std::max (from + 1, edge (c + 1));
        if (to <= 0 || from >= length)
            continue;
        const std::int64_t a = std::max<std::int64_t> (0, from / finest);
        drawn[c] = over (std::min (a, count - 1), std::clamp ((to + finest - 1) / finest, a + 1, count));
    }
    return drawn;
}

Result<SoundPeaks> makePeaks (SoundReader& reader, const std::function<bool (double)>& goOn)
{
    const auto& info = reader.info();
    const auto channels = static_cast<std::size_t> (info.channels);
    constexpr std::int64_t block = 64 * SoundPeaks::finest;
    std::vector<float> samples (static_cast<std::size_t> (block) * channels);
    std::vector<Peak> peaks;
    peaks.reserve (static_cast<std::size_t> (std::min<std::int64_t> (info.samples / SoundPeaks::finest + 1, 1 << 24)));
    for (std::int64_t at = 0; at < info.samples; at += block)
    {
        if (goOn && ! goOn (static_cast<double> (at) / static_cast<double> (info.samples)))
            return Error{ ErrorCode::cancelled, info.path, "stopped" };
        const auto count = static_cast<std::size_t> (std::min (block, info.samples - at)) * channels;
        if (const auto read = reader.read (at, { samples.data(), count }); ! read)
            return read.error();
        const std::size_t one = SoundPeaks::finest * channels;
        for (std::size_t i = 0; i < count; i += one)
        {
            const auto [low, high] =
                std::minmax_element (samples.begin() + static_cast<std::ptrdiff_t> (i),
                                     samples.begin() + static_cast<std::ptrdiff_t> (std::min (i + one, count)));
            peaks.push_back ({ scaled (*low), scaled (*high) });
        }
    }
    return SoundPeaks (std::move (peaks), info.samples);
}
} // namespace shutterbeat::media
