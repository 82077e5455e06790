#include "media/FilmFile.h"

#include "media/DecodedOrder.h"
#include "media/DisplayShape.h"
#include "media/FrameRate.h"
#include "media/Identity.h"
#include "media/IndexCache.h"
#include "media/IndexedFilm.h"
#include "media/MissingEnd.h"
#include "media/PacketParser.h"
#include "media/Presentation.h"
#include "media/ReelName.h"
#include "media/SequenceFilm.h"
#include "media/StartLabel.h"

#include <algorithm>

namespace shutterbeat::media
{
namespace
{
/// Reads every packet once.
FrameIndex readPackets (PictureStream& film)
{
    FrameIndex index;
    index.timeBase = rationalOf (film.stream().time_base);
    PacketParser parser (film.stream());
    while (film.next())
    {
        auto packet = film.facts();
        parser.read (film.packet(), packet, index.packets.empty() ? nullptr : &index.packets.back());
        index.packets.push_back (packet);
    }
    return index;
}

/// Puts the pictures in order of presentation, decoding only where nothing cheaper tells.
Result<Done> arrange (PictureStream& film, FrameIndex& index)
{
    if (hasAllTimestamps (index))
    {
        present (index, orderByTimestamp (index));
        return Done{};
    }
    index.ordered = true;
    if (PacketParser (film.stream()).typesGiveOrder())
    {
        present (index, orderByType (index));
        return Done{};
    }
    if (auto back = film.rewind(); ! back)
        return back;
    auto order = orderByDecoding (film, 16);
    if (! order)
        return order.error();
    present (index, *order);
    return Done{};
}

/// Drops pictures at the head that the decoder can't make because what they hang on is not in the file.
Result<Done> dropUndecodableHead (PictureStream& film, FrameIndex& index)
{
    const auto doubtful = doubtfulHead (index);
    if (doubtful.empty())
        return Done{};
    if (auto back = film.rewind(); ! back)
        return back;
    // Once a picture shown after all of them is out, none of them can come any more.
    const auto after = std::min (doubtful.back() + 2, index.size() - 1);
    const auto made = orderByDecoding (film, index.reorder, index.frames[static_cast<std::size_t> (after)].packet);
    if (! made)
        return made.error();
    std::vector<std::int64_t> order;
    for (std::int64_t k = 0; k < index.size(); ++k)
    {
        const auto packet = index.frames[static_cast<std::size_t> (k)].packet;
        const bool inDoubt = std::binary_search (doubtful.begin(), doubtful.end(), k);
        if (! inDoubt || std::find (made->begin(), made->end(), packet) != made->end())
            order.push_back (packet);
    }
    index.undecodable = index.size() - static_cast<std::int64_t> (order.size());
    present (index, order);
    return Done{};
}

/// Gives every frame a timestamp where the container did not: even steps of the rate.
void stepEvenly (FrameIndex& index, const time::Rational& rate)
{
    index.timeBase = time::Rational (1) / rate;
    for (std::int64_t k = 0; k < index.size(); ++k)
        index.frames[static_cast<std::size_t> (k)].pts = k;
}

/// Where no picture says when it is shown but all say when they are decoded (AVI), the k-th shown has the k-th of those
/// times: nothing is shown before it is decoded, and the decoder's delay is the same for all.
void showWhenDecoded (FrameIndex& index)
{
    std::vector<std::int64_t> stamps;
    for (const auto& packet : index.packets)
        if (packet.frame >= 0 && ! packet.secondField && packet.dts != noTimestamp)
            stamps.push_back (packet.dts);
    const bool someKnown = std::any_of (index.frames.begin(), index.frames.end(),
                                        [] (const PresentedFrame& frame) { return frame.pts != noTimestamp; });
    if (someKnown || stamps.size() != index.frames.size() || ! std::is_sorted (stamps.begin(), stamps.end()))
        return;
    for (std::size_t k = 0; k < stamps.size(); ++k)
        index.frames[k].pts = stamps[k];
}

void tellRate (const PictureStream& film, FrameIndex& index, FilmInfo& info)
{
    const auto& stream = film.stream();
    const auto mean = rationalOf (stream.avg_frame_rate);
    const auto base = rationalOf (stream.r_frame_rate);
    const auto told = frameRateOf (base, mean);
    if (index.ordered)
        showWhenDecoded (index);
    const auto stamped = std::count_if (index.frames.begin(), index.frames.end(),
                                        [] (const PresentedFrame& frame) { return frame.pts != noTimestamp; });
    if (index.frames.front().pts != noTimestamp)
        info.containerStart = time::Rational (index.frames.front().pts) * index.timeBase;
    const auto measured = measureRate (index.frames, index.timeBase, { told, mean, base });
    info.rate = measured.rate;
    info.variableRate = measured.variable;
    if (measured.variable)
        info.warnings.push_back ("the pictures do not follow evenly; most are shown at " + time::rateName ({ info.rate, false })
                                 + " a second, and they are counted as they come");
    else if (stamped < 2 && index.size() > 1)
        info.warnings.push_back ("the file does not say when its pictures are shown; they are taken to follow evenly at "
                                 + time::rateName ({ info.rate, false }) + " a second");
    if (stamped < index.size())
        stepEvenly (index, info.rate);
}

/// What the open file says about itself apart from its packets.
Result<Done> describe (const PictureStream& film, FilmInfo& info)
{
    auto& stream = film.stream();
    auto shape = displayShapeOf (film.format(), stream);
    info.width = shape.width;
    info.height = shape.height;
    info.rotation = shape.rotation;
    info.codec = avcodec_get_name (stream.codecpar->codec_id);
    auto label = startLabelOf (film, info.rate);
    info.startLabel = label.text;
    info.startRate = label.rate;
    info.startFrame = label.frame;
    info.reelName = reelNameOf (film);
    for (auto* warnings : { &shape.warnings, &label.warnings })
        info.warnings.insert (info.warnings.end(), warnings->begin(), warnings->end());
    for (unsigned i = 0; i < film.format().nb_streams; ++i)
        info.hasSound = info.hasSound || film.format().streams[i]->codecpar->codec_type == AVMEDIA_TYPE_AUDIO;
    if (info.width <= 0 || info.height <= 0)
        return unreadable (info.path, "does not say how large its pictures are; copy it again from its source");
    return Done{};
}

Result<Done> readThrough (IndexedFilm& film)
{
    auto& info = film.info;
    film.index = readPackets (film.stream);
    if (auto fault = missingEnd (film.stream))
        return *std::move (fault);
    const auto endDoubt = doubtfulEnd (film.stream);
    film.stream.ignoreOtherTracks();
    if (auto done = arrange (film.stream, film.index); ! done)
        return done;
    if (auto done = dropUndecodableHead (film.stream, film.index); ! done)
        return done;
    if (film.index.size() == 0)
        return unreadable (info.path, "has a picture track, but not one picture in it can be shown; copy it again from its source");
    info.frames = film.index.size();
    tellRate (film.stream, film.index, info);
    if (film.index.undecodable > 0)
        info.warnings.push_back ((film.index.undecodable == 1
                                      ? "1 picture at its head hangs"
                                      : std::to_string (film.index.undecodable) + " pictures at its head hang")
                                 + std::string (" on pictures cut away in front; not counted"));
    if (! endDoubt.empty())
        info.warnings.push_back (endDoubt);
    return describe (film.stream, info);
}
} // namespace

Result<IndexedFilm> indexFilm (const std::string& path, const time::Rational& declaredRate)
{
    auto opened = PictureStream::open (path);
    if (! opened)
        return opened.error();
    auto identity = fileIdentity (path);
    if (! identity)
        return identity.error();
    IndexedFilm film{ {}, {}, std::move (opened.value()) };
    film.info.path = path;
    film.info.identity = *identity;
    if (film.stream.sequence() != nullptr)
    {
        describeSequence (film, declaredRate);
        if (auto done = describe (film.stream, film.info); ! done)
            return done.error();
        return film;
    }
    if (auto known = readCachedIndex (path, *identity))
    {
        film.info = std::move (known->info);
        film.index = std::move (known->index);
        film.stream.ignoreOtherTracks();
        return film;
    }
    if (auto done = readThrough (film); ! done)
        return done.error();
    KnownFilm known{ std::move (film.info), std::move (film.index) };
    writeCachedIndex (path, known);
    film.info = std::move (known.info);
    film.index = std::move (known.index);
    return film;
}

Result<FilmInfo> openFilm (const std::string& path, const time::Rational& declaredRate)
{
    auto film = indexFilm (path, declaredRate);
    if (! film)
        return film.error();
    return std::move (film.value().info);
}
} // namespace shutterbeat::media
