#pragma once

#include "media/Libav.h"
#include "time/Result.h"

#include <cstdint>
#include <functional>
#include <string>

namespace shutterbeat::media
{
/// One decoded picture and the packet it came from.
struct DecodedFrame
{
    FrameHandle frame;
    std::int64_t packet = -1;
    bool damaged = false; ///< the decoder had to make parts of it up
};

/// How many threads a decoder may use.
enum class DecoderThreads
{
    exact, ///< one: the same pixels each time even where the data is damaged, and every damage told
    one,   ///< one, and every damage told; the pixels of a damaged picture are worth nothing
    sure,  ///< as many as can be for the same
    all    ///< quickest; a damaged picture may come out a little otherwise each time, or untold
};

/// Decodes packets that are known by their number in the file. The numbers travel through the decoder in place of the
/// timestamps, so that every picture that comes out says which packet it was, whatever the timestamps are worth.
class Decoder
{
public:
    using Sink = std::function<void (DecodedFrame)>;

    /// reorder: FrameIndex::reorder. Error unreadable: no decoder for this codec here.
    static Result<Decoder> open (const std::string& path, const AVStream& stream, int reorder, DecoderThreads threads);

    /// Feeds one packet (its timestamps are overwritten) and hands on what comes out, in the order of presentation.
    void feed (AVPacket& packet, std::int64_t number, const Sink& sink);
    /// Hands on what is still inside; before more is fed, flush() must be called.
    void drain (const Sink& sink);
    /// Forgets everything: the next packet is a new beginning.
    void flush();

    /// True when a packet since the last flush() could not be decoded at all.
    [[nodiscard]] bool failed() const { return failures > 0; }

private:
    void receive (const Sink& sink);

    CodecHandle codec;
    int failures = 0;
};
} // namespace shutterbeat::media
