#include "media/SoundReader.h"

#include "media/SoundTrack.h"

#include <algorithm>

namespace shutterbeat::media
{
namespace
{
constexpr std::int64_t directLength = 65536; ///< samples of a stretch of PCM
constexpr std::size_t packetsPerStretch = 128;
constexpr std::int64_t longestStretch = 1 << 20; ///< samples; a stretch with a long gap in it ends early

/// A decoded part of the track.
struct Stretch
{
    std::size_t number = SIZE_MAX;
    std::int64_t first = 0, end = 0; ///< samples of the track
    std::vector<float> samples;      ///< interleaved
};
} // namespace

struct SoundReader::State
{
    SoundTrack track;
    std::vector<std::size_t> starts; ///< first packet of each stretch
    Stretch newest, before;
    std::int64_t damaged = 0;

    void divide();
    [[nodiscard]] std::size_t stretchOf (std::int64_t sample) const;
    void place (std::int64_t& first, std::int64_t& end, std::size_t number) const;
    Result<Done> load (std::size_t number);
    bool decodeDirect (Stretch& stretch, std::int64_t& decoded);
    bool decodePackets (Stretch& stretch, std::int64_t& decoded);
    bool goTo (std::size_t packet, AVPacket& first);
    void put (Stretch& stretch, std::int64_t at, int channels, const std::vector<float>& samples, std::int64_t& decoded) const;
};

void SoundReader::State::divide()
{
    for (std::size_t p = 0; p < track.packets.size(); ++p)
        if (starts.empty() || p - starts.back() >= packetsPerStretch
            || track.packets[p].at - track.packets[starts.back()].at > longestStretch)
            starts.push_back (p);
}

std::size_t SoundReader::State::stretchOf (std::int64_t sample) const
{
    if (track.direct)
        return static_cast<std::size_t> (sample / directLength);
    const auto after = std::upper_bound (track.packets.begin(), track.packets.end(), sample,
                                         [] (std::int64_t s, const SoundPacket& packet) { return s < packet.at; });
    const auto packet = after == track.packets.begin() ? 0 : static_cast<std::size_t> (after - track.packets.begin() - 1);
    return static_cast<std::size_t> (std::upper_bound (starts.begin(), starts.end(), packet) - starts.begin() - 1);
}

void SoundReader::State::place (std::int64_t& first, std::int64_t& end, std::size_t number) const
{
    if (track.direct)
    {
        first = static_cast<std::int64_t> (number) * directLength;
        end = std::min (first + directLength, track.end);
        return;
    }
    first = track.packets[starts[number]].at;
    end = number + 1 < starts.size() ? track.packets[starts[number + 1]].at : track.end;
}

void SoundReader::State::put (Stretch& stretch, std::int64_t at, int channels, const std::vector<float>& samples,
                              std::int64_t& decoded) const
{
    if (channels != track.info.channels)
        return; // a track that changes its channels on the way; what does not fit stays silent and is counted
    const auto count = static_cast<std::int64_t> (samples.size()) / channels;
    const auto first = std::max ({ at, stretch.first, track.origin }), end = std::min (at + count, stretch.end);
    if (first >= end)
        return;
    std::copy (samples.begin() + (first - at) * channels, samples.begin() + (end - at) * channels,
               stretch.samples.begin() + (first - stretch.first) * channels);
    decoded += end - first;
}

bool SoundReader::State::decodeDirect (Stretch& stretch, std::int64_t& decoded)
{
    const auto codec = soundDecoder (track);
    const PacketHandle packet (av_packet_alloc());
    if (! codec || av_seek_frame (track.container.get(), track.number, stretch.first, AVSEEK_FLAG_BACKWARD) < 0)
        return false;
    while (track.next (*packet))
    {
        const std::int64_t at = packet->pts;
        if (at == AV_NOPTS_VALUE || at >= stretch.end)
            break;
        decodeSound (*codec, packet.get(), at,
                     [&] (std::int64_t from, int channels, const std::vector<float>& samples)
                     { put (stretch, from, channels, samples, decoded); });
    }
    return true;
}

/// Brings the file to a packet, which is read into `first`. Packets are known by their timestamps; a container that lands
/// behind the wanted one is sent further back, at last to its beginning.
bool SoundReader::State::goTo (std::size_t packet, AVPacket& first)
{
    const auto& all = track.packets;
    const auto ordinal = [&] (std::int64_t pts)
    {
        const auto found =
            std::lower_bound (all.begin(), all.end(), pts, [] (const SoundPacket& p, std::int64_t t) { return p.pts < t; });
        return found != all.end() && found->pts == pts ? static_cast<std::size_t> (found - all.begin()) : SIZE_MAX;
    };
    if (track.inOrder && packet > 0)
        for (const std::size_t back : { 0u, 8u, 64u, 512u })
        {
            const auto target = all[packet > back ? packet - back : 0].pts;
            if (av_seek_frame (track.container.get(), track.number, target, AVSEEK_FLAG_BACKWARD) < 0)
                continue;
            std::size_t at = SIZE_MAX;
            while (track.next (first))
            {
                at = at == SIZE_MAX ? (first.pts == AV_NOPTS_VALUE ? SIZE_MAX : ordinal (first.pts)) : at + 1;
                if (at != SIZE_MAX && at >= packet)
                    break;
            }
            if (at == packet)
                return true;
        }
    if (! track.reopen())
        return false;
    for (std::size_t at = 0; track.next (first); ++at)
        if (at == packet)
            return true;
    return false;
}

bool SoundReader::State::decodePackets (Stretch& stretch, std::int64_t& decoded)
{
    const std::size_t from = starts[stretch.number];
    const std::size_t next = stretch.number + 1 < starts.size() ? starts[stretch.number + 1] : track.packets.size();
    // One more than the stretch holds: a decoder may hand a packet's sound on with the next.
    const std::size_t to = std::min (next + 1, track.packets.size());
    const std::size_t begin = from - std::min (from, static_cast<std::size_t> (track.runUp));
    // A decoder as new, so that a stretch comes out the same whatever was read before it.
    const auto codec = soundDecoder (track);
    const PacketHandle packet (av_packet_alloc());
    if (! codec || ! goTo (begin, *packet))
        return false;
    const SamplesSink sink = [&] (std::int64_t at, int channels, const std::vector<float>& samples)
    { put (stretch, at, channels, samples, decoded); };
    for (std::size_t p = begin; p < to; ++p)
    {
        if (p > begin && ! track.next (*packet))
            break;
        decodeSound (*codec, packet.get(), track.packets[p].at, sink);
    }
    if (to == track.packets.size())
        decodeSound (*codec, nullptr, track.end, sink);
    return true;
}

Result<Done> SoundReader::State::load (std::size_t number)
{
    if (newest.number == number)
        return Done{};
    std::swap (newest, before);
    if (newest.number == number)
        return Done{};
    newest.number = number;
    place (newest.first, newest.end, number);
    newest.samples.assign (static_cast<std::size_t> (std::max<std::int64_t> (0, newest.end - newest.first))
                               * static_cast<std::size_t> (track.info.channels),
                           0.0f);
    std::int64_t decoded = 0;
    if (! (track.direct ? decodeDirect (newest, decoded) : decodePackets (newest, decoded)))
    {
        newest.number = SIZE_MAX;
        return unreadable (track.path, "can't be read any more; check that the disk it lies on is still there");
    }
    damaged += std::max<std::int64_t> (0, newest.end - std::max (newest.first, track.origin) - decoded);
    return Done{};
}

Result<Done> SoundReader::read (std::int64_t first, std::span<float> out)
{
    auto& track = state->track;
    const auto channels = static_cast<std::int64_t> (track.info.channels);
    std::fill (out.begin(), out.end(), 0.0f);
    const std::int64_t wanted = track.origin + first;
    const std::int64_t begin = track.direct ? 0 : track.packets.front().at;
    const std::int64_t end = wanted + static_cast<std::int64_t> (out.size()) / channels;
    // Before sample 0 nothing is heard, though an encoder's run-up may lie there.
    for (std::int64_t at = std::max ({ wanted, begin, track.origin }); at < std::min (end, track.end);)
    {
        if (const auto loaded = state->load (state->stretchOf (at)); ! loaded)
            return loaded.error();
        const auto& stretch = state->newest;
        const auto to = std::min ({ end, stretch.end, track.end });
        if (to <= at)
            break;
        std::copy (stretch.samples.begin() + (at - stretch.first) * channels,
                   stretch.samples.begin() + (to - stretch.first) * channels, out.begin() + (at - wanted) * channels);
        at = to;
    }
    return Done{};
}

SoundReader::SoundReader (std::unique_ptr<State> made)
    : state (std::move (made))
{
}
SoundReader::SoundReader (SoundReader&&) noexcept = default;
SoundReader& SoundReader::operator= (SoundReader&&) noexcept = default;
SoundReader::~SoundReader() = default;

Result<SoundReader> SoundReader::open (const std::string& path)
{
    auto track = SoundTrack::open (path);
    if (! track)
        return track.error();
    auto made = std::make_unique<State>();
    made->track = std::move (*track);
    made->divide();
    return SoundReader (std::move (made));
}

const SoundInfo& SoundReader::info() const
{
    return state->track.info;
}

std::int64_t SoundReader::damagedSamples() const
{
    return state->damaged;
}

Result<SoundInfo> openSound (const std::string& path)
{
    const auto reader = SoundReader::open (path);
    if (! reader)
        return reader.error();
    return reader->info();
}
} // namespace shutterbeat::media
