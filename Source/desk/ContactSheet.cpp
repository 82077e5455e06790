#include "desk/ContactSheet.h"

#include "media/FrameReader.h"
#include "scan/Shots.h"
#include "sheets/ContactSheet.h"
#include "store/WholeFile.h"
#include "time/Clock.h"
#include "time/Rate.h"
#include "time/Text.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
/// Cuts up to so much above the threshold are marked as weak.
constexpr double weak = 0.06;

sheets::ContactFilm contactFilm (const ScannedFilm& scanned)
{
    const auto& found = scanned.scan;
    sheets::ContactFilm film;
    film.title = std::filesystem::path (scanned.film.path).stem().string();
    const auto cards =
        std::count_if (found.shots.begin(), found.shots.end(), [] (const auto& shot) { return shot.kind == film::ShotKind::card; });
    film.figures = std::to_string (found.shots.size()) + " shots, " + std::to_string (cards) + " of them cards; "
                   + std::to_string (scanned.film.frames) + " frames at " + time::speedText (scanned.film.rate) + " a second, "
                   + time::clockText (time::Rational (scanned.film.frames) / scanned.film.rate, 0) + ", "
                   + std::to_string (scanned.film.width) + " \xc3\x97 " + std::to_string (scanned.film.height);
    film.cadence = found.cadenceSaid;
    for (std::size_t i = 0; i < found.shots.size(); ++i)
    {
        const auto& shot = found.shots[i];
        film.shots.push_back ({ shot.kind, shot.firstFile, shot.endFile - shot.firstFile,
                                i > 0 && shot.strength < scan::Options::defaultThreshold + weak });
    }
    return film;
}
} // namespace

Result<std::vector<std::string>> writeContactSheet (const ScannedFilm& scanned, const std::string& path, const Progress& progress)
{
    const auto ending = time::lowerAscii (std::filesystem::path (path).extension().string());
    if (ending != ".pdf" && ending != ".png")
        return usageError (path, "a contact sheet is a .pdf (pages for print) or a .png (one picture)");
    auto reader = media::FrameReader::open (scanned.film.path, std::size_t (64) << 20);
    if (! reader)
        return reader.error();
    // Small pictures of the display's shape; even long films have a few thousand shots.
    const double aspect = scanned.film.height > 0 ? static_cast<double> (scanned.film.width) / scanned.film.height : 4.0 / 3;
    constexpr int height = 240;
    const int width = std::max (1, static_cast<int> (height * aspect + 0.5));
    bool stopped = false;
    std::optional<Error> failed;
    const auto pictureOf = [&] (std::size_t i) -> std::optional<sheets::SheetPicture>
    {
        const auto& shots = scanned.scan.shots;
        stopped =
            stopped
            || (progress && ! progress (static_cast<double> (i) / static_cast<double> (shots.size()), "drawing the contact sheet"));
        if (stopped || failed)
            return std::nullopt;
        auto picture = (*reader)->frame ((shots[i].firstFile + shots[i].endFile - 1) / 2, width, height);
        if (! picture)
        {
            failed = picture.error();
            return std::nullopt;
        }
        return sheets::SheetPicture{ picture->width, picture->height, false, std::move (picture->rgb) };
    };
    const auto film = contactFilm (scanned);
    auto page = ending == ".pdf" ? sheets::contactPdf (film, aspect, pictureOf) : sheets::contactPng (film, aspect, pictureOf);
    if (stopped)
        return Error{ ErrorCode::cancelled, path, "drawing was stopped; nothing was written" };
    if (failed)
        return *failed;
    if (! page)
        return page.error();
    if (const auto written = store::writeWhole (path, page->bytes); ! written)
        return written.error();
    return std::move (page->notes);
}
} // namespace shutterbeat::desk
