#pragma once

#include "media/Libav.h"
#include "media/SoundReader.h"

#include <functional>
#include <vector>

namespace shutterbeat::media
{
/// One packet of a sound track.
struct SoundPacket
{
    std::int64_t at = 0;  ///< sample at which its output begins, on the track's own count
    std::int64_t pts = 0; ///< in the container; AV_NOPTS_VALUE when it has none
};

/// An open file and its first sound track, with its packets in order and where the presented sound begins and ends.
/// `at` counts from the container's zero; SoundInfo::samples from `origin`.
struct SoundTrack
{
    std::string path;
    FormatHandle container;
    int number = 0; ///< of the stream
    SoundInfo info;
    bool direct = false; ///< PCM that can be sought to the sample: `packets` stays empty
    bool inOrder = true; ///< packets have rising timestamps of their own, so that they can be found again
    std::vector<SoundPacket> packets;
    std::int64_t origin = 0; ///< sample of the track that is sample 0 of the sound
    std::int64_t end = 0;    ///< one past its last sample
    int runUp = 0;           ///< packets to decode before one so that it comes out as in order

    /// Error: as SoundReader::open.
    static Result<SoundTrack> open (const std::string& path);
    [[nodiscard]] AVStream& stream() const { return *container->streams[number]; }
    /// The file anew, its packets from the first on. False when it can't be read any more.
    bool reopen();
    /// The next packet of the track; false at the end.
    bool next (AVPacket& packet);
};

/// A decoder for the track, as new. Null when libav has none.
CodecHandle soundDecoder (const SoundTrack& track);

/// Decodes one packet (none: what is left inside) that begins at sample `at`; hands on samples interleaved, and the sample of
/// the track they begin at. False when libav reported a fault.
using SamplesSink = std::function<void (std::int64_t at, int channels, const std::vector<float>& interleaved)>;
bool decodeSound (AVCodecContext& codec, AVPacket* packet, std::int64_t at, const SamplesSink& sink);
} // namespace shutterbeat::media
