#include "Catch.h"
#include "Films.h"

#include "play/Reels.h"
#include "play/Transport.h"

using namespace shutterbeat;
using shutterbeat::tests::ManualClock;

TEST_CASE ("playing shows at every delivered frame what the timings give")
{
    for (const auto& speed : { time::Rational (16), time::Rational (200, 11), time::Rational (24), time::Rational (30) })
        for (const auto& rate : { tests::at25, time::Rate{ { 24000, 1001 }, false } })
        {
            ManualClock clock;
            play::Transport transport (clock);
            const auto timings = tests::timingsFor (
                { tests::plainShot ("a", 0, 90), tests::madeShot ("m", { 7, 3 }), tests::plainShot ("b", 200, 290) }, speed, rate);
            transport.setTimings (timings);
            transport.play();
            const auto start = clock.now;
            for (std::int64_t j = 0; j < timings->deliveredLength(); ++j)
            {
                clock.now = start;
                clock.advanceFrames (j, rate.perSecond);
                transport.update();
                const auto shown = timings->pictureAt (j);
                REQUIRE (shown.ok());
                REQUIRE (transport.delivered() == j);
                REQUIRE (transport.position().shot == shown->shot);
                REQUIRE (transport.position().filmFrame == shown->filmFrame);
            }
            CHECK (transport.playing());
            clock.advanceFrames (1, rate.perSecond);
            CHECK (transport.update());
            CHECK_FALSE (transport.playing());
            CHECK (transport.delivered() == timings->deliveredLength() - 1);
        }
}

TEST_CASE ("a late tick skips delivered frames and never runs late after it")
{
    ManualClock clock;
    play::Transport transport (clock);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 500) }, 20, tests::at25));
    transport.play();
    clock.advanceFrames (113, 25);
    CHECK (transport.update());
    CHECK (transport.delivered() == 113);
    CHECK (transport.position().filmFrame == 90); // floor (113 / 25 * 20)
    clock.now += 1'000'000;
    CHECK_FALSE (transport.update());
}

TEST_CASE ("pausing stands on the delivered frame on screen, and playing goes on from it")
{
    ManualClock clock;
    play::Transport transport (clock);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 500) }, 20, tests::at25));
    transport.play();
    clock.advanceFrames (6, 25); // film frame 4 is held for delivered frames 5 and 6
    transport.pause();
    CHECK (transport.delivered() == 6);
    CHECK (transport.position().filmFrame == 4);
    clock.advanceFrames (1000, 25);
    CHECK_FALSE (transport.update());
    transport.play();
    clock.advanceFrames (2, 25);
    transport.update();
    CHECK (transport.delivered() == 8);
}

TEST_CASE ("steps go through every film frame, those too that no delivered frame shows")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor (
        { tests::plainShot ("a", 0, 40), tests::madeShot ("m", 2), tests::plainShot ("b", 100, 140) }, 60, tests::at25);
    transport.setTimings (timings);
    for (std::int64_t k = 0; k < 40; ++k)
    {
        CHECK (transport.position().filmFrame == k);
        CHECK (transport.position().shot == 0);
        transport.step (1);
    }
    CHECK (transport.position().where == film::Position::Where::made);
    transport.step (1);
    CHECK (transport.position().shot == 2);
    CHECK (transport.position().filmFrame == 40);
    transport.step (-1);
    CHECK (transport.position().where == film::Position::Where::made);
    transport.step (-1);
    CHECK (transport.position().filmFrame == 39);
    transport.step (1000);
    CHECK (transport.position().filmFrame == 79);
    transport.step (-1000);
    CHECK (transport.position().filmFrame == 0);
}

TEST_CASE ("next and previous stop pass the picture on screen")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor (
        { tests::plainShot ("a", 0, 40), tests::plainShot ("b", 40, 90), tests::plainShot ("c", 90, 120) }, 20, tests::at25);
    transport.setTimings (timings);
    std::vector<film::Position> cuts{ timings->shotHead (0), timings->shotHead (1), timings->shotHead (2) };
    CHECK (transport.goToNext (cuts));
    CHECK (transport.position().filmFrame == 40);
    CHECK (transport.goToNext (cuts));
    CHECK (transport.position().filmFrame == 90);
    CHECK_FALSE (transport.goToNext (cuts));
    transport.step (-1);
    CHECK (transport.goToPrevious (cuts));
    CHECK (transport.position().filmFrame == 40);
    CHECK (transport.goToPrevious (cuts));
    CHECK_FALSE (transport.goToPrevious (cuts));
    CHECK (transport.position().filmFrame == 0);
}

TEST_CASE ("other timings keep the picture on screen")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto shots = std::vector{ tests::plainShot ("a", 0, 40), tests::plainShot ("b", 300, 390) };
    transport.setTimings (tests::timingsFor (shots, 20, tests::at25));
    transport.goTo (*tests::timingsFor (shots, 20, tests::at25)->atFilmFrame (77));
    transport.setTimings (tests::timingsFor (shots, 16, { { 30000, 1001 }, true }));
    CHECK (transport.position().filmFrame == 77);
    // 77 / 16 s * 29.97 = 144.23: first at 145.
    CHECK (transport.delivered() == 145);
    // The shot moves to the front: the picture goes with it.
    transport.setTimings (tests::timingsFor ({ shots[1], shots[0] }, 16, tests::at25));
    CHECK (transport.position().filmFrame == 37);
    CHECK (transport.position().shot == 0);
}

TEST_CASE ("playing runs on from reel to reel, each counting anew")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, 41), tests::plainShot ("b", 50, 91) }, 20, tests::at25,
                                            { { 0, "01:00:00:00" }, { 1, "02:00:00:00" } });
    transport.setTimings (timings);
    const auto first = timings->deliveredLength (0);
    transport.play();
    clock.advanceFrames (first + 3, 25);
    transport.update();
    CHECK (transport.position().reel == 1);
    CHECK (transport.delivered() == 3);
    CHECK (transport.deliveredInAll() == first + 3);
    CHECK (timings->timecodeOf (transport.delivered(), 1) == "02:00:00:03");
}
