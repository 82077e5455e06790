#pragma once

#include "Catch.h"

#include "media/Identity.h"
#include "play/Films.h"
#include "store/BookFile.h"
#include "window/Bench.h"

#include <cstdlib>
#include <filesystem>
#include <string>

namespace shutterbeat::tests
{
/// Does everything at once, on the test's own thread.
class AtOnce final : public window::Runner
{
public:
    void run (std::function<void()> work, std::function<void()> then) override
    {
        work();
        then();
    }
    void post (std::function<void()> call) override { call(); }
};

/// An empty folder of this test's own.
inline std::string freshFolder (const std::string& name)
{
    const auto folder = std::filesystem::temp_directory_path() / ("shutterbeat-window-" + name + "-" + std::to_string (::getpid()));
    std::filesystem::remove_all (folder);
    std::filesystem::create_directories (folder);
    return folder.string();
}

/// 200 pictures at 25 a second in four quarters of other looks: a film that ffmpeg draws.
inline std::string makeFilm (const std::string& folder)
{
    const auto path = folder + "/film.mp4";
    const std::string command =
        "ffmpeg -v error -y -f lavfi -i testsrc=size=320x240:rate=25:duration=2 -f lavfi -i "
        "color=c=0x203040:size=320x240:rate=25:duration=2"
        " -f lavfi -i testsrc2=size=320x240:rate=25:duration=2 -f lavfi -i smptebars=size=320x240:rate=25:duration=2"
        " -filter_complex \"[0][1][2][3]concat=n=4\" -c:v libx264 -pix_fmt yuv420p -g 25 \""
        + path + "\"";
    REQUIRE (std::system (command.c_str()) == 0);
    return path;
}

/// A book of that film: 200 film frames at 20, four shots of which the second is a card, five hits and a cue.
inline std::string makeBook (const std::string& folder, bool withFilm = true)
{
    spotting::Book book;
    book.title = "The Lantern";
    book.people = std::vector<spotting::Person>{ { "anna", "Anna", "restorer", 10, {} } };
    film::Print print = plainPrint (200);
    print.reels.front().path = "film.mp4";
    print.reels.front().width = 320;
    print.reels.front().height = 240;
    if (withFilm)
        print.reels.front().identity = *media::fileIdentity (makeFilm (folder));
    book.prints = std::vector<film::Print>{ print };
    film::Edition edition;
    edition.speed = 20;
    for (int i = 0; i < 4; ++i)
        edition.shots.push_back (plainShot ("anna-" + std::to_string (i + 1), 50 * i, 50 * i + 50));
    edition.shots[1].kind = film::ShotKind::card;
    edition.shots[1].wording = "Meanwhile, at the harbour";
    book.editions = std::vector<film::Edition>{ edition };
    book.delivery.rate = { 25, false };
    std::vector<spotting::HitPoint> hits;
    for (int i = 0; i < 5; ++i)
    {
        spotting::HitPoint hit;
        hit.id = "anna-" + std::to_string (5 + i);
        hit.place = film::PicturePlace{ "print-1", 20 + 35 * i, 0 };
        hit.kind = static_cast<spotting::HitKind> (i);
        hit.label = "hit " + std::to_string (i + 1);
        hits.push_back (hit);
    }
    book.hits = std::move (hits);
    spotting::Cue cue;
    cue.id = "anna-10";
    cue.number = "1M1";
    cue.title = "Lantern waltz";
    cue.in = film::PicturePlace{ "print-1", 0, 0 };
    cue.out = film::PicturePlace{ "print-1", 120, 0 };
    book.cues = std::vector<spotting::Cue>{ cue };
    const auto path = folder + "/lantern.shutterbeat";
    const auto saved = store::saveBook (path, book, "");
    REQUIRE (saved.ok());
    return path;
}

/// A bench with a manual clock, on a book of its own.
struct OnBench
{
    explicit OnBench (const std::string& name, bool withFilm = false)
        : folder (freshFolder (name))
        , path (makeBook (folder, withFilm))
        , bench (clock, runner, "bo")
    {
        bench.openPath (path);
        REQUIRE (bench.times() != nullptr);
    }
    ~OnBench() { std::filesystem::remove_all (folder); }

    std::string folder, path;
    ManualClock clock;
    AtOnce runner;
    window::Bench bench;
};
} // namespace shutterbeat::tests
