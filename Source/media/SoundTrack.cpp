#include "media/SoundTrack.h"

#include "media/FilmFile.h"
#include "media/Identity.h"
#include "time/Text.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>

namespace shutterbeat::media
{
namespace
{
bool isPcm (AVCodecID id)
{
    return id >= AV_CODEC_ID_PCM_S16LE && id < AV_CODEC_ID_ADPCM_IMA_QT;
}

/// Packets of run-up after which a decoder gives what it would have given in order. MP3 reaches back for up to 511 bytes of
/// earlier packets and overlaps one more; the others overlap and predict over a packet or a few.
int runUpOf (AVCodecID id)
{
    switch (id)
    {
    case AV_CODEC_ID_FLAC:
    case AV_CODEC_ID_ALAC:
    case AV_CODEC_ID_WAVPACK:
        return 0;
    case AV_CODEC_ID_MP1:
    case AV_CODEC_ID_MP2:
    case AV_CODEC_ID_MP3:
        return 24;
    case AV_CODEC_ID_OPUS:
        return 16; // 80 ms are asked for (RFC 7845, 4.6)
    default:
        return isPcm (id) ? 0 : 8;
    }
}

/// Whether whole ticks of the container are whole samples.
bool ticksAreSamples (const AVRational& base, int rate)
{
    return base.num > 0
           && (std::int64_t (base.num) * rate % base.den == 0 || std::int64_t (base.den) % (std::int64_t (base.num) * rate) == 0);
}

Result<Done> openContainer (const std::string& path, FormatHandle& container)
{
    AVFormatContext* opened = nullptr;
    if (const int code = openLocal (opened, path); code < 0)
        return unreadable (path, "is no sound that can be read here (" + libavText (code) + "); convert it to WAV first");
    container.reset (opened);
    if (avformat_find_stream_info (opened, nullptr) < 0)
        return unreadable (path, "is damaged at its head; convert it to WAV first");
    return Done{};
}

void listenOnly (AVFormatContext& container, int number)
{
    for (unsigned s = 0; s < container.nb_streams; ++s)
        container.streams[s]->discard = static_cast<int> (s) == number ? AVDISCARD_DEFAULT : AVDISCARD_ALL;
}

std::string tagOf (const AVDictionary* tags, const char* name)
{
    const auto* entry = av_dict_get (tags, name, nullptr, 0);
    return entry != nullptr ? entry->value : "";
}

struct Skips
{
    std::int64_t head = 0, tail = 0;
};

Skips skipsOf (const AVPacket& packet)
{
    std::size_t size = 0;
    const auto* data = av_packet_get_side_data (&packet, AV_PKT_DATA_SKIP_SAMPLES, &size);
    if (data == nullptr || size < 8)
        return {};
    const auto word = [&] (int from)
    {
        return std::int64_t (data[from]) | std::int64_t (data[from + 1]) << 8 | std::int64_t (data[from + 2]) << 16
               | std::int64_t (data[from + 3]) << 24;
    };
    return { word (0), word (4) };
}

/// Where the last packet's sound ends: what it decodes to, less its padding, or earlier where the container says so.
std::int64_t endOfLast (SoundTrack& track, AVPacket& last, std::int64_t at, std::int64_t padding, std::int64_t shownLength)
{
    std::int64_t end = at;
    if (const auto codec = soundDecoder (track))
    {
        decodeSound (*codec, &last, at,
                     [&] (std::int64_t from, int channels, const std::vector<float>& samples)
                     { end = std::max (end, from + static_cast<std::int64_t> (samples.size()) / channels); });
        decodeSound (*codec, nullptr, end,
                     [&] (std::int64_t from, int channels, const std::vector<float>& samples)
                     { end = std::max (end, from + static_cast<std::int64_t> (samples.size()) / channels); });
    }
    if (end > at)
        end = std::max (at, end - padding);
    else
        end = at + shownLength; // it decodes only after others
    return shownLength > 0 ? std::min (end, at + shownLength) : end;
}

struct ParserCloser
{
    void operator() (AVCodecParserContext* parser) const { av_parser_close (parser); }
};

/// How many samples a packet holds, where the packet itself says so: containers that count in milliseconds only guess.
class PacketLength
{
public:
    explicit PacketLength (const SoundTrack& track)
        : codec (soundDecoder (track))
        , block (isPcm (track.stream().codecpar->codec_id) ? track.stream().codecpar->block_align : 0)
        , usual (track.stream().codecpar->frame_size)
    {
        parser.reset (av_parser_init (track.stream().codecpar->codec_id));
        if (parser)
            parser->flags |= PARSER_FLAG_COMPLETE_FRAMES;
    }
    /// 0 when it does not say.
    std::int64_t of (const AVPacket& packet)
    {
        if (block > 0)
            return packet.size / block;
        if (parser && codec)
        {
            std::uint8_t* out = nullptr;
            int size = 0;
            parser->duration = 0;
            av_parser_parse2 (parser.get(), codec.get(), &out, &size, packet.data, packet.size, AV_NOPTS_VALUE, AV_NOPTS_VALUE, 0);
            if (parser->duration > 0)
                return parser->duration;
        }
        return usual;
    }

private:
    CodecHandle codec;
    std::unique_ptr<AVCodecParserContext, ParserCloser> parser;
    std::int64_t block, usual;
};

/// Lists the packets. Where ticks are coarser than samples (Matroska's milliseconds) a packet follows the one before it
/// unless its timestamp leaves more than a hundredth of a second between. Timestamps that run back, or leap on by more than
/// ten seconds, are of files joined or damaged: there too a packet follows the one before it.
void listPackets (SoundTrack& track)
{
    const auto& stream = track.stream();
    const int rate = track.info.rate;
    const bool exact = ticksAreSamples (stream.time_base, rate);
    PacketLength lengths (track);
    const auto samplesOf = [&] (std::int64_t ticks) { return av_rescale_q (ticks, stream.time_base, { 1, rate }); };
    const PacketHandle packet (av_packet_alloc()), last (av_packet_alloc());
    std::int64_t follows = 0, lastPts = INT64_MIN;
    bool begun = false, jumped = false;
    Skips lastSkips;
    std::int64_t lastLength = 0;
    while (track.next (*packet))
    {
        const std::int64_t pts = packet->pts;
        std::int64_t at = follows;
        if (pts != AV_NOPTS_VALUE)
        {
            const std::int64_t said = samplesOf (pts);
            const std::int64_t gap = said - follows;
            if (track.packets.empty())
                at = said;
            else if (gap > 10 * std::int64_t (rate) || gap < -(rate / 100))
                jumped = true;
            else if (gap >= 0 && (exact || gap > rate / 100))
                at = said;
            track.inOrder = track.inOrder && pts > lastPts;
            lastPts = pts;
        }
        const auto skips = skipsOf (*packet);
        const bool hidden = (packet->flags & AV_PKT_FLAG_DISCARD) != 0;
        if (! begun && ! hidden)
        {
            track.origin = std::max (at + skips.head, track.packets.empty() ? INT64_MIN : track.origin);
            begun = true;
        }
        else if (! begun)
            track.origin = at + skips.head;
        track.packets.push_back ({ at, pts });
        const std::int64_t said = packet->duration > 0 ? samplesOf (packet->duration) : 0;
        const std::int64_t own = exact && said > 0 ? said : lengths.of (*packet);
        follows = at + (own > 0 ? own : said);
        lastLength = exact ? said : 0;
        lastSkips = skips;
        av_packet_unref (last.get());
        av_packet_ref (last.get(), packet.get());
    }
    if (track.packets.empty())
        return;
    if (jumped)
        track.info.warnings.push_back ("its timestamps jump, as in files that were joined; its sound is taken without a gap there");
    const auto& final = track.packets.back();
    track.end = endOfLast (track, *last, final.at, lastSkips.tail, lastLength > 0 ? lastLength : follows - final.at);
}

/// The sample at which the decoder's first sound begins: the first packet of some codecs gives none. Reads on from the first
/// packet of the file.
std::int64_t firstDecoded (SoundTrack& track)
{
    const auto codec = soundDecoder (track);
    const PacketHandle packet (av_packet_alloc());
    std::optional<std::int64_t> first;
    // The first packet of Vorbis only primes the decoder (Vorbis I, 4.3.8); libav of some versions gives its samples all the same.
    const std::size_t primes = codec && codec->codec_id == AV_CODEC_ID_VORBIS ? 1 : 0;
    for (std::size_t p = 0; p < std::min<std::size_t> (8, track.packets.size()) && codec && ! first && track.next (*packet); ++p)
        decodeSound (*codec, packet.get(), track.packets[p].at,
                     [&] (std::int64_t at, int, const std::vector<float>&)
                     {
                         if (p >= primes)
                             first = first.value_or (at);
                     });
    return first.value_or (track.origin);
}

/// Samples that the head of a WAV promises, RF64 or not; none for anything else. (EBU Tech 3306 for RF64.)
std::optional<std::int64_t> promisedByWav (const std::string& path, int blockBytes)
{
    std::ifstream file (path, std::ios::binary);
    std::array<unsigned char, 12> head{};
    const auto read = [&] (std::size_t bytes)
    { return bool (file.read (reinterpret_cast<char*> (head.data()), std::streamsize (bytes))); };
    const auto number = [&] (std::size_t from, std::size_t bytes)
    {
        std::uint64_t value = 0;
        for (std::size_t i = bytes; i-- > 0;)
            value = value << 8 | head[from + i];
        return value;
    };
    const auto word = [&] (std::size_t from) { return std::string (reinterpret_cast<const char*> (head.data()) + from, 4); };
    if (! read (12) || (word (0) != "RIFF" && word (0) != "RF64") || word (8) != "WAVE")
        return {};
    std::uint64_t large = 0;
    for (int chunks = 0; chunks < 1000 && read (8); ++chunks)
    {
        const auto name = word (0);
        const auto size = number (4, 4);
        const auto body = file.tellg();
        if (name == "ds64" && size >= 16 && file.seekg (body + std::streamoff (8)) && read (8))
            large = number (0, 8);
        if (name == "data")
        {
            // All ones without a ds64, or nothing: written as a stream, which promises nothing.
            const auto bytes = size == 0xFFFFFFFF ? large : size;
            if (bytes == 0)
                return {};
            return static_cast<std::int64_t> (bytes / static_cast<std::uint64_t> (blockBytes));
        }
        file.seekg (body + static_cast<std::streamoff> (size + size % 2));
    }
    return {};
}

/// PCM in a file of nothing else: a sample is a place in the file. False when its length does not hold what it says.
bool measureDirect (SoundTrack& track)
{
    auto& stream = track.stream();
    const std::string format = track.container->iformat->name;
    static const char* const known[] = { "wav", "w64", "aiff", "caf", "au" };
    if (track.container->nb_streams != 1 || ! isPcm (stream.codecpar->codec_id)
        || std::none_of (std::begin (known), std::end (known), [&] (const char* name) { return format == name; })
        || av_cmp_q (stream.time_base, { 1, track.info.rate }) != 0 || stream.codecpar->block_align <= 0 || stream.duration <= 0)
        return false;
    const auto bytes = avio_size (track.container->pb);
    const PacketHandle packet (av_packet_alloc());
    if (! track.next (*packet) || packet->pos < 0 || bytes < packet->pos)
        return false;
    const std::int64_t held = (bytes - packet->pos) / stream.codecpar->block_align;
    track.direct = true;
    track.end = std::min (stream.duration, held);
    // A head may promise more than the file holds: of a recording that was cut off, say.
    const auto promised = promisedByWav (track.path, stream.codecpar->block_align).value_or (stream.duration);
    if (track.end < promised)
        track.info.warnings.push_back ("the file ends after " + std::to_string (track.end) + " samples, though its head promises "
                                       + std::to_string (promised) + "; it may have been cut off in copying");
    return true;
}
} // namespace

bool SoundTrack::reopen()
{
    if (! openContainer (path, container) || number >= static_cast<int> (container->nb_streams))
        return false;
    listenOnly (*container, number);
    return true;
}

bool SoundTrack::next (AVPacket& packet)
{
    for (;;)
    {
        av_packet_unref (&packet);
        if (av_read_frame (container.get(), &packet) < 0)
            return false;
        if (packet.stream_index == number)
            return true;
    }
}

Result<SoundTrack> SoundTrack::open (const std::string& path)
{
    silenceLibav();
    SoundTrack track;
    track.path = path;
    track.info.path = path;
    std::error_code failed;
    if (std::filesystem::is_directory (path, failed))
        return unreadable (path, "is a folder; give a sound file");
    auto identity = fileIdentity (path);
    if (! identity)
        return identity.error();
    track.info.identity = *identity;
    if (std::filesystem::file_size (path, failed) == 0)
        return unreadable (path, "is empty; copy the sound again");
    if (const auto opened = openContainer (path, track.container); ! opened)
        return opened.error();
    track.number = av_find_best_stream (track.container.get(), AVMEDIA_TYPE_AUDIO, -1, -1, nullptr, 0);
    if (track.number < 0)
        return unreadable (path, "has no sound track; give a file with sound");
    listenOnly (*track.container, track.number);

    const auto codec = track.stream().codecpar->codec_id;
    track.info.codec = avcodec_get_name (codec);
    track.info.rate = track.stream().codecpar->sample_rate;
    track.info.channels = track.stream().codecpar->ch_layout.nb_channels;
    if (track.info.rate < 1 || track.info.rate > 1'000'000 || track.info.channels < 1 || track.info.channels > 1024)
        return unreadable (path, "does not say at what rate or with how many channels it plays; convert it to WAV first");
    if (! soundDecoder (track))
        return unreadable (path, "is coded as " + track.info.codec + ", which can't be decoded here; convert it to WAV first");
    track.runUp = runUpOf (codec);
    const auto reference = time::parseWhole (tagOf (track.container->metadata, "time_reference"));
    if (reference && *reference >= 0)
        track.info.timeReference = *reference;
    track.info.description = tagOf (track.container->metadata, reference ? "comment" : "title");

    if (! measureDirect (track))
    {
        if (! track.reopen())
            return unreadable (path, "can't be read a second time; copy it to a disk first");
        listPackets (track);
        if (track.packets.empty())
            return unreadable (path, "has no sound in its sound track; it may have been cut off in copying");
        if (! track.reopen())
            return unreadable (path, "can't be read a second time; copy it to a disk first");
        track.origin = std::max (track.origin, firstDecoded (track));
    }
    const int picture = av_find_best_stream (track.container.get(), AVMEDIA_TYPE_VIDEO, -1, -1, nullptr, 0);
    if (picture >= 0 && (track.container->streams[picture]->disposition & AV_DISPOSITION_ATTACHED_PIC) == 0)
        if (const auto film = openFilm (path))
        {
            // The track of a film belongs to its pictures, whichever of the two the container lets begin first.
            track.info.ofFilm = true;
            track.origin = time::roundOf (film->containerStart * time::Rational (track.info.rate));
        }
    track.info.samples = std::max<std::int64_t> (0, track.end - track.origin);
    const bool primed = codec == AV_CODEC_ID_MP3 || codec == AV_CODEC_ID_AAC;
    if (primed && ! track.info.ofFilm && track.origin == track.packets.front().at)
        track.info.warnings.push_back (
            "the file does not say how much silence its encoder put before the sound, so it may start some "
            "hundredths of a second late; ask for WAV or FLAC where that matters");
    if (! track.reopen())
        return unreadable (path, "can't be read a second time; copy it to a disk first");
    return track;
}
} // namespace shutterbeat::media
