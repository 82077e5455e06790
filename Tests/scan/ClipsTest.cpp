#include "Catch.h"

#include "ClipTruth.h"
#include "Drawn.h"

#include "media/FilmFile.h"
#include "media/GreyPass.h"

#include <nlohmann/json.hpp>

#include <chrono>
#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using Json = nlohmann::json;

namespace
{
scan::ScanResult scanClip (const std::string& path)
{
    scan::Scanner scanner;
    double seconds = 0;
    const auto passed = media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                                            [&] (std::int64_t, const film::GreyPicture& picture)
                                            {
                                                const auto from = std::chrono::steady_clock::now();
                                                const bool added = scanner.add (picture).ok();
                                                seconds +=
                                                    std::chrono::duration<double> (std::chrono::steady_clock::now() - from).count();
                                                return added;
                                            });
    REQUIRE (passed.ok());
    const auto film = media::openFilm (path);
    REQUIRE (film.ok());
    scan::Options options;
    options.fileRate = film->rate;
    auto result = scan::shots (scanner.finish(), options);
    std::cout << path.substr (path.rfind ('/') + 1) << ": " << result.fileFrames << " frames, "
              << seconds * 1e6 / static_cast<double> (result.fileFrames) << " us a frame, " << result.cadenceSaid << "\n";
    return result;
}
} // namespace

TEST_CASE ("Real clips: cuts to the frame, cards, nothing invented")
{
    const auto known = clips();
    if (known.empty())
    {
        WARN ("no data/video/groundtruth.json below SHUTTERBEAT_TEST_DATA: real clips not scanned");
        return;
    }
    CutScore all;
    for (const Clip& clip : known)
    {
        const auto& name = clip.name;
        const Json& truth = clip.truth;
        const auto result = scanClip (clipFile (clip));
        CHECK (result.fileFrames == truth.at ("frames").get<std::int64_t>());
        const auto score = judged (clip, claimedCuts (result), true);
        all += score;
        if (clip.silent)
        {
            CHECK (score.missed == 0);
            CHECK (score.invented == 0);
        }
        // A card is found when one shot called a card covers more than half of it, and is itself mostly it.
        for (const Json& card : truth.value ("cards", Json::array()))
        {
            const auto first = card.at ("in").get<std::int64_t>();
            const auto end = card.at ("out_excl").get<std::int64_t>();
            const bool found = std::any_of (result.shots.begin(), result.shots.end(),
                                            [&] (const scan::FoundShot& shot)
                                            {
                                                const auto common = std::min (end, shot.endFile) - std::max (first, shot.firstFile);
                                                return shot.kind == film::ShotKind::card && 2 * common > end - first
                                                       && 2 * common > shot.endFile - shot.firstFile;
                                            });
            // Three to eighteen grey levels on black, fading in: not found, and not asked for.
            if (! found && card.value ("kind", "").rfind ("faint", 0) == 0)
                std::cout << "  the faint card at " << first << " is not found\n";
            else
            {
                INFO (name << ", card at " << first);
                CHECK (found);
            }
        }
        for (const auto& shot : result.shots)
            // That one has a line of writing over the whole film, which stands alone where the film is black.
            if (shot.kind == film::ShotKind::card && name != "psd_testvideo.mp4")
            {
                const auto cards = truth.value ("cards", Json::array());
                const bool listed = std::any_of (
                    cards.begin(), cards.end(),
                    [&] (const Json& card) { return shot.firstFile < card.at ("out_excl") && shot.endFile > card.at ("in"); });
                INFO (name << ", shot at " << shot.firstFile << " is no card");
                CHECK (listed);
            }
    }
    std::cout << "clips: " << all.right << " cuts right, " << all.missed << " missed, " << all.invented << " invented, F1 "
              << all.f1() << "\n";
    CHECK (all.f1() >= 0.97);
}
