#pragma once

#include "time/Rational.h"
#include "time/Result.h"

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace shutterbeat::media
{
/// A timestamp that the container does not give.
constexpr std::int64_t noTimestamp = std::numeric_limits<std::int64_t>::min();

/// How a packet's picture takes part in the order of presentation.
enum class PictureType : std::uint8_t
{
    unknown,
    reference, ///< intra or predicted: waits for the ones shown before it
    between    ///< bidirectional: shown as soon as it is decoded
};

/// One packet of the picture track, in the order the file has them (decoding order). Small: a long film has hundreds of
/// thousands.
struct IndexedPacket
{
    std::int64_t pts = noTimestamp;
    std::int64_t dts = noTimestamp;
    std::int64_t pos = -1;   ///< byte in the file, -1 unknown
    std::int32_t frame = -1; ///< the file frame it holds; -1: none is presented
    PictureType type = PictureType::unknown;
    bool key : 1 = false;
    bool hidden : 1 = false;      ///< outside the edit list, empty, or decoded but never shown
    bool missing : 1 = false;     ///< presented, but its picture file is not there
    bool secondField : 1 = false; ///< completes the frame of the packet before
};

/// One presented picture.
struct PresentedFrame
{
    std::int64_t pts = noTimestamp; ///< in FrameIndex::timeBase
    std::int32_t packet = 0;        ///< place in FrameIndex::packets
    bool key = false;
};

/// Which pictures a file presents, in what order, and where decoding can begin. Frame k is a number, never a time.
struct FrameIndex
{
    std::vector<IndexedPacket> packets;
    std::vector<PresentedFrame> frames;
    time::Rational timeBase{ 1 }; ///< seconds a timestamp unit
    int reorder = 0;              ///< how many pictures at most wait in the decoder for an earlier one
    std::int64_t undecodable = 0; ///< pictures at the head that hang on ones which are not in the file; not presented
    bool ordered = false;         ///< timestamps were missing: the order is the decoder's

    std::vector<std::int64_t> keys; ///< the packets where decoding can begin, rising; noteKeys() fills it in

    [[nodiscard]] std::int64_t size() const { return static_cast<std::int64_t> (frames.size()); }

    /// The last packet from which frame k can be decoded: a key packet not after k's own, itself shown not after k
    /// (so that a picture in front of an open group starts from the group before). 0 when there is none.
    [[nodiscard]] std::int64_t decodeStart (std::int64_t frame) const;
    /// The next such packet before `packet`; 0 when there is none.
    [[nodiscard]] std::int64_t keyBefore (std::int64_t packet) const;
    /// Whether each picture is decoded from its own packet alone.
    [[nodiscard]] bool standAlone() const
    {
        return reorder == 0 && keys.size() == packets.size() && packets.size() == frames.size();
    }
    /// To be called when the packets are complete.
    void noteKeys();
};

/// The index of a file in one pass over its packets. Error: as openFilm.
Result<FrameIndex> readFrameIndex (const std::string& path);
} // namespace shutterbeat::media
