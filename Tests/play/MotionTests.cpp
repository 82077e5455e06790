#include "Catch.h"
#include "Films.h"

#include "play/Reels.h"
#include "play/Transport.h"

#include <rapidcheck.h>

using namespace shutterbeat;
using shutterbeat::tests::ManualClock;

namespace
{
std::vector<film::Shot> threeShots()
{
    return { tests::plainShot ("a", 0, 90), tests::madeShot ("m", { 7, 3 }), tests::plainShot ("b", 200, 290) };
}

/// Seconds, rounded up to a nanosecond, after a moment of the clock.
void advance (ManualClock& clock, const time::Rational& seconds)
{
    clock.now += time::ceilOf (seconds * time::Rational (1'000'000'000));
}

} // namespace

TEST_CASE ("at the book's speeds every film frame is on screen for exactly 1/r, whatever the final rate and fill")
{
    for (const auto& speed : { time::Rational (16), time::Rational (200, 11), time::Rational (30) })
    {
        film::Edition edition;
        edition.speed = 20;
        edition.shots = threeShots();
        edition.shots[0].speed = speed;
        edition.reels = { {} };
        auto made = film::Timings::of ({ tests::plainPrint (2000) }, edition, { tests::at25, time::Rational (24) });
        REQUIRE (made.ok());
        const auto timings = std::make_shared<const film::Timings> (std::move (*made));
        ManualClock clock;
        play::Transport transport (clock);
        transport.setTimings (timings);
        transport.setPace ({ play::Running::book, {} });
        transport.play();
        const auto start = clock.now;
        const auto at = [&] (const time::Rational& seconds)
        {
            clock.now = start;
            advance (clock, seconds);
            transport.update();
        };
        for (std::int64_t k = 0; k < 90; ++k)
        {
            at (time::Rational (k) / speed);
            REQUIRE (transport.position().filmFrame == k);
            at (time::Rational (k + 1) / speed - time::Rational (1, 1'000'000));
            REQUIRE (transport.position().filmFrame == k);
        }
        const auto card = time::Rational (90) / speed;
        at (card + time::Rational (1, 10));
        CHECK (transport.position().shot == 1);
        at (card + time::Rational (7, 3) - time::Rational (1, 1'000'000));
        CHECK (transport.position().shot == 1);
        for (std::int64_t k = 0; k < 90; ++k)
        {
            at (card + time::Rational (7, 3) + time::Rational (k, 20));
            REQUIRE (transport.position().shot == 2);
            REQUIRE (transport.position().frameInShot == k);
        }
        at (card + time::Rational (7, 3) + time::Rational (90, 20));
        CHECK_FALSE (transport.playing());
        CHECK (transport.position().frameInShot == 89);
    }
}

TEST_CASE ("at one speed every film frame lasts alike, and made cards keep their seconds")
{
    ManualClock clock;
    play::Transport transport (clock);
    auto shots = threeShots();
    shots[2].speed = 24;
    transport.setTimings (tests::timingsFor (shots, 16, tests::at25));
    transport.setPace ({ play::Running::oneSpeed, 18 });
    transport.play();
    advance (clock, { 90, 18 });
    transport.update();
    CHECK (transport.position().shot == 1);
    advance (clock, { 7, 3 });
    advance (clock, { 17, 18 });
    transport.update();
    CHECK (transport.position().shot == 2);
    CHECK (transport.position().frameInShot == 17);
}

TEST_CASE ("backward, the delivered frames come in the opposite order, each for its whole time")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor (threeShots(), 16, tests::at25);
    transport.setTimings (timings);
    const auto last = timings->deliveredLength() - 1;
    transport.goToDelivered (last);
    REQUIRE (transport.delivered() == last);
    transport.playAt (-1);
    CHECK (transport.direction() == -1);
    const auto start = clock.now;
    for (std::int64_t j = 0; j <= last; ++j)
    {
        clock.now = start + 1;
        clock.advanceFrames (j, 25);
        transport.update();
        REQUIRE (transport.delivered() == last - j);
        const auto shown = timings->pictureAt (last - j);
        REQUIRE (transport.position().shot == shown->shot);
        REQUIRE (transport.position().filmFrame == shown->filmFrame);
    }
    clock.advanceFrames (1, 25);
    CHECK (transport.update());
    CHECK_FALSE (transport.playing());
    CHECK (transport.delivered() == 0);
}

TEST_CASE ("the shuttle goes through its steps and through standing still, and turns without a jump")
{
    ManualClock clock;
    play::Transport transport (clock);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 1000) }, 25, tests::at25));
    transport.goToDelivered (500);
    for (const auto& wanted : { time::Rational (1, 2), time::Rational (1), time::Rational (2), time::Rational (4),
                                time::Rational (8), time::Rational (8) })
    {
        transport.shuttle (1);
        CHECK (transport.factor() == wanted);
    }
    clock.advanceFrames (5, 25);
    transport.update();
    CHECK (transport.delivered() == 540);
    clock.now += 20'000'000; // half a delivered frame's time at that speed is four frames
    transport.shuttle (-1);
    CHECK (transport.factor() == time::Rational (4));
    CHECK (transport.delivered() == 544);
    for (int i = 0; i < 3; ++i)
        transport.shuttle (-1);
    CHECK (transport.playing());
    transport.shuttle (-1);
    CHECK_FALSE (transport.playing());
    CHECK (transport.factor() == time::Rational (0));
    transport.shuttle (-1);
    transport.shuttle (-1);
    CHECK (transport.factor() == time::Rational (-1));
    clock.advanceFrames (10, 25);
    transport.update();
    CHECK (transport.delivered() == 534);
    // Turned in the middle of a frame, that frame stays for what is left of it only.
    clock.now += 10'000'000;
    transport.update();
    CHECK (transport.delivered() == 534);
    transport.playAt (1);
    CHECK (transport.delivered() == 534);
    clock.now += 9'000'000;
    transport.update();
    CHECK (transport.delivered() == 534);
    clock.now += 2'000'000;
    transport.update();
    CHECK (transport.delivered() == 535);
}

TEST_CASE ("a held key steps at once, then crawls at a quarter, and stands where it is let go")
{
    ManualClock clock;
    play::Transport transport (clock);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 200) }, 25, tests::at25));
    transport.goToDelivered (100);
    transport.crawl (1);
    CHECK (transport.delivered() == 101);
    clock.advanceFrames (3, 25);
    transport.update();
    CHECK (transport.delivered() == 101);
    clock.advanceFrames (9, 25);
    transport.update();
    CHECK (transport.delivered() == 104);
    transport.pause();
    clock.advanceFrames (50, 25);
    CHECK_FALSE (transport.update());
    CHECK (transport.delivered() == 104);
    transport.crawl (-1);
    CHECK (transport.delivered() == 103);
    clock.advanceFrames (5, 25);
    transport.update();
    CHECK (transport.delivered() == 102);
}

TEST_CASE ("a loop turns exactly, round after round, forward and back")
{
    for (const auto& rate : { tests::at25, time::Rate{ { 24000, 1001 }, false } })
    {
        ManualClock clock;
        play::Transport transport (clock);
        const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, 500) }, 18, rate);
        transport.setTimings (timings);
        REQUIRE (transport.setLoop (play::Range{ *timings->atFilmFrame (90), *timings->atFilmFrame (117) }));
        const auto first = timings->times (*timings->atFilmFrame (90)).delivered;
        const auto end = timings->times (*timings->atFilmFrame (117)).delivered;
        transport.play(); // it stands outside the loop: it begins at its begin
        CHECK (transport.delivered() == first);
        const auto start = clock.now;
        for (std::int64_t j = 0; j < 5000; j += 7)
        {
            clock.now = start;
            clock.advanceFrames (j, rate.perSecond);
            clock.now += 10; // each turn may have been rounded by less than a nanosecond
            transport.update();
            REQUIRE (transport.delivered() == first + j % (end - first));
        }
        CHECK (transport.playing());
        transport.pause();
        transport.goToDelivered (end - 1);
        transport.playAt (-1);
        const auto turned = clock.now;
        for (std::int64_t j = 0; j < 1000; j += 7)
        {
            clock.now = turned + 10;
            clock.advanceFrames (j, rate.perSecond);
            transport.update();
            REQUIRE (transport.delivered() == end - 1 - j % (end - first));
        }
        // Taken out while it plays, it plays on.
        transport.playAt (1);
        transport.setLoop ({});
        clock.advanceFrames (2 * (end - first), rate.perSecond);
        transport.update();
        CHECK (transport.delivered() >= end);
    }
}

TEST_CASE ("a loop is refused when it holds nothing, lasts to picture end, and follows its pictures")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, 100) }, 20, tests::at25);
    transport.setTimings (timings);
    const auto at = [&] (std::int64_t k) { return *timings->atFilmFrame (k); };
    CHECK_FALSE (transport.setLoop (play::Range{ at (50), at (50) }));
    CHECK_FALSE (transport.setLoop (play::Range{ at (50), at (40) }));
    CHECK_FALSE (transport.loop().has_value());
    REQUIRE (transport.setLoop (play::Range{ at (80), at (100) }));
    transport.play();
    CHECK (transport.position().filmFrame == 80);
    clock.advanceFrames (24, 25);
    transport.update();
    CHECK (transport.position().filmFrame == 99);
    clock.advanceFrames (1, 25);
    transport.update();
    CHECK (transport.position().filmFrame == 80);
    CHECK (transport.playing());
    // At another rate the loop still holds the same pictures.
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 100) }, 16, { 24, false }));
    REQUIRE (transport.loop().has_value());
    CHECK (transport.loop()->in.filmFrame == 80);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("b", 500, 600) }, 16, { 24, false }));
    CHECK_FALSE (transport.loop().has_value());
}

TEST_CASE ("pre-roll begins earlier, once or at every round of a loop, and never before the film")
{
    ManualClock clock;
    play::Transport transport (clock);
    const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, 500) }, 25, tests::at25);
    transport.setTimings (timings);
    transport.setPreRoll (2);
    transport.goToDelivered (200);
    transport.playFromBefore();
    CHECK (transport.delivered() == 150);
    clock.advanceFrames (50, 25);
    transport.update();
    CHECK (transport.delivered() == 200);
    transport.pause();
    transport.goToDelivered (20);
    transport.playFromBefore();
    CHECK (transport.delivered() == 0);
    transport.pause();
    REQUIRE (transport.setLoop (play::Range{ *timings->atFilmFrame (100), *timings->atFilmFrame (110) }));
    transport.play();
    CHECK (transport.delivered() == 50);
    clock.advanceFrames (59, 25);
    transport.update();
    CHECK (transport.delivered() == 109);
    clock.advanceFrames (1, 25);
    transport.update();
    CHECK (transport.delivered() == 50);
}

TEST_CASE ("the clock can be changed while it runs without a jump")
{
    ManualClock steady, card;
    card.now = 77;
    play::Transport transport (steady);
    transport.setTimings (tests::timingsFor ({ tests::plainShot ("a", 0, 1000) }, 25, tests::at25));
    transport.play();
    steady.advanceFrames (10, 25);
    steady.now += 39'000'000; // a millisecond before the next delivered frame
    transport.setClock (card);
    CHECK (transport.delivered() == 10);
    steady.now += 10'000'000'000;
    CHECK_FALSE (transport.update());
    card.now += 1'100'000;
    CHECK (transport.update());
    CHECK (transport.delivered() == 11);
    card.advanceFrames (30, 25);
    transport.update();
    CHECK (transport.delivered() == 41);
    // And back again, standing too.
    transport.pause();
    transport.setClock (steady);
    CHECK (transport.delivered() == 41);
    transport.play();
    steady.advanceFrames (1, 25);
    transport.update();
    CHECK (transport.delivered() == 42);
    CHECK (transport.clock().name() == "manual clock");
}

TEST_CASE ("whatever is done, a picture of the film is on screen and the seconds agree with it")
{
    rc::check (
        [] (std::vector<std::uint8_t> moves)
        {
            ManualClock clock, other;
            play::Transport transport (clock);
            const auto timings = tests::timingsFor (threeShots(), { 200, 11 }, { { 24000, 1001 }, false });
            transport.setTimings (timings);
            ManualClock* ticking = &clock;
            for (const auto move : moves)
            {
                switch (move % 11)
                {
                case 0:
                    transport.toggle();
                    break;
                case 1:
                    transport.shuttle (move % 2 == 0 ? 1 : -1);
                    break;
                case 2:
                    transport.crawl (move % 3 == 0 ? -1 : 1);
                    break;
                case 3:
                    transport.setPace ({ static_cast<play::Running> (move % 3), { move + 1, 7 } });
                    break;
                case 4:
                    ticking = move % 2 == 0 ? &clock : &other;
                    transport.setClock (*ticking);
                    break;
                case 5:
                    transport.setLoop (play::Range{ *timings->atFilmFrame (move % 90), *timings->atFilmFrame (90 + move % 90) });
                    break;
                case 6:
                    transport.setLoop ({});
                    break;
                case 7:
                    transport.setPreRoll ({ move, 50 });
                    transport.playFromBefore();
                    break;
                case 8:
                    transport.goTo (*timings->atFilmFrame (move % 181));
                    break;
                default:
                    ticking->now += 3'000'017LL * move;
                }
                transport.update();
                RC_ASSERT (transport.delivered() >= 0);
                RC_ASSERT (transport.delivered() < timings->deliveredLength());
                RC_ASSERT (transport.seconds().valid());
                RC_ASSERT (transport.seconds() >= time::Rational (0));
                if (transport.pace().running == play::Running::delivered)
                {
                    const auto begin = timings->clockOf (transport.delivered());
                    RC_ASSERT (transport.seconds() >= begin);
                    RC_ASSERT (transport.seconds() <= timings->clockOf (transport.delivered() + 1));
                }
            }
        });
}
