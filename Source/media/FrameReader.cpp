#include "media/FrameReader.h"

#include "media/FrameFinder.h"
#include "media/FramePainter.h"
#include "media/IndexedFilm.h"

#include <utility>

namespace shutterbeat::media
{
struct FrameReader::State
{
    State (const FilmInfo& film, std::shared_ptr<const FrameIndex> frames, PictureStream stream, Decoder decoder,
           DecoderThreads threads, std::size_t cacheBytes)
        : info (film)
        , index (std::move (frames))
        , finder (std::move (stream), *index, std::move (decoder), threads, cacheBytes)
        , painter (info.path, info.rotation)
    {
    }

    Result<const KeptFrame*> findOrHold (std::int64_t k, bool& held);

    FilmInfo info;
    std::shared_ptr<const FrameIndex> index;
    FrameFinder finder;
    FramePainter painter;
};

/// Frame k, or the nearest before it that could be decoded, or null.
Result<const KeptFrame*> FrameReader::State::findOrHold (std::int64_t k, bool& held)
{
    held = false;
    for (auto at = k; at >= 0; --at)
    {
        auto kept = finder.find (at);
        if (! kept || *kept != nullptr)
            return kept;
        held = true;
    }
    return static_cast<const KeptFrame*> (nullptr);
}

FrameReader::FrameReader (std::unique_ptr<State> opened)
    : state (std::move (opened))
{
}

FrameReader::~FrameReader() = default;

Result<std::unique_ptr<FrameReader>> FrameReader::open (const std::string& path, std::size_t cacheBytes)
{
    auto film = indexFilm (path);
    if (! film)
        return film.error();
    return open (film->info, std::make_shared<const FrameIndex> (std::move (film->index)), std::move (film->stream),
                 DecoderThreads::sure, cacheBytes);
}

Result<std::unique_ptr<FrameReader>> FrameReader::open (const FilmInfo& info, std::shared_ptr<const FrameIndex> index,
                                                        PictureStream stream, DecoderThreads threads, std::size_t cacheBytes)
{
    auto decoder = Decoder::open (info.path, stream.stream(), index->reorder, threads);
    if (! decoder)
        return decoder.error();
    auto state =
        std::make_unique<State> (info, std::move (index), std::move (stream), std::move (decoder.value()), threads, cacheBytes);
    return std::unique_ptr<FrameReader> (new FrameReader (std::move (state)));
}

const FilmInfo& FrameReader::info() const
{
    return state->info;
}

const FrameIndex& FrameReader::index() const
{
    return *state->index;
}

void FrameReader::onlyThese (std::set<std::int64_t> frames)
{
    state->finder.onlyThese (std::move (frames));
}

std::int64_t FrameReader::decodedSoFar() const
{
    return state->finder.decodedSoFar();
}

namespace
{
constexpr int largest = 16384;

Result<Done> checkWish (const FilmInfo& info, std::int64_t k, int& width, int& height)
{
    if (k < 0 || k >= info.frames)
        return usageError (info.path, "has no file frame " + std::to_string (k) + "; its frames go from 0 to "
                                          + std::to_string (info.frames - 1));
    if (width == 0 && height == 0)
    {
        width = info.width;
        height = info.height;
    }
    if (width < 1 || height < 1 || width > largest || height > largest)
        return usageError (info.path, "a picture of " + std::to_string (width) + " x " + std::to_string (height)
                                          + " can't be made; ask for 1 to " + std::to_string (largest) + " pixels each way");
    return Done{};
}
} // namespace

Result<Picture> FrameReader::frame (std::int64_t k, int width, int height)
{
    if (auto fit = checkWish (state->info, k, width, height); ! fit)
        return fit.error();
    bool held = false;
    const auto kept = state->findOrHold (k, held);
    if (! kept)
        return kept.error();
    if (*kept == nullptr)
        return Picture{
            width, height,
            std::vector<std::uint8_t> (std::size_t (3) * static_cast<std::size_t> (width) * static_cast<std::size_t> (height)), true
        };
    auto picture = state->painter.colour (*(*kept)->frame, width, height);
    if (picture)
        picture->damaged = held || (*kept)->damaged;
    return picture;
}

Result<film::GreyPicture> FrameReader::greyFrame (std::int64_t k, int width, int height)
{
    if (auto fit = checkWish (state->info, k, width, height); ! fit)
        return fit.error();
    bool held = false;
    const auto kept = state->findOrHold (k, held);
    if (! kept)
        return kept.error();
    if (*kept == nullptr)
        return film::GreyPicture{ width, height,
                                  std::vector<std::uint8_t> (static_cast<std::size_t> (width) * static_cast<std::size_t> (height)),
                                  true };
    auto picture = state->painter.grey (*(*kept)->frame, width, height);
    if (picture)
        picture->damaged = held || (*kept)->damaged;
    return picture;
}
} // namespace shutterbeat::media
