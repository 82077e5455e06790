#pragma once

#include "media/FrameIndex.h"
#include "media/PictureStream.h"
#include "time/Result.h"

#include <optional>
#include <vector>

namespace shutterbeat::media
{
/// Walks along the packets of a film and always knows which one it holds. It never trusts a container's own seek: where
/// that lands is found out by comparing the packet with the index (place in the file, timestamps); a seek that lands
/// too late or nowhere is tried from further back, and what worked is remembered. Opening the file anew and reading up
/// to the packet always works.
class PacketWalk
{
public:
    /// The index must outlive the walk. The stream may be anywhere.
    PacketWalk (PictureStream stream, const FrameIndex& index);

    /// Makes `packet` the next one that next() reads. Error: the file can't be read any more.
    Result<Done> goTo (std::int64_t packet);
    /// Reads the next packet. Its number, or nothing at the end of the film.
    Result<std::optional<std::int64_t>> next();
    /// The number that next() will give; past the last packet at the end.
    [[nodiscard]] std::int64_t upcoming() const { return following; }
    [[nodiscard]] AVPacket& packet() const { return film.packet(); }
    [[nodiscard]] const PictureStream& stream() const { return film; }

private:
    bool land (std::int64_t target);
    [[nodiscard]] std::optional<std::int64_t> identify (const IndexedPacket& found) const;
    Result<Done> fromTheStart (std::int64_t target);

    PictureStream film;
    const FrameIndex* index;
    bool placesRise = true;            ///< every packet has its place in the file, and they lie there in their order
    std::vector<std::int32_t> byPlace; ///< where they don't: the packets that have one, by it
    std::vector<std::int32_t> byTime;  ///< the packets without a place that have a pts, by it
    std::int64_t following = -1;       ///< -1: nobody knows where the stream stands
    bool inHand = false;               ///< the packet `following` has been read already
    std::size_t plan = 0;              ///< how far back the last good seek had to aim
};
} // namespace shutterbeat::media
