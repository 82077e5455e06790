#include "media/PacketWalk.h"

#include <algorithm>
#include <array>

namespace shutterbeat::media
{
namespace
{
/// Nearer than this it is cheaper to read on than to seek.
constexpr std::int64_t shortWay = 8;
/// How many packets may pass unrecognised after a seek.
constexpr int mostStrangers = 300;

/// Where a seek aims: at the packet's timestamp of presentation, or of decoding less some milliseconds.
struct Aim
{
    bool presentation;
    int back;
};
constexpr std::array<Aim, 6> aims{
    { { true, 0 }, { false, 0 }, { false, 1000 }, { false, 4000 }, { false, 15000 }, { false, 60000 } }
};

bool same (const IndexedPacket& a, const IndexedPacket& b)
{
    if (a.pos >= 0 && b.pos >= 0)
        return a.pos == b.pos;
    if (a.pts != noTimestamp && b.pts != noTimestamp)
        return a.pts == b.pts;
    return true;
}
} // namespace

PacketWalk::PacketWalk (PictureStream stream, const FrameIndex& index_)
    : film (std::move (stream))
    , index (&index_)
{
    const auto& packets = index->packets;
    // A long film has hundreds of thousands, and each thread that decodes has a walk: a list only where it is needed.
    placesRise = std::is_sorted (packets.begin(), packets.end(),
                                 [] (const IndexedPacket& a, const IndexedPacket& b) { return a.pos < b.pos; })
                 && (packets.empty() || packets.front().pos >= 0);
    if (placesRise)
        return;
    for (std::size_t i = 0; i < packets.size(); ++i)
    {
        if (packets[i].pos >= 0)
            byPlace.push_back (static_cast<std::int32_t> (i));
        else if (packets[i].pts != noTimestamp)
            byTime.push_back (static_cast<std::int32_t> (i));
    }
    const auto sort = [&] (std::vector<std::int32_t>& numbers, std::int64_t IndexedPacket::*value)
    {
        std::stable_sort (numbers.begin(), numbers.end(),
                          [&] (std::int32_t a, std::int32_t b)
                          { return packets[static_cast<std::size_t> (a)].*value < packets[static_cast<std::size_t> (b)].*value; });
    };
    sort (byPlace, &IndexedPacket::pos);
    sort (byTime, &IndexedPacket::pts);
}

std::optional<std::int64_t> PacketWalk::identify (const IndexedPacket& found) const
{
    const bool placed = found.pos >= 0;
    if (! placed && found.pts == noTimestamp)
        return {};
    const auto& packets = index->packets;
    const auto value = placed ? &IndexedPacket::pos : &IndexedPacket::pts;
    const auto& list = placed ? byPlace : byTime;
    const bool inOrder = placed && placesRise;
    const auto entries = static_cast<std::int64_t> (inOrder ? packets.size() : list.size());
    const auto numberAt = [&] (std::int64_t entry)
    { return inOrder ? entry : std::int64_t (list[static_cast<std::size_t> (entry)]); };
    const auto valueAt = [&] (std::int64_t entry) { return packets[static_cast<std::size_t> (numberAt (entry))].*value; };
    const auto wanted = found.*value;
    auto from = inOrder ? std::lower_bound (packets.begin(), packets.end(), wanted,
                                            [] (const IndexedPacket& packet, std::int64_t pos) { return packet.pos < pos; })
                              - packets.begin()
                        : std::lower_bound (list.begin(), list.end(), wanted,
                                            [&] (std::int32_t number, std::int64_t than)
                                            { return packets[static_cast<std::size_t> (number)].*value < than; })
                              - list.begin();
    std::optional<std::int64_t> only;
    for (; from < entries && valueAt (from) == wanted; ++from)
    {
        // An edit list can show the same bytes twice, and several pictures can begin in one block: only the
        // timestamps tell them apart.
        const auto& known = packets[static_cast<std::size_t> (numberAt (from))];
        const bool told = found.pts != noTimestamp && known.pts != noTimestamp;
        if (told && found.pts != known.pts)
            continue;
        if (only)
            return {};
        only = numberAt (from);
    }
    return only;
}

bool PacketWalk::land (std::int64_t target)
{
    for (int strangers = 0; strangers < mostStrangers && film.next(); ++strangers)
    {
        const auto number = identify (film.facts());
        if (! number)
            continue;
        if (*number > target)
            return false;
        for (auto at = *number; at < target;)
        {
            if (! film.next() || ! same (film.facts(), index->packets[static_cast<std::size_t> (++at)]))
                return false;
        }
        following = target;
        inHand = true;
        return true;
    }
    return false;
}

Result<Done> PacketWalk::fromTheStart (std::int64_t target)
{
    following = -1;
    inHand = false;
    if (auto done = film.rewind(); ! done)
        return done;
    for (std::int64_t at = 0; at < target; ++at)
        if (! film.next())
            return unreadable (film.path(), "can't be read as far as before; check the disk or the connection to it");
    following = target;
    return Done{};
}

Result<Done> PacketWalk::goTo (std::int64_t target)
{
    // A picture file is found at once, and reading those before it would be work for nothing.
    const auto worthReading = film.sequence() != nullptr ? 0 : shortWay;
    if (following >= 0 && following <= target && target - following <= worthReading)
    {
        while (following < target)
            if (auto step = next(); ! step || ! *step)
                break;
        if (following == target)
            return Done{};
    }
    const auto& wanted = index->packets[static_cast<std::size_t> (target)];
    inHand = false;
    for (; plan < aims.size(); ++plan)
    {
        auto stamp = aims[plan].presentation || wanted.dts == noTimestamp ? wanted.pts : wanted.dts;
        if (stamp == noTimestamp)
            break;
        stamp -= av_rescale_q (aims[plan].back, AVRational{ 1, 1000 }, film.stream().time_base);
        if (film.seek (stamp) && land (target))
            return Done{};
        following = -1;
    }
    // No timestamp leads there. The next goTo may be luckier again with another aim.
    plan = 0;
    return fromTheStart (target);
}

Result<std::optional<std::int64_t>> PacketWalk::next()
{
    if (following < 0)
        if (auto done = fromTheStart (0); ! done)
            return done.error();
    if (following >= static_cast<std::int64_t> (index->packets.size()))
        return std::optional<std::int64_t>();
    if (! inHand)
    {
        const bool more = film.next();
        if (! more || ! same (film.facts(), index->packets[static_cast<std::size_t> (following)]))
        {
            // After its own seek a container may cut packets otherwise than when read through.
            if (auto done = fromTheStart (following); ! done)
                return done.error();
            if (! film.next())
                return unreadable (film.path(), "can't be read as far as before; check the disk or the connection to it");
        }
    }
    inHand = false;
    return std::optional (following++);
}
} // namespace shutterbeat::media
