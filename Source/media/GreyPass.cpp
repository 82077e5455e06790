#include "media/GreyPass.h"

#include "media/FrameFinder.h"
#include "media/FrameReader.h"
#include "media/GreyLanes.h"
#include "media/IndexedFilm.h"

extern "C"
{
#include <libavutil/imgutils.h>
}

#include <algorithm>
#include <thread>

namespace shutterbeat::media
{
namespace
{
/// So many frames at least go in one piece: a piece costs a seek and a few pictures decoded twice.
constexpr std::int64_t shortestPiece = 48;
/// Reading in many places at once is slow on disks that turn.
constexpr unsigned mostLanes = 8;

/// The film in pieces that begin where decoding can: each [pieces[i], pieces[i + 1]).
std::vector<std::int64_t> piecesOf (const FrameIndex& index)
{
    std::vector<std::int64_t> begins;
    for (const auto key : index.keys)
        if (const auto frame = index.packets[static_cast<std::size_t> (key)].frame; frame >= 0)
            begins.push_back (frame);
    std::sort (begins.begin(), begins.end());
    std::vector<std::int64_t> pieces{ 0 };
    for (const auto frame : begins)
        if (frame - pieces.back() >= shortestPiece && index.size() - frame >= shortestPiece)
            pieces.push_back (frame);
    pieces.push_back (index.size());
    return pieces;
}

/// How many frames further than one that is wanted a picture may be that comes out before it or is needed to be sure of it.
std::int64_t furthestAhead (const FrameIndex& index)
{
    std::int64_t furthest = 0;
    // Packets in decoding order: whatever was decoded earlier and is shown later waits.
    std::int64_t latest = -1;
    for (const auto& packet : index.packets)
    {
        if (packet.frame < 0)
            continue;
        furthest = std::max<std::int64_t> (furthest, latest - packet.frame);
        latest = std::max<std::int64_t> (latest, packet.frame);
    }
    return std::min (furthest, reach);
}

/// Memory for the pictures that wait, twice, since the cache keeps as many behind: more would only be slower, as every picture
/// would be written to memory that the processor has not at hand.
std::size_t cacheFor (const FilmInfo& info, const FrameIndex& index, const AVCodecParameters& picture)
{
    // Decoders take more than what is seen, for what hangs over the edges.
    const int width = std::max (picture.width, info.width) + 128, height = std::max (picture.height, info.height) + 128;
    const int known = av_image_get_buffer_size (static_cast<AVPixelFormat> (picture.format), width, height, 64);
    const auto bytes = known > 0 ? static_cast<std::size_t> (known)
                                 : std::size_t (8) * static_cast<std::size_t> (width) * static_cast<std::size_t> (height);
    return bytes * static_cast<std::size_t> (2 * furthestAhead (index) + 6);
}
} // namespace

Result<Done> forEachGrey (const std::string& path, int width, int height,
                          const std::function<bool (std::int64_t frame, const film::GreyPicture& picture)>& each)
{
    if (width < 1 || height < 1 || width > 16384 || height > 16384)
        return usageError (path, "can't be read as pictures of " + std::to_string (width) + " x " + std::to_string (height));
    auto film = indexFilm (path);
    if (! film)
        return film.error();
    const auto index = std::make_shared<const FrameIndex> (std::move (film->index));
    const auto frames = index->size();
    const auto cache = cacheFor (film->info, *index, *film->stream.stream().codecpar);
    const auto pieces = piecesOf (*index);
    // Where no timestamp leads to a place in the file every lane would read it from its beginning.
    const auto wanted = std::min<std::size_t> ({ std::thread::hardware_concurrency(), mostLanes, pieces.size() - 1 });
    if (index->ordered || wanted < 2)
    {
        auto reader = FrameReader::open (film->info, index, std::move (film->stream), DecoderThreads::sure, cache);
        if (! reader)
            return reader.error();
        for (std::int64_t k = 0; k < frames; ++k)
        {
            auto picture = (*reader)->greyFrame (k, width, height);
            if (! picture)
                return picture.error();
            if (! each (k, *picture))
                return Error{ ErrorCode::cancelled, path, "reading was stopped" };
        }
        return Done{};
    }
    std::vector<std::unique_ptr<FrameReader>> readers;
    for (std::size_t lane = 0; lane < wanted; ++lane)
    {
        // For a long film what libav keeps of a file is not little: the stream that is open already serves too.
        auto stream = lane == 0 ? Result<PictureStream> (std::move (film->stream)) : PictureStream::open (path);
        if (! stream)
            return stream.error();
        stream->ignoreOtherTracks();
        auto reader = FrameReader::open (film->info, index, std::move (stream.value()), DecoderThreads::one, cache);
        if (! reader)
            return reader.error();
        readers.push_back (std::move (reader.value()));
    }
    return readInLanes (readers, pieces, width, height, each);
}
} // namespace shutterbeat::media
