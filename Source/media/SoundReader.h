#pragma once

#include "time/Result.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// What one sound file, or the sound track of a film, holds.
struct SoundInfo
{
    std::string path;
    std::string identity; ///< as fileIdentity()
    std::string codec;    ///< libav's short name: "pcm_s24le"
    int rate = 0;         ///< samples a second
    int channels = 0;
    /// Samples per channel: what an encoder put before and after (priming, padding) is not counted where the file says it.
    std::int64_t samples = 0;
    std::optional<std::int64_t> timeReference; ///< bext chunk: samples after midnight at `rate`
    std::string description;                   ///< bext chunk, or the file's title
    bool ofFilm = false;                       ///< the track of a film: sample 0 is the moment of file frame 0
    std::vector<std::string> warnings;         ///< sentences for the user
};

/// Reads a sound at any sample position: WAV (RF64 too), FLAC, MP3, AAC, Opus, Vorbis, the first sound track of a film,
/// and whatever else libav decodes. The same sample is the same number whatever was read before and in whatever blocks:
/// the file is decoded in set stretches, each from its own beginning, with a run-up where the codec needs one.
/// Holds one or two stretches (some two MB), whatever the length of the file. One thread at a time.
class SoundReader
{
public:
    /// Reads through the packets once (PCM excepted), without decoding them.
    /// Error unreadable, where = path: missing, empty, no sound in it, no decoder for it here.
    static Result<SoundReader> open (const std::string& path);
    SoundReader (SoundReader&&) noexcept;
    SoundReader& operator= (SoundReader&&) noexcept;
    ~SoundReader();

    [[nodiscard]] const SoundInfo& info() const;
    /// Samples first to first + out.size() / channels - 1, interleaved, full scale 1.0; silence before 0 and after the end.
    /// What can't be decoded is silence too, and counted. Error: the file has gone or can't be read any more.
    Result<Done> read (std::int64_t first, std::span<float> out);
    /// Samples that should be there and could not be decoded so far.
    [[nodiscard]] std::int64_t damagedSamples() const;

private:
    struct State;
    explicit SoundReader (std::unique_ptr<State> made);
    std::unique_ptr<State> state;
};

/// The facts alone. Error: as SoundReader::open.
Result<SoundInfo> openSound (const std::string& path);
} // namespace shutterbeat::media
