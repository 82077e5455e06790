#include "Catch.h"
#include "Films.h"

#include "play/ScreenLog.h"
#include "play/TapCalibration.h"

#include <random>

using namespace shutterbeat;

TEST_CASE ("the screen log knows what was seen at a moment")
{
    play::ScreenLog log;
    CHECK_FALSE (log.at (5).has_value());
    const auto timings = tests::timingsFor ({ tests::plainShot ("a", 0, 1000) }, 20, { 25, false });
    for (std::int64_t j = 0; j < 800; ++j)
    {
        const play::OnScreen shown{ *timings->atDelivered (j), j };
        log.put (1000 * j, shown);
        log.put (1000 * j + 500, shown); // still the same
    }
    CHECK (log.at (799'999)->delivered == 799);
    CHECK (log.at (600'000)->delivered == 600);
    CHECK (log.at (599'999)->delivered == 599);
    CHECK (log.at (599'999)->at.filmFrame == 479);
    // Beyond what is kept, the oldest there is.
    CHECK (log.at (0)->delivered == 800 - 512);
    log.clear();
    CHECK_FALSE (log.at (5).has_value());
}

TEST_CASE ("a calibration measures how late somebody taps, and ignores what is no tap on a beat")
{
    constexpr std::int64_t ms = 1'000'000;
    play::TapCalibration taps (10'000 * ms, 1000 * ms);
    CHECK_FALSE (taps.tap (3000 * ms)); // before the first beat
    std::mt19937 random (7);
    std::uniform_int_distribution<int> ragged (-20, 20);
    for (int beat = 0; beat < 23; ++beat)
    {
        const auto at = (10'000 + 1000 * beat + 62 + ragged (random)) * ms;
        CHECK (taps.tap (at) == (beat >= 3));
        CHECK_FALSE (taps.tap (at + 40 * ms)); // a second stroke on the same beat
    }
    REQUIRE (taps.enough());
    CHECK (taps.count() == 20);
    WARN ("median " << *taps.median() / ms << " ms, spread " << *taps.spread() / ms << " ms; the hand was 62 ms late, +-20");
    CHECK (std::abs (*taps.median() - 62 * ms) <= 8 * ms);
    CHECK (*taps.spread() <= 15 * ms);
    CHECK (*taps.spread() >= 4 * ms);
    play::TapCalibration early (0, 1000 * ms);
    for (int beat = 1; beat < 20; ++beat)
        early.tap ((1000 * beat - 35) * ms);
    CHECK (*early.median() == -35 * ms);
    CHECK (*early.spread() == 0);
}
