#include "media/MovieChapters.h"

#include "media/Libav.h"
#include "media/MovieTrack.h"
#include "time/Text.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <vector>

namespace shutterbeat::media
{
namespace
{
namespace fs = std::filesystem;

Result<FormatHandle> opened (const std::string& path)
{
    silenceLibav();
    AVFormatContext* made = nullptr;
    if (const int code = openLocal (made, path); code < 0)
        return unreadable (path, "can't be opened: " + libavText (code) + "; check the file");
    FormatHandle format (made);
    if (const int code = avformat_find_stream_info (format.get(), nullptr); code < 0)
        return unreadable (path, "can't be read: " + libavText (code) + "; check the file");
    return format;
}

/// The first picture's time, which chapters are counted from: containers may begin elsewhere than at zero, and a sound whose
/// encoder was primed may begin before the picture.
time::Rational startOf (const AVFormatContext& format)
{
    for (unsigned i = 0; i < format.nb_streams; ++i)
        if (const auto& stream = *format.streams[i]; stream.codecpar->codec_type == AVMEDIA_TYPE_VIDEO
                                                     && (stream.disposition & AV_DISPOSITION_ATTACHED_PIC) == 0
                                                     && stream.start_time != AV_NOPTS_VALUE)
            return time::Rational (stream.start_time) * rationalOf (stream.time_base);
    return format.start_time == AV_NOPTS_VALUE ? time::Rational (0)
                                               : time::Rational (time::Int128 (format.start_time), time::Int128 (AV_TIME_BASE));
}

/// How far before zero the earliest packet lies, in seconds: the priming of a sound's encoder. Matroska has no time before zero, so
/// its writer moves everything on by that much. Error: as opened().
Result<time::Rational> secondsBeforeZero (const std::string& movie)
{
    const auto in = opened (movie);
    if (! in)
        return in.error();
    std::vector<bool> seen ((*in)->nb_streams, false);
    time::Rational before (0);
    constexpr int most = 2000; // packets: a track that begins later than these begins after zero
    const PacketHandle packet (av_packet_alloc());
    for (int read = 0;
         read < most && std::find (seen.begin(), seen.end(), false) != seen.end() && av_read_frame (in->get(), packet.get()) >= 0;
         ++read)
    {
        const auto track = static_cast<std::size_t> (packet->stream_index);
        if (track < seen.size() && ! seen[track])
        {
            seen[track] = true;
            const auto& stream = *(*in)->streams[track];
            const auto first = packet->pts;
            if (first != AV_NOPTS_VALUE)
                before = std::max (before, time::Rational (-first) * rationalOf (stream.time_base));
        }
        av_packet_unref (packet.get());
    }
    return before;
}

std::string containerOf (const std::string& path)
{
    const auto ending = time::lowerAscii (fs::path (path).extension().string());
    return ending == ".mkv" ? "matroska" : ending == ".mov" ? "mov" : ending == ".mp4" || ending == ".m4v" ? "mp4" : "";
}

/// A chapter as libav keeps it; the container frees it.
/// `movedOn`: seconds by which the container moves all of the movie; set, its clock has whole milliseconds, and the picture lies on
/// the nearest of them.
AVChapter* chapterOf (const MovieChapter& chapter, int number, const std::optional<time::Rational>& movedOn)
{
    auto* made = static_cast<AVChapter*> (av_mallocz (sizeof (AVChapter)));
    if (made == nullptr)
        return nullptr;
    made->id = number;
    // Nanoseconds are finer than any sample; frames of 1001 parts don't fall on them, but round back to themselves.
    const time::Rational units (movedOn ? 1000 : 1000000000), from = movedOn.value_or (time::Rational (0));
    made->time_base = { 1, movedOn ? 1000 : 1000000000 };
    made->start = time::roundOf ((chapter.start + from) * units);
    made->end = time::roundOf ((chapter.end + from) * units);
    av_dict_set (&made->metadata, "title", chapter.title.c_str(), 0);
    return made;
}

/// A movie being copied under a temporary name; gone unless it was finished.
struct Copy
{
    std::string target, part;
    OutputHandle out;
    bool finished = false;

    ~Copy()
    {
        out.reset();
        std::error_code ignored;
        if (! finished && ! part.empty())
            fs::remove (part, ignored);
    }

    [[nodiscard]] Result<Done> checked (int code) const
    {
        if (code < 0)
            return cannotWrite (target, "the copy can't be written: " + libavText (code) + "; choose another folder or make room");
        return Done{};
    }
};

/// Makes a track of the copy for each that can go along; -1 for the rest (data, timecode tracks: those are made anew).
Result<std::vector<int>> addTracks (const AVFormatContext& in, Copy& copy)
{
    std::vector<int> tracks (in.nb_streams, -1);
    for (unsigned i = 0; i < in.nb_streams; ++i)
    {
        const auto& from = *in.streams[i];
        const auto kind = from.codecpar->codec_type;
        if (kind != AVMEDIA_TYPE_VIDEO && kind != AVMEDIA_TYPE_AUDIO && kind != AVMEDIA_TYPE_SUBTITLE)
            continue;
        auto* to = avformat_new_stream (copy.out.get(), nullptr);
        if (to == nullptr || avcodec_parameters_copy (to->codecpar, from.codecpar) < 0)
            return cannotWrite (copy.target, "memory ran out");
        to->codecpar->codec_tag = 0;
        to->time_base = from.time_base;
        to->avg_frame_rate = from.avg_frame_rate;
        to->r_frame_rate = from.r_frame_rate;
        to->sample_aspect_ratio = from.sample_aspect_ratio;
        to->disposition = from.disposition;
        av_dict_copy (&to->metadata, from.metadata, 0);
        tracks[i] = to->index;
    }
    return tracks;
}
} // namespace

Result<std::vector<MovieChapter>> readMovieChapters (const std::string& path)
{
    const auto format = opened (path);
    if (! format)
        return format.error();
    std::vector<MovieChapter> chapters;
    const auto start = startOf (**format);
    for (unsigned i = 0; i < (*format)->nb_chapters; ++i)
    {
        const auto& chapter = *(*format)->chapters[i];
        const auto base = rationalOf (chapter.time_base);
        const auto* title = av_dict_get (chapter.metadata, "title", nullptr, 0);
        chapters.push_back ({ time::Rational (chapter.start) * base - start, time::Rational (chapter.end) * base - start,
                              title != nullptr ? title->value : "" });
    }
    return chapters;
}

Result<Done> copyWithChapters (const std::string& movie, const std::string& path, const std::vector<MovieChapter>& chapters,
                               const ChapterWatch& watch)
{
    const auto container = containerOf (path);
    if (container.empty())
        return usageError (path, "a movie with chapters ends in .mp4, .m4v, .mov or .mkv; give it one of these");
    std::error_code ignored;
    if (fs::equivalent (movie, path, ignored))
        return usageError (path, "is the movie itself; give the copy another name");
    const auto in = opened (movie);
    if (! in)
        return in.error();
    Copy copy;
    copy.target = path;
    copy.part = path + ".part";
    AVFormatContext* made = nullptr;
    if (const int code = avformat_alloc_output_context2 (&made, nullptr, container.c_str(), ("file:" + copy.part).c_str());
        code < 0)
        return copy.checked (code).error();
    copy.out.reset (made);
    made->flags |= AVFMT_FLAG_BITEXACT;
    av_dict_copy (&made->metadata, (*in)->metadata, 0);
    for (const char* own : { "major_brand", "minor_version", "compatible_brands", "encoder" })
        av_dict_set (&made->metadata, own, nullptr, 0);
    const auto tracks = addTracks (**in, copy);
    if (! tracks)
        return tracks.error();
    std::optional<time::Rational> movedOn;
    if (container == "matroska")
    {
        const auto before = secondsBeforeZero (movie);
        if (! before)
            return before.error();
        movedOn = *before;
    }
    made->chapters = static_cast<AVChapter**> (av_calloc (std::max<std::size_t> (chapters.size(), 1), sizeof (AVChapter*)));
    for (const auto& chapter : chapters)
        if (auto* one = chapterOf (chapter, static_cast<int> (made->nb_chapters) + 1, movedOn);
            one != nullptr && made->chapters != nullptr)
            made->chapters[made->nb_chapters++] = one;
    if (auto done = copy.checked (avio_open (&made->pb, made->url, AVIO_FLAG_WRITE)); ! done)
        return done;
    AVDictionary* options = nullptr;
    if (container != "matroska")
        av_dict_set (&options, "movflags", "+faststart", 0);
    const int code = avformat_write_header (made, &options);
    av_dict_free (&options);
    if (auto done = copy.checked (code); ! done)
        return done;

    const PacketHandle packet (av_packet_alloc());
    const auto size = (*in)->pb != nullptr ? avio_size ((*in)->pb) : 0;
    while (av_read_frame (in->get(), packet.get()) >= 0)
    {
        const int track = (*tracks)[static_cast<std::size_t> (packet->stream_index)];
        if (watch && size > 0 && packet->pos > 0 && ! watch (static_cast<double> (packet->pos) / static_cast<double> (size)))
            return Error{ ErrorCode::cancelled, path, "stopped; nothing was written" };
        if (track < 0)
        {
            av_packet_unref (packet.get());
            continue;
        }
        av_packet_rescale_ts (packet.get(), (*in)->streams[packet->stream_index]->time_base, made->streams[track]->time_base);
        packet->stream_index = track;
        packet->pos = -1;
        if (auto done = copy.checked (av_interleaved_write_frame (made, packet.get())); ! done)
            return done;
    }
    if (auto done = copy.checked (av_write_trailer (made)); ! done)
        return done;
    if (auto done = copy.checked (avio_closep (&made->pb)); ! done)
        return done;
    std::error_code failed;
    fs::rename (copy.part, path, failed);
    if (failed)
        return cannotWrite (path, failed.message() + "; choose another folder");
    copy.finished = true;
    return Done{};
}
} // namespace shutterbeat::media
