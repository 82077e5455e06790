// The window's own thread is never held for long, whatever goes on.
#include "Opened.h"

#include "spotting/Edit.h"

#include <atomic>
#include <chrono>
#include <thread>

using namespace shutterbeat;
using tests::Opened;

namespace
{
std::int64_t steadyNow()
{
    return std::chrono::duration_cast<std::chrono::nanoseconds> (std::chrono::steady_clock::now().time_since_epoch()).count();
}

/// Asks the window's thread for a sign of life every 2 ms and keeps the longest it had to wait for one.
class Heartbeat
{
public:
    Heartbeat()
        : thread ([this] { run(); })
    {
    }
    ~Heartbeat()
    {
        ending = true;
        thread.join();
    }
    [[nodiscard]] double worst() const { return static_cast<double> (longest->load()) / 1e6; }

private:
    void run()
    {
        while (! ending)
        {
            juce::MessageManager::callAsync (
                [asked = steadyNow(), to = longest]
                {
                    const auto waited = steadyNow() - asked;
                    if (waited > to->load())
                        to->store (waited);
                });
            std::this_thread::sleep_for (std::chrono::milliseconds (2));
        }
    }
    std::shared_ptr<std::atomic<std::int64_t>> longest = std::make_shared<std::atomic<std::int64_t>> (0);
    std::atomic<bool> ending{ false };
    std::thread thread;
};

template <class Work>
double worstWhile (Opened& on, Work work)
{
    Heartbeat heart;
    Opened::spin (30);
    work();
    Opened::spin (30);
    juce::ignoreUnused (on);
    return heart.worst();
}
} // namespace

TEST_CASE ("opening, saving and finding a film never hold the window's thread for long")
{
    Opened on ("heart");
    auto book = store::loadBook (on.bench().path());
    REQUIRE (book.ok());
    std::vector<spotting::HitPoint> hits;
    for (int i = 0; i < 5000; ++i)
    {
        spotting::HitPoint hit;
        hit.place = film::PicturePlace{ "print-1", i % 200, 0 };
        hit.label = "many " + std::to_string (i);
        hits.push_back (hit);
    }
    const auto edited = spotting::addHits (book->book, "anna", hits);
    REQUIRE (edited.ok());
    const auto path = on.folder + "/many.shutterbeat";
    REQUIRE (store::saveBook (path, edited->book, "").ok());

    const double idle = worstWhile (on, [] { Opened::spin (500); });
    const double opening = worstWhile (on,
                                       [&]
                                       {
                                           on.bench().openPath (path);
                                           REQUIRE (on.until ([&] { return on.bench().path() == path; }));
                                       });
    on.bench().rename (edited->ids[3], "named");
    REQUIRE (on.bench().dirty());
    const double saving = worstWhile (on,
                                      [&]
                                      {
                                          on.bench().save();
                                          on.bench().save(); // the second waits for the first
                                          REQUIRE (on.until ([&] { return ! on.bench().dirty() && ! on.bench().atDisk(); }));
                                      });
    CHECK (on.bench().message.kind == window::Message::Kind::note);
    CHECK (spotting::hitOf (store::loadBook (path)->book, edited->ids[3])->label == "named");
    std::filesystem::rename (on.folder + "/film.mp4", on.folder + "/moved.mp4");
    const auto reopened = worstWhile (on,
                                      [&]
                                      {
                                          on.bench().openPath (path);
                                          REQUIRE (on.until ([&] { return ! on.bench().missing().empty(); }));
                                      });
    const double finding = worstWhile (on,
                                       [&]
                                       {
                                           on.bench().relinkMissing (0, on.folder + "/moved.mp4");
                                           REQUIRE (on.until ([&] { return on.bench().missing().empty(); }));
                                       });
    WARN ("longest the window's thread was held, 5,005 hits: idle " << idle << " ms, opening " << opening << ", saving " << saving
                                                                    << ", opening with a missing film " << reopened
                                                                    << ", finding it " << finding << " (aim 50)");
    // The aim is 50 ms; a busy machine gets room, and what it does to an idle window is taken off.
    for (const double held : { opening, saving, reopened, finding })
        CHECK (held < 250 + 2 * idle);
}

TEST_CASE ("opening, playing and jumping about in a two-hour film never hold the window's thread for long")
{
    Opened on ("two-hours");
    const auto film = on.folder + "/long.mp4";
    REQUIRE (
        std::system (("ffmpeg -v error -y -f lavfi -i testsrc=size=96x72:rate=25:duration=600 -c:v libx264 -preset ultrafast -g 50 "
                      "-pix_fmt yuv420p '"
                      + on.folder + "/part.mp4' && ffmpeg -v error -y -stream_loop 11 -i '" + on.folder + "/part.mp4' -c copy '"
                      + film + "'")
                         .c_str())
        == 0);
    constexpr int shots = 1800, frames = 100; // 180,000 frames
    spotting::Book book = store::loadBook (on.bench().path())->book;
    auto print = tests::plainPrint (shots * frames);
    print.reels.front().path = "long.mp4";
    print.reels.front().identity = *media::fileIdentity (film);
    book.prints = std::vector<film::Print>{ print };
    film::Edition edition;
    edition.speed = 20;
    for (int i = 0; i < shots; ++i)
        edition.shots.push_back (tests::plainShot ("anna-" + std::to_string (i + 1), frames * i, frames * (i + 1)));
    book.editions = std::vector<film::Edition>{ edition };
    const auto path = on.folder + "/long.shutterbeat";
    REQUIRE (store::saveBook (path, book, "").ok());
    const double idle = worstWhile (on, [] { Opened::spin (500); });
    // The first time its packets are read, the second time the index comes from the cache.
    double opening[2] = {};
    for (double& held : opening)
        held = worstWhile (on,
                           [&]
                           {
                               on.bench().openPath (path);
                               REQUIRE (on.until ([&] { return on.bench().path() == path && ! on.bench().atDisk(); }, 60000));
                               Opened::spin (1500);
                           });
    REQUIRE (on.bench().times() != nullptr);
    CHECK (on.bench().missing().empty());
    const double jumping =
        worstWhile (on,
                    [&]
                    {
                        for (int i = 0; i < 20; ++i)
                        {
                            on.bench().goTo (*on.bench().times()->timings.atFilmFrame ((i * 7919 * 13) % (shots * frames)));
                            Opened::spin (60);
                        }
                    });
    const double playing = worstWhile (on,
                                       [&]
                                       {
                                           on.bench().transport.play();
                                           Opened::spin (1500);
                                           on.bench().transport.pause();
                                       });
    WARN ("longest the window's thread was held, a film of two hours in 1,800 shots: idle "
          << idle << " ms, opening " << opening[0] << ", again " << opening[1] << ", jumping " << jumping << ", playing " << playing
          << " (aim 50)");
    for (const double held : { opening[0], opening[1], jumping, playing })
        CHECK (held < 250 + 2 * idle);
}

TEST_CASE ("scanning, fitting, hearing and packing with a movie never hold the window's thread for long")
{
    Opened on ("busy");
    auto& bench = on.bench();
    const double idle = worstWhile (on, [] { Opened::spin (500); });
    const auto jobDone = [&] { return bench.job == nullptr; };
    bench.tempo.setRange ("40-208");
    const double fitting = worstWhile (on,
                                       [&]
                                       {
                                           bench.showPage (window::LedgerPage::tempo);
                                           bench.tempo.refresh();
                                           REQUIRE (on.until ([&] { return ! bench.tempo.busy(); }, 30000));
                                       });
    const auto click = on.folder + "/click.wav";
    REQUIRE (
        std::system (("ffmpeg -v error -y -f lavfi -i \"sine=frequency=440:duration=60:beep_factor=4\" '" + click + "'").c_str())
        == 0);
    const double hearing =
        worstWhile (on,
                    [&]
                    {
                        bench.lineUp.add (click);
                        REQUIRE (on.until (jobDone, 60000));
                        bench.lineUp.check();
                        REQUIRE (on.until (jobDone, 60000));
                        REQUIRE (on.until ([&] { return bench.outlines.of (bench.book().sounds[0]) != nullptr; }, 60000));
                    });
    CHECK (bench.outlines.of (bench.book().sounds[0])->failure.empty());
    bench.parcels.setPerson ("anna");
    bench.parcels.setZip (true);
    const auto parcel = bench.parcels.path();
    const double packing = worstWhile (on,
                                       [&]
                                       {
                                           bench.parcels.make();
                                           REQUIRE (bench.job != nullptr);
                                           REQUIRE (on.until (jobDone, 120000));
                                       });
    INFO (bench.message.text);
    CHECK (std::filesystem::exists (parcel));
    CHECK (bench.parcels.sent().size() == 1);
    const auto made = on.folder + "/made.shutterbeat";
    const double scanning = worstWhile (on,
                                        [&]
                                        {
                                            desk::NewBook wanted;
                                            wanted.files = { on.folder + "/film.mp4" };
                                            wanted.running = time::Rational (20);
                                            bench.save();
                                            REQUIRE (on.until ([&] { return ! bench.dirty() && ! bench.atDisk(); }));
                                            bench.startNewBook (wanted, made);
                                            REQUIRE (on.until ([&] { return bench.path() == made; }, 60000));
                                        });
    const auto other = on.folder + "/other.mp4";
    REQUIRE (std::system (
                 ("ffmpeg -v error -y -i '" + on.folder + "/film.mp4' -vf trim=start_frame=12,setpts=PTS-STARTPTS '" + other + "'")
                     .c_str())
             == 0);
    const double matching = worstWhile (on,
                                        [&]
                                        {
                                            bench.recut.start (other);
                                            REQUIRE (on.until (jobDone, 60000));
                                        });
    WARN ("longest the window's thread was held: idle " << idle << " ms, fitting " << fitting << ", hearing a minute of sound "
                                                        << hearing << ", packing with a movie " << packing << ", scanning "
                                                        << scanning << ", matching " << matching << " (aim 50)");
    for (const double held : { fitting, hearing, packing, scanning, matching })
        CHECK (held < 250 + 2 * idle);
}
