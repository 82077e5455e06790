#include "Catch.h"
#include "Films.h"

#include "play/DecodeWorker.h"
#include "play/FrameKey.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

using namespace shutterbeat;

namespace
{
play::PicturePtr pictureOf (std::int64_t number, std::size_t bytes = 300)
{
    auto picture = std::make_shared<media::Picture>();
    picture->width = 10;
    picture->height = static_cast<int> (bytes / 30);
    picture->rgb.assign (bytes, static_cast<std::uint8_t> (number));
    return picture;
}

/// Gives each frame its number as its grey, and keeps count of what was asked.
class Numbered final : public play::PictureSource
{
public:
    explicit Numbered (std::vector<std::int64_t>& log)
        : asked (log)
    {
    }
    Result<play::PicturePtr> picture (const play::FrameKey& key, int, int) override
    {
        asked.push_back (key.fileFrame);
        if (key.fileFrame == 13)
            return unreadable ("film.mp4", "frame 13 can't be read");
        return pictureOf (key.fileFrame);
    }

private:
    std::vector<std::int64_t>& asked; // read by the test only while the worker is idle
};
} // namespace

TEST_CASE ("the cache holds its budget and lets go what is wanted least")
{
    play::FrameCache cache (5 * (300 + sizeof (media::Picture)));
    for (std::int64_t k = 0; k < 20; ++k)
        CHECK (cache.add ({ 0, k }, pictureOf (k)));
    CHECK (cache.count() == 5);
    CHECK (cache.bytes() <= 5 * (300 + sizeof (media::Picture)));
    CHECK (cache.has ({ 0, 19 }));
    CHECK_FALSE (cache.has ({ 0, 14 }));
    // Wanted ones stay, and one wanted less than all of them finds no room.
    cache.want ({ { 0, 15 }, { 0, 16 }, { 0, 17 }, { 0, 18 }, { 0, 19 }, { 0, 20 } });
    CHECK_FALSE (cache.add ({ 0, 20 }, pictureOf (20)));
    CHECK (cache.count() == 5);
    CHECK (cache.has ({ 0, 15 }));
    // What was used last stays longer than what was not.
    cache.want ({});
    CHECK (cache.find ({ 0, 15 }) != nullptr);
    CHECK (cache.add ({ 0, 30 }, pictureOf (30)));
    CHECK (cache.has ({ 0, 15 }));
    CHECK_FALSE (cache.has ({ 0, 16 }));
}

TEST_CASE ("a picture larger than the budget is kept alone rather than never shown")
{
    play::FrameCache cache (10);
    CHECK (cache.add ({ 0, 1 }, pictureOf (1)));
    CHECK (cache.find ({ 0, 1 }) != nullptr);
    CHECK (cache.add ({ 0, 2 }, pictureOf (2)));
    CHECK (cache.count() == 1);
}

TEST_CASE ("the worker decodes what is wanted once, in that order, and tells of failures")
{
    std::vector<std::int64_t> asked;
    std::atomic<int> arrivals{ 0 };
    play::DecodeWorker worker (std::make_unique<Numbered> (asked), 1 << 20, [&] { ++arrivals; });
    worker.want ({ { 0, 12 }, { 0, 13 }, { 0, 14 } }, 100, 100);
    worker.waitUntilIdle();
    CHECK (asked == std::vector<std::int64_t>{ 12, 13, 14 });
    REQUIRE (worker.picture ({ 0, 12 }) != nullptr);
    CHECK (worker.picture ({ 0, 12 })->rgb.front() == 12);
    CHECK (worker.picture ({ 0, 13 }) == nullptr);
    CHECK (worker.failure ({ 0, 13 }) == "film.mp4: frame 13 can't be read");
    // Wanted again: nothing is decoded twice, nor tried again.
    worker.want ({ { 0, 14 }, { 0, 13 }, { 0, 15 } }, 100, 100);
    worker.waitUntilIdle();
    CHECK (asked == std::vector<std::int64_t>{ 12, 13, 14, 15 });
    // Another size: all anew.
    worker.want ({ { 0, 14 } }, 200, 100);
    worker.waitUntilIdle();
    CHECK (asked.back() == 14);
    CHECK (asked.size() == 5);
    CHECK (worker.picture ({ 0, 12 }) == nullptr);
    CHECK (worker.decodedCount() == 4);
}

TEST_CASE ("reading ahead follows the direction of travel and passes cuts")
{
    const auto timings = tests::timingsFor (
        { tests::plainShot ("a", 500, 510), tests::madeShot ("m", 1), tests::plainShot ("b", 20, 60) }, 20, { 25, false });
    const play::FilmFiles files (timings->prints(), { { "film.mp4" } });
    const auto numbers = [&] (std::int64_t filmFrame, int direction, int count)
    {
        std::vector<std::int64_t> all;
        for (const auto& key : play::wantedKeys (files, *timings, *timings->atFilmFrame (filmFrame), direction, count))
            all.push_back (key.fileFrame);
        return all;
    };
    // Forward over the cut: the made card has no picture of its own.
    CHECK (numbers (8, 1, 4) == std::vector<std::int64_t>{ 508, 509, 20, 21 });
    // Back: its own first, then a run that rises up to it.
    CHECK (numbers (15, -1, 3) == std::vector<std::int64_t>{ 25, 22, 23, 24 });
    CHECK (numbers (0, -1, 3) == std::vector<std::int64_t>{ 500 });
    CHECK (numbers (49, 1, 3) == std::vector<std::int64_t>{ 59 });
    CHECK_FALSE (files.keyAt (*timings, timings->shotHead (1)).has_value());
    const play::FilmFiles gone (timings->prints(), { { "" } });
    CHECK_FALSE (gone.keyAt (*timings, timings->shotHead (0)).has_value());
}

TEST_CASE ("pictures of a real film are those of its frames, in any order")
{
    const auto folder = std::filesystem::temp_directory_path() / "shutterbeat-play-tests";
    std::filesystem::create_directories (folder);
    const auto film = (folder / "counted.mp4").string();
    const std::string make =
        "ffmpeg -v error -y -f lavfi -i testsrc=size=96x72:rate=25:duration=4 -c:v libx264 -g 40 -bf 2 \"" + film + "\"";
    REQUIRE (std::system (make.c_str()) == 0);
    auto inOrder = play::filmPictures ({ film });
    std::vector<play::PicturePtr> all;
    for (std::int64_t k = 0; k < 100; ++k)
    {
        auto picture = inOrder->picture ({ 0, k }, 0, 0);
        REQUIRE (picture.ok());
        all.push_back (*picture);
    }
    CHECK (all[3]->rgb != all[4]->rgb);
    play::DecodeWorker worker (play::filmPictures ({ film }), std::size_t (64) << 20);
    for (const std::int64_t k : { 70, 12, 99, 0, 41, 40, 39 })
    {
        worker.want ({ { 0, k } }, 0, 0);
        worker.waitUntilIdle();
        const auto got = worker.picture ({ 0, k });
        REQUIRE (got != nullptr);
        CHECK (got->rgb == all[static_cast<std::size_t> (k)]->rgb);
    }
}
