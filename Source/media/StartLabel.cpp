#include "media/StartLabel.h"

#include "media/DpxHeader.h"
#include "time/Timecode.h"

#include <array>
#include <fstream>

namespace shutterbeat::media
{
namespace
{
using time::Int128;
using time::Rate;
using time::Rational;

bool hasDropFrame (const Rational& rate)
{
    return rate == Rational (Int128 (30000), Int128 (1001)) || rate == Rational (Int128 (60000), Int128 (1001));
}

std::uint32_t bigEndian (const std::uint8_t* bytes)
{
    return std::uint32_t (bytes[0]) << 24 | std::uint32_t (bytes[1]) << 16 | std::uint32_t (bytes[2]) << 8 | bytes[3];
}

std::string twoDigits (std::int64_t n)
{
    return (n < 10 ? "0" : "") + std::to_string (n);
}

/// hh:mm:ss:ff of a count at a rate that has no timecode of its own (18 labels a second, say).
std::string plainLabel (std::int64_t count, std::int64_t perSecond)
{
    const auto seconds = count / perSecond;
    return twoDigits (seconds / 3600) + ":" + twoDigits (seconds / 60 % 60) + ":" + twoDigits (seconds % 60) + ":"
           + twoDigits (count % perSecond);
}

/// Reads description and first sample of a timecode track. The sample is read from the file itself: libav gives no
/// label at all when the track's flags contradict its rate.
std::optional<TimecodeTrack> readTrack (const std::string& path, AVStream& stream)
{
    const auto& parameters = *stream.codecpar;
    const AVIndexEntry* entry = avformat_index_get_entry (&stream, 0);
    if (parameters.extradata_size < 17 || entry == nullptr || entry->size < 4)
        return {};
    TimecodeTrack track;
    track.flags = bigEndian (parameters.extradata + 4);
    track.timescale = bigEndian (parameters.extradata + 8);
    track.duration = bigEndian (parameters.extradata + 12);
    track.perSecond = parameters.extradata[16];
    std::array<char, 4> sample{};
    std::ifstream file (path, std::ios::binary);
    file.seekg (entry->pos);
    if (! file.read (sample.data(), sample.size()))
        return {};
    track.count = bigEndian (reinterpret_cast<const std::uint8_t*> (sample.data()));
    return track;
}

const char* tagOf (const AVDictionary* tags)
{
    const AVDictionaryEntry* entry = av_dict_get (tags, "timecode", nullptr, 0);
    return entry != nullptr && entry->value[0] != '\0' ? entry->value : nullptr;
}
} // namespace

StartLabel labelOfTrack (const TimecodeTrack& track, const Rational& pictureRate)
{
    StartLabel label;
    const std::int64_t perSecond = track.perSecond;
    Rational rate = track.timescale > 0 && track.duration > 0 ? Rational (Int128 (track.timescale), Int128 (track.duration))
                                                              : Rational (perSecond);
    // The labels a second decide; a clock written in hundredths (2397/100) means the rate it is nearest to.
    if (perSecond > 0 && ! time::hasTimecode ({ rate, false }))
        for (const Rational& near : { Rational (perSecond), Rational (Int128 (perSecond) * 1000, Int128 (1001)) })
            if (const auto off = (rate - near) * Rational (1000); off < rate && -off < rate)
                rate = near;
    if (perSecond <= 0 || rate.sign() <= 0)
    {
        label.warnings.emplace_back ("the timecode track does not say how it counts and is left aside; give the start timecode");
        return label;
    }
    const bool drop = (track.flags & 1) != 0;
    label.rate = { rate, drop && hasDropFrame (rate) };
    const std::int64_t count = track.count;
    if (drop && ! label.rate.dropFrame && perSecond % 30 == 0 && perSecond <= 60)
    {
        // Labels of a camera that counts drop-frame on true 30/1: they stand as it showed them.
        label.text = time::labelOf (count, { Rational (Int128 (perSecond) * 1000, Int128 (1001)), true }).text;
        label.warnings.emplace_back ("the timecode track counts drop-frame, which " + time::rateName (label.rate)
                                     + " does not call for; it is read as it is written");
    }
    else if (drop && ! label.rate.dropFrame)
        label.warnings.emplace_back ("the timecode track is marked drop-frame, which " + time::rateName (label.rate)
                                     + " does not have; it is read as non-drop");
    if (label.text.empty())
        label.text = time::hasTimecode (label.rate) ? time::labelOf (count, label.rate).text : plainLabel (count, perSecond);
    // Labels may count pairs of pictures (30 on 60): then each is worth more than one.
    const std::int64_t picturesPerSecond = time::labelsPerSecond ({ pictureRate, false });
    label.frame = time::hasTimecode ({ pictureRate, false }) && picturesPerSecond % perSecond == 0
                      ? count * (picturesPerSecond / perSecond)
                      : time::floorOf (Rational (count) * pictureRate / rate);
    return label;
}

StartLabel labelOfTag (const std::string& tag, const Rational& pictureRate)
{
    StartLabel label;
    const bool drop = tag.find (';') != std::string::npos || tag.find ('.') != std::string::npos;
    std::string text = tag;
    for (auto& letter : text)
        if (letter == '.')
            letter = ';';
    label.rate = { pictureRate, drop && hasDropFrame (pictureRate) };
    if (! time::hasTimecode (label.rate))
    {
        label.warnings.emplace_back ("has the timecode " + tag + ", but its pictures run at " + time::rateName (label.rate)
                                     + ", which has none; give the start timecode if it is needed");
        return label;
    }
    const auto read = time::parseLabel (text, label.rate, time::LabelReading::media);
    if (! read)
    {
        label.warnings.emplace_back ("its start timecode is left aside: " + read.error().text());
        return label;
    }
    if (! read->note.empty())
        label.warnings.push_back (read->note);
    label.frame = read->value;
    // A semicolon on true 30/1 or 60/1 counts drop-frame as written, and then the label stands as written.
    const bool asWritten = drop && ! label.rate.dropFrame && time::labelsPerSecond (label.rate) % 30 == 0;
    label.text = asWritten ? text : time::labelOf (read->value, label.rate).text;
    return label;
}

namespace
{
/// The timecode in the headers of DPX files. Some writers leave zeros where they mean nothing: then all have the same.
StartLabel labelOfPictures (const ImageSequence& files, const Rational& pictureRate)
{
    std::string first;
    for (std::int64_t k = 0, read = 0; k < files.size() && read < 2; ++k)
    {
        if (! files.has (k))
            continue;
        const auto header = readDpxHeader (files.path (k));
        if (! header || header->timecode.empty() || (read++ > 0 && header->timecode == first))
            return {};
        if (first.empty())
            first = header->timecode;
    }
    return first.empty() ? StartLabel{} : labelOfTag (first, pictureRate);
}
} // namespace

StartLabel startLabelOf (const PictureStream& film, const Rational& pictureRate)
{
    auto& format = film.format();
    if (const auto* files = film.sequence())
        return labelOfPictures (*files, pictureRate);
    for (unsigned i = 0; i < format.nb_streams; ++i)
        if (format.streams[i]->codecpar->codec_tag == MKTAG ('t', 'm', 'c', 'd'))
            if (const auto track = readTrack (film.path(), *format.streams[i]))
                return labelOfTrack (*track, pictureRate);

    const char* tag = tagOf (film.stream().metadata);
    if (tag == nullptr)
        tag = tagOf (format.metadata);
    for (unsigned i = 0; tag == nullptr && i < format.nb_streams; ++i)
        tag = tagOf (format.streams[i]->metadata);
    return tag != nullptr ? labelOfTag (tag, pictureRate) : StartLabel{};
}
} // namespace shutterbeat::media
