#pragma once

#include "exchange/WavFile.h"
#include "time/Result.h"

#include <functional>
#include <optional>
#include <string_view>

namespace shutterbeat::exchange
{
/// What a WAV file says of itself besides its samples.
struct WavInfo
{
    int samplesPerSecond = 0, channels = 0, bits = 0;
    std::int64_t samples = 0;                  ///< per channel
    std::optional<std::int64_t> timeReference; ///< of bext: samples since midnight of its first one
    std::string description, originator;       ///< of bext
    std::vector<WavCue> cues;                  ///< in order of their samples
    bool large = false;                        ///< RF64 or BW64
    std::vector<std::string> notes;            ///< chunks cut short and the like
};

/// Reads up to `count` bytes from `offset` of a file; fewer only at its end.
using ReadAt = std::function<std::string (std::uint64_t offset, std::size_t count)>;

/// Reads the head of a WAV, RF64 or BW64 file of `size` bytes: format, bext, cue points with labels and notes. Chunks may
/// stand before or after the samples; the samples are passed over. Labels are UTF-8 or else Latin-1.
/// Error: not such a file, no format, no samples.
Result<WavInfo> readWavInfo (const ReadAt& readAt, std::uint64_t size);
/// The same of a whole file in memory.
Result<WavInfo> readWavInfo (std::string_view bytes);
} // namespace shutterbeat::exchange
