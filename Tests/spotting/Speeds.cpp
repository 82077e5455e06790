#include "Catch.h"

#include "SmallBook.h"
#include "spotting/SpeedTable.h"
#include "time/Clock.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

// Handbook 3.1: 80 ft/min is 21.33, 60 is 16, 1000 ft in 16 minutes are 62.5 ft/min.
TEST_CASE ("speeds in feet a minute and minutes a thousand feet, with the film's length at each")
{
    const auto book = smallBook(); // 400 film frames photographed and a made card of 4 s, at 18
    const auto table = spotting::speedTable (book.editions[0]);
    const auto at = [&] (const Rational& speed)
    {
        for (const auto& row : table)
            if (row.speed == speed)
                return row;
        FAIL ("no such speed in the table");
        return spotting::SpeedRow{};
    };
    CHECK (at (Rational (16)).feetAMinute == Rational (60));
    CHECK (at (Rational (64, 3)).feetAMinute == Rational (80));
    CHECK (at (Rational (24)).feetAMinute == Rational (90));
    CHECK (time::decimalText (at (Rational (16)).minutes, 2) == "16.67");
    CHECK (at (Rational (20)).minutes == Rational (40, 3));
    CHECK (at (Rational (20)).seconds == Rational (400, 20) + Rational (4));
    CHECK (at (Rational (18)).chosen);
    CHECK_FALSE (at (Rational (16)).chosen);
    for (const auto& archive : { Rational (16), Rational (200, 11), Rational (20), Rational (240, 11) })
        CHECK (at (archive).archive);
    CHECK_FALSE (at (Rational (22)).archive);
    for (std::size_t i = 1; i < table.size(); ++i)
        CHECK (table[i - 1].speed < table[i].speed);

    const auto odd = did (spotting::setRunningSpeed (book, "A", Rational (39, 2)));
    CHECK (spotting::speedTable (odd.editions[0]).size() == table.size() + 1);
}

TEST_CASE ("one scene at another speed, and back")
{
    auto book = did (spotting::setSceneSpeed (smallBook(), "A", "s-2", "s-4", Rational (200, 11)));
    auto runs = spotting::speedRuns (book.editions[0]);
    REQUIRE (runs.size() == 3);
    CHECK (runs[1].first == 1);
    CHECK (runs[1].end == 4);
    CHECK (runs[1].frames == 200);
    CHECK (runs[1].seconds == Rational (200 * 11, 200) + Rational (4));
    CHECK (runs[2].speed == Rational (18));
    book = did (spotting::setSceneSpeed (book, "A", "s-2", "s-4", {}));
    runs = spotting::speedRuns (book.editions[0]);
    REQUIRE (runs.size() == 1);
    CHECK (runs[0].frames == 400);
    CHECK_FALSE (spotting::setSceneSpeed (book, "A", "s-4", "s-2", Rational (16)));
    CHECK_FALSE (spotting::setSceneSpeed (book, "A", "s-1", "nobody", Rational (16)));
    CHECK_FALSE (spotting::setSceneSpeed (book, "B", "s-1", "s-2", Rational (16)));

    book = did (spotting::setSceneSpeed (book, "A", "s-1", "s-1", Rational (16)));
    book = did (spotting::setWholeSpeed (book, "A", Rational (20)));
    CHECK (spotting::speedRuns (book.editions[0]).size() == 1);
}

// Handbook 3.3: 25 for 24 lasts 4 % less, 70.67 cents up; 24 for 23.976 is 1.73 cents up.
TEST_CASE ("what another final rate does is known before it is accepted")
{
    auto book = spottedBook();
    book.delivery = { { Rational (24), false }, {} };
    const auto fast = spotting::setDelivery (book, { { Rational (25), false }, Rational (24) });
    const auto effect = did (spotting::speedEffect (book, fast));
    CHECK (effect.factor == Rational (24, 25));
    CHECK (effect.soundSpeed == Rational (25, 24));
    CHECK (effect.cents == Approx (70.67).margin (0.005));
    REQUIRE (effect.hits.size() == 3);
    CHECK (effect.moved == 3);
    CHECK (effect.hits[0].after == effect.hits[0].before * Rational (24, 25));
    CHECK (effect.hits[0].timecodeBefore != effect.hits[0].timecodeAfter);

    // True fill: the film lasts as long but for the last frame, and sound stays as it is.
    const auto calm = did (spotting::speedEffect (book, spotting::setDelivery (book, { { Rational (25), false }, {} })));
    CHECK (std::abs (calm.cents) < 4);
    CHECK (calm.moved <= 3);

    const auto slow = spotting::setDelivery (book, { { Rational (24000, 1001), false }, Rational (24) });
    CHECK (did (spotting::speedEffect (slow, book)).cents == Approx (1.73).margin (0.005));
    CHECK (did (spotting::speedEffect (book, book)).moved == 0);

    // Fractions without timecode may be final.
    const auto archive = did (spotting::speedEffect (book, spotting::setDelivery (book, { { Rational (200, 11), false }, {} })));
    CHECK (archive.hits[0].timecodeAfter.empty());
}
