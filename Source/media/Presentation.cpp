#include "media/Presentation.h"

#include <algorithm>

namespace shutterbeat::media
{
bool hasAllTimestamps (const FrameIndex& index)
{
    return std::all_of (index.packets.begin(), index.packets.end(),
                        [] (const IndexedPacket& packet) { return ! isShown (packet) || packet.pts != noTimestamp; });
}

std::vector<std::int64_t> orderByTimestamp (const FrameIndex& index)
{
    std::vector<std::int64_t> order;
    std::size_t stretch = 0;
    const auto closeStretch = [&]
    {
        std::stable_sort (
            order.begin() + static_cast<std::ptrdiff_t> (stretch), order.end(),
            [&] (std::int64_t a, std::int64_t b)
            { return index.packets[static_cast<std::size_t> (a)].pts < index.packets[static_cast<std::size_t> (b)].pts; });
        stretch = order.size();
    };
    auto clock = noTimestamp;
    for (std::size_t i = 0; i < index.packets.size(); ++i)
    {
        const auto& packet = index.packets[i];
        if (packet.dts != noTimestamp)
        {
            if (clock != noTimestamp && packet.dts < clock)
                closeStretch();
            clock = packet.dts;
        }
        if (isShown (packet))
            order.push_back (static_cast<std::int64_t> (i));
    }
    closeStretch();
    return order;
}

std::vector<std::int64_t> orderByType (const FrameIndex& index)
{
    std::vector<std::int64_t> order;
    std::int64_t waiting = -1;
    for (std::size_t i = 0; i < index.packets.size(); ++i)
    {
        if (! isShown (index.packets[i]))
            continue;
        const auto number = static_cast<std::int64_t> (i);
        if (index.packets[i].type == PictureType::between)
        {
            order.push_back (number);
            continue;
        }
        if (waiting >= 0)
            order.push_back (waiting);
        waiting = number;
    }
    if (waiting >= 0)
        order.push_back (waiting);
    return order;
}

namespace
{
/// The most pictures that are decoded before, and shown after, any one picture; H.264 allows 16.
int reorderDepth (const std::vector<IndexedPacket>& packets)
{
    constexpr std::size_t window = 34; // 17 frames as pairs of fields
    int deepest = 0;
    for (std::size_t i = 0; i < packets.size(); ++i)
    {
        const auto& packet = packets[i];
        if (packet.secondField || packet.pts == noTimestamp)
            continue;
        int before = 0;
        for (std::size_t j = i > window ? i - window : 0; j < i; ++j)
            if (! packets[j].secondField && packets[j].pts != noTimestamp && packets[j].pts > packet.pts)
                ++before;
        deepest = std::max (deepest, before);
    }
    return deepest;
}
} // namespace

void present (FrameIndex& index, const std::vector<std::int64_t>& order)
{
    // A long film's index stays in memory as long as the film is open.
    index.packets.shrink_to_fit();
    index.frames = {};
    index.frames.reserve (order.size());
    for (auto& packet : index.packets)
        packet.frame = -1;
    for (const auto number : order)
    {
        auto& packet = index.packets[static_cast<std::size_t> (number)];
        packet.frame = static_cast<std::int32_t> (index.size());
        index.frames.push_back ({ packet.pts, static_cast<std::int32_t> (number), packet.key });
    }
    for (std::size_t i = 1; i < index.packets.size(); ++i)
        if (index.packets[i].secondField)
            index.packets[i].frame = index.packets[i - 1].frame;
    index.reorder = std::min (16, reorderDepth (index.packets));
    index.noteKeys();
}

std::vector<std::int64_t> doubtfulHead (const FrameIndex& index)
{
    const auto first = std::find_if (index.packets.begin(), index.packets.end(),
                                     [] (const IndexedPacket& packet) { return packet.key && packet.frame >= 0; });
    std::vector<std::int64_t> doubtful;
    if (first == index.packets.end())
        return doubtful;
    const auto firstPacket = first - index.packets.begin();
    for (std::int64_t k = 0; k < index.size(); ++k)
    {
        if (k < first->frame || index.frames[static_cast<std::size_t> (k)].packet < firstPacket)
            doubtful.push_back (k);
        else if (k > first->frame + 64)
            break; // decoding order strays no further than that from the order on screen
    }
    return doubtful;
}
} // namespace shutterbeat::media
