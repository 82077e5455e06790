#include "media/CanvasFilm.h"

#include "media/CanvasPainter.h"
#include "media/FrameFinder.h"
#include "media/IndexedFilm.h"

#include <utility>

namespace shutterbeat::media
{
namespace
{
/// Rendering goes forward: what lies behind is of no use, so little is kept.
constexpr std::size_t cacheBytes = std::size_t (48) << 20;
} // namespace

struct CanvasFilm::State
{
    State (IndexedFilm film, Decoder decoder, DecoderThreads threads)
        : info (std::move (film.info))
        , index (std::move (film.index))
        , finder (std::move (film.stream), index, std::move (decoder), threads, cacheBytes)
        , painter (info.path, info.rotation)
    {
    }

    FilmInfo info;
    FrameIndex index;
    FrameFinder finder;
    CanvasPainter painter;
};

CanvasFilm::CanvasFilm (std::unique_ptr<State> opened)
    : state (std::move (opened))
{
}

CanvasFilm::~CanvasFilm() = default;

Result<std::unique_ptr<CanvasFilm>> CanvasFilm::open (const std::string& path)
{
    auto film = indexFilm (path);
    if (! film)
        return film.error();
    constexpr auto threads = DecoderThreads::sure;
    auto decoder = Decoder::open (path, film->stream.stream(), film->index.reorder, threads);
    if (! decoder)
        return decoder.error();
    return std::unique_ptr<CanvasFilm> (
        new CanvasFilm (std::make_unique<State> (std::move (film.value()), std::move (decoder.value()), threads)));
}

const FilmInfo& CanvasFilm::info() const
{
    return state->info;
}

std::int64_t CanvasFilm::decodedSoFar() const
{
    return state->finder.decodedSoFar();
}

Result<bool> CanvasFilm::paint (std::int64_t k, Canvas& canvas, const Area& area)
{
    if (k < 0 || k >= state->info.frames)
        return usageError (state->info.path, "has no file frame " + std::to_string (k) + "; its frames go from 0 to "
                                                 + std::to_string (state->info.frames - 1));
    // A frame that can't be decoded shows the nearest before it that could.
    for (auto at = k; at >= 0; --at)
    {
        const auto kept = state->finder.find (at);
        if (! kept)
            return kept.error();
        if (*kept == nullptr)
            continue;
        if (const auto painted = state->painter.paint (*(*kept)->frame, canvas, area); ! painted)
            return painted.error();
        return at == k && ! (*kept)->damaged;
    }
    canvas.fill (area, 0);
    return false;
}
} // namespace shutterbeat::media
