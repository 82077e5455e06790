#pragma once

#include "media/SoundReader.h"

#include <functional>

namespace shutterbeat::media
{
/// Lowest and highest sample of a stretch, over all channels; 32767 is full scale.
struct Peak
{
    std::int16_t low = 0, high = 0;

    friend bool operator== (const Peak&, const Peak&) = default;
};

/// A sound's outline at several zooms, made once and kept as a value: some six bytes for every 256 samples.
class SoundPeaks
{
public:
    static constexpr std::int64_t finest = 256; ///< samples of one peak at the finest zoom
    static constexpr std::int64_t step = 8;     ///< each coarser zoom holds as many of the finer one's

    /// From peaks of the finest zoom.
    SoundPeaks (std::vector<Peak> finestPeaks, std::int64_t samples);
    SoundPeaks() = default;

    [[nodiscard]] std::int64_t samples() const { return length; }
    /// The outline of samples first to end, one peak a column: what is drawn into `columns` pixels. Edges are as exact as the
    /// finest zoom. A column outside the sound is {0, 0}.
    [[nodiscard]] std::vector<Peak> outline (std::int64_t first, std::int64_t end, std::size_t columns) const;
    /// How many zooms there are, and the peaks of one (0 is the finest).
    [[nodiscard]] std::size_t zooms() const { return levels.size(); }
    [[nodiscard]] const std::vector<Peak>& zoom (std::size_t level) const { return levels[level]; }

    friend bool operator== (const SoundPeaks&, const SoundPeaks&) = default;

private:
    [[nodiscard]] Peak over (std::int64_t first, std::int64_t end) const;

    std::vector<std::vector<Peak>> levels;
    std::int64_t length = 0;
};

/// Reads the whole sound. `goOn` is told the fraction done and stops the work by answering false (ErrorCode::cancelled).
Result<SoundPeaks> makePeaks (SoundReader& reader, const std::function<bool (double)>& goOn = {});
} // namespace shutterbeat::media
