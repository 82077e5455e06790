#include "desk/ScanFilm.h"

#include "desk/MemoryGivenBack.h"
#include "desk/ScanCache.h"
#include "media/GreyPass.h"
#include "scan/Scanner.h"
#include "scan/Shots.h"

namespace shutterbeat::desk
{
Result<MeasuredFilm> measureFilm (const std::string& path, const Progress& progress)
{
    const MemoryGivenBack afterwards (LargeBlocks::returned);
    auto film = media::openFilm (path);
    if (! film)
        return film.error();
    if (auto kept = readCachedScan (path, film->identity))
        if (static_cast<std::int64_t> (kept->frames.size()) == film->frames)
            return MeasuredFilm{ std::move (*film), std::move (*kept), true };
    scan::Scanner scanner;
    scanner.expect (film->frames);
    std::optional<Error> failed;
    const auto looked =
        media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                            [&] (std::int64_t frame, const film::GreyPicture& picture)
                            {
                                if (auto added = scanner.add (picture); ! added)
                                {
                                    failed = added.error();
                                    return false;
                                }
                                constexpr std::int64_t tellEvery = 50;
                                if (! progress || frame % tellEvery != 0)
                                    return true;
                                return progress (static_cast<double> (frame) / static_cast<double> (film->frames), "scanning");
                            });
    if (failed)
        return *failed;
    if (! looked)
        return looked.error();
    MeasuredFilm measured{ std::move (*film), scanner.finish(), false };
    writeCachedScan (path, measured.film.identity, measured.measures);
    return measured;
}

Result<ScannedFilm> scanFilm (const std::string& path, const Progress& progress, std::optional<double> threshold)
{
    auto measured = measureFilm (path, progress);
    if (! measured)
        return measured.error();
    scan::Options options;
    options.fileRate = measured->film.rate;
    if (threshold)
        options.threshold = *threshold;
    auto found = scan::shots (measured->measures, options);
    return ScannedFilm{ std::move (measured->film), std::move (found) };
}
} // namespace shutterbeat::desk
