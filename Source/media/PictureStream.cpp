#include "media/PictureStream.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string_view>

namespace shutterbeat::media
{
namespace
{
/// What can be said before libav looks at the file.
std::optional<Error> plainFault (const std::string& path)
{
    std::error_code trouble;
    const auto status = std::filesystem::status (path, trouble);
    if (! std::filesystem::exists (status))
        return unreadable (path, "there is no such file; check the name, or say where it was moved to");
    if (std::filesystem::is_directory (status))
        return unreadable (path, "is a folder, not a film; name the film file inside it");
    if (! std::filesystem::is_regular_file (status))
        return unreadable (path, "is not a file on a disk; copy the film to one first");
    if (std::filesystem::file_size (path, trouble) == 0)
        return unreadable (path, "is empty (0 bytes); copy it again from its source");
    std::ifstream probe (path, std::ios::binary);
    if (! probe)
        return unreadable (path, "can't be opened for reading; check its permissions");
    return {};
}

/// libav takes some text files for films drawn with letters.
bool drawnWithLetters (AVCodecID codec)
{
    return codec == AV_CODEC_ID_ANSI || codec == AV_CODEC_ID_BINTEXT || codec == AV_CODEC_ID_XBIN || codec == AV_CODEC_ID_IDF;
}

bool isPictureTrack (const AVStream& stream)
{
    return stream.codecpar->codec_type == AVMEDIA_TYPE_VIDEO
           && (stream.disposition & (AV_DISPOSITION_ATTACHED_PIC | AV_DISPOSITION_TIMED_THUMBNAILS)) == 0
           && ! drawnWithLetters (stream.codecpar->codec_id);
}

/// The track marked as default, else the one with most pixels, else the first.
std::optional<unsigned> pictureTrack (const AVFormatContext& format)
{
    std::optional<unsigned> best;
    const auto standing = [&] (unsigned i)
    {
        const auto& stream = *format.streams[i];
        return std::pair ((stream.disposition & AV_DISPOSITION_DEFAULT) != 0,
                          std::int64_t (stream.codecpar->width) * stream.codecpar->height);
    };
    for (unsigned i = 0; i < format.nb_streams; ++i)
        if (isPictureTrack (*format.streams[i]) && (! best || standing (i) > standing (*best)))
            best = i;
    return best;
}

bool hasOther (const AVFormatContext& format, AVMediaType type)
{
    for (unsigned i = 0; i < format.nb_streams; ++i)
        if (format.streams[i]->codecpar->codec_type == type)
            return true;
    return false;
}

Error openFault (const std::string& path, int code)
{
    // Whether libav knew the kind of file: then it is a film, but not a whole one.
    std::ifstream file (path, std::ios::binary);
    std::string head (4096, '\0');
    file.read (head.data(), static_cast<std::streamsize> (head.size()));
    const auto length = static_cast<int> (file.gcount());
    head.resize (static_cast<std::size_t> (length) + AVPROBE_PADDING_SIZE, '\0');
    AVProbeData probe{};
    probe.filename = "";
    probe.buf = reinterpret_cast<unsigned char*> (head.data());
    probe.buf_size = length;
    int score = 0;
    const AVInputFormat* known = av_probe_input_format3 (&probe, 1, &score);
    if (known != nullptr && score > AVPROBE_SCORE_RETRY && ! std::string (known->name).starts_with ("tty"))
        return unreadable (path, "is a film that is cut short or damaged (" + std::string (known->long_name)
                                     + ", but its table of pictures is missing); copy it again from its source");
    return unreadable (path,
                       "is not a film that can be read (" + libavText (code) + "); give a film file, such as MOV, MP4 or MKV");
}

/// How libav reads one picture file, told from its first bytes alone: names could be taken for patterns.
const AVInputFormat* pictureFormat (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    std::string head (4096, '\0');
    file.read (head.data(), static_cast<std::streamsize> (head.size()));
    const auto length = static_cast<int> (file.gcount());
    head.resize (static_cast<std::size_t> (length) + AVPROBE_PADDING_SIZE, '\0');
    AVProbeData probe{};
    probe.filename = "";
    probe.buf = reinterpret_cast<unsigned char*> (head.data());
    probe.buf_size = length;
    int score = 0;
    const AVInputFormat* kind = length > 0 ? av_probe_input_format3 (&probe, 1, &score) : nullptr;
    return kind != nullptr && std::string_view (kind->name).ends_with ("_pipe") ? kind : nullptr;
}

/// The bytes of a file as a packet; left empty where it can't be read.
void readWhole (const std::string& path, AVPacket& packet)
{
    std::error_code trouble;
    const auto size = std::filesystem::file_size (path, trouble);
    if (trouble || size == 0 || size > std::size_t (1) << 30 || av_new_packet (&packet, static_cast<int> (size)) < 0)
        return;
    std::ifstream file (path, std::ios::binary);
    if (! file.read (reinterpret_cast<char*> (packet.data), static_cast<std::streamsize> (size)))
        av_packet_unref (&packet);
}
} // namespace

Result<PictureStream> PictureStream::open (const std::string& path)
{
    silenceLibav();
    auto sequence = findSequence (path);
    if (! sequence)
        return sequence.error();
    return *sequence ? openPictures (path, *std::move (sequence.value())) : openFile (path);
}

Result<PictureStream> PictureStream::openFile (const std::string& path)
{
    if (auto fault = plainFault (path))
        return *std::move (fault);

    PictureStream opened;
    opened.name = path;
    AVFormatContext* raw = nullptr;
    if (const int code = openLocal (raw, path, nullptr); code < 0)
        return openFault (path, code);
    opened.container.reset (raw);
    if (avformat_find_stream_info (raw, nullptr) < 0)
        return openFault (path, AVERROR_INVALIDDATA);

    const auto track = pictureTrack (*raw);
    if (! track)
    {
        if (hasOther (*raw, AVMEDIA_TYPE_AUDIO))
            return unreadable (path, "has sound but no picture; give the film file, and bring sound in as a sound");
        return unreadable (path, "is not a film: no picture track in it; give a film file, such as MOV, MP4 or MKV");
    }
    opened.number = *track;
    opened.current.reset (av_packet_alloc());
    return opened;
}

Result<PictureStream> PictureStream::openPictures (const std::string& path, ImageSequence sequence)
{
    // The first whole picture says how all are coded.
    constexpr int enough = 20;
    std::string first;
    int tried = 0;
    for (std::int64_t k = 0; k < sequence.size() && tried < enough; ++k)
    {
        if (! sequence.has (k))
            continue;
        const auto file = sequence.path (k);
        first = tried++ == 0 ? file : first;
        const AVInputFormat* kind = pictureFormat (file);
        AVFormatContext* raw = nullptr;
        if (kind == nullptr || openLocal (raw, file, kind) < 0)
            continue;
        PictureStream opened;
        opened.container.reset (raw);
        if (avformat_find_stream_info (raw, nullptr) < 0 || raw->nb_streams < 1 || raw->streams[0]->codecpar->width <= 0)
            continue;
        opened.name = path;
        opened.pictures = std::make_shared<const ImageSequence> (std::move (sequence));
        opened.current.reset (av_packet_alloc());
        return opened;
    }
    return unreadable (first, "can't be read as a picture"
                                  + std::string (tried > 1 ? ", nor can the " + std::to_string (tried - 1) + " after it" : "")
                                  + "; copy it again from its source");
}

bool PictureStream::nextPicture()
{
    av_packet_unref (current.get());
    ended = AVERROR_EOF;
    if (upcoming >= pictures->size())
        return false;
    const auto k = upcoming++;
    if (pictures->has (k))
        readWhole (pictures->path (k), *current);
    current->pts = current->dts = k;
    current->duration = 1;
    current->pos = -1;
    current->flags = AV_PKT_FLAG_KEY;
    return true;
}

bool PictureStream::next()
{
    if (pictures)
        return nextPicture();
    for (;;)
    {
        av_packet_unref (current.get());
        ended = av_read_frame (container.get(), current.get());
        if (ended < 0)
            return false;
        const auto& owner = *container->streams[current->stream_index];
        if (const auto begin = current->pts != AV_NOPTS_VALUE ? current->pts : current->dts; begin != AV_NOPTS_VALUE)
            latest = std::max (latest, av_rescale_q (begin + current->duration, owner.time_base, AV_TIME_BASE_Q));
        if (static_cast<unsigned> (current->stream_index) == number)
            return true;
    }
}

IndexedPacket PictureStream::facts() const
{
    IndexedPacket facts;
    facts.pts = current->pts == AV_NOPTS_VALUE ? noTimestamp : current->pts;
    facts.dts = current->dts == AV_NOPTS_VALUE ? noTimestamp : current->dts;
    facts.pos = current->pos;
    facts.key = (current->flags & AV_PKT_FLAG_KEY) != 0;
    facts.missing = pictures && current->size == 0;
    facts.hidden = ! facts.missing && ((current->flags & AV_PKT_FLAG_DISCARD) != 0 || current->size == 0);
    return facts;
}

void PictureStream::ignoreOtherTracks()
{
    alone = true;
    for (unsigned i = 0; i < container->nb_streams; ++i)
        if (i != number)
            container->streams[i]->discard = AVDISCARD_ALL;
}

bool PictureStream::seek (std::int64_t timestamp)
{
    if (pictures)
    {
        upcoming = std::clamp<std::int64_t> (timestamp, 0, pictures->size());
        return true;
    }
    return av_seek_frame (container.get(), static_cast<int> (number), timestamp, AVSEEK_FLAG_BACKWARD) >= 0;
}

Result<Done> PictureStream::rewind()
{
    if (pictures)
    {
        upcoming = 0;
        return Done{};
    }
    auto again = open (name);
    if (! again)
        return again.error();
    if (again->number != number)
        return unreadable (name, "was changed while it was open; open it again");
    const bool wasAlone = alone;
    *this = std::move (again.value());
    if (wasAlone)
        ignoreOtherTracks();
    return Done{};
}
} // namespace shutterbeat::media
