// Worked cases of the exactness rules, letter by letter: exact fractions from the rules, no other source.
#include "Films.h"

#include "time/Clock.h"
#include "time/Timecode.h"

#include <array>

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Rational;

TEST_CASE ("WORKED A: one speed at eight deliveries")
{
    struct Row
    {
        const char* delivery;
        std::int64_t delivered;
        const char* clock;
        std::int64_t frames;
        const char* seconds;
        const char* label;
    };
    const std::array<Row, 8> rows{ { { "24", 13334, "555.583", 144000, "6000.000", "01:09:15:14" },
                                     { "25", 13889, "555.560", 150000, "6000.000", "01:09:15:14" },
                                     { "25 f 24", 13334, "533.360", 144000, "5760.000", "01:08:53:09" },
                                     { "23.976", 13321, "555.597", 143857, "6000.036", "01:09:15:01" },
                                     { "23.976 f 24", 13334, "556.139", 144000, "6006.000", "01:09:15:14" },
                                     { "29.97df", 16651, "555.588", 179821, "6000.027", "01:09:15;19" },
                                     { "29.97df f 30", 16667, "556.122", 180000, "6006.000", "01:09:16;05" },
                                     { "30", 16667, "555.567", 180000, "6000.000", "01:09:15:17" } } };
    for (const auto& row : rows)
    {
        INFO (row.delivery);
        const auto film = oneSpeed (108000, 18, row.delivery);
        const auto at = timesAt (film, 10000);
        CHECK (at.delivered == row.delivered);
        CHECK (time::secondsText (at.clock, 3) == row.clock);
        CHECK (at.timecode == row.label);
        CHECK (at.feet == "625+00");
        CHECK (at.sourceFrame == 10000);
        CHECK_FALSE (at.notShown);
        CHECK (film.deliveredLength() == row.frames);
        CHECK (time::secondsText (film.clockOf (film.deliveredLength()), 3) == row.seconds);
        const auto end = film.times (film.shotHead (1));
        CHECK (end.delivered == row.frames);
        CHECK (time::secondsText (end.clock, 3) == row.seconds);
    }
    // The usual fills of the rates over 1001.
    CHECK (delivery ("23.976 f 24").from == usualFill (delivery ("23.976").rate));
    CHECK (delivery ("29.97df f 30").from == usualFill (delivery ("29.97df").rate));
}

TEST_CASE ("WORKED B: the rate a file is flagged with is never its running speed")
{
    CHECK (timesAt (oneSpeed (5000, 18, "24"), 1000).delivered == 1334);
    // A file padded from 18 to 25, tried at 20 and at 18.
    std::vector<int> cycle{ 2, 1, 2, 1, 1, 2, 1, 2, 1, 1, 2, 1, 2, 1, 1, 2, 1, 1 };
    auto padded = Cadence::fromRuns ({ { cycle, 5000 } });
    REQUIRE (padded);
    Print from = print (1);
    from.reels[0].cadence = *padded;
    from.reels[0].rate = Rational (25);
    CHECK (measuredSpeed (from.reels[0]) == Rational (18));
    for (const auto& [speed, delivered] : { std::pair{ 20, 1250 }, std::pair{ 18, 1389 } })
    {
        const auto film = timings (edition ({ shot ("s1", 0, 5000) }, Rational (speed)), "25", { from });
        const auto at = timesAt (film, 1000);
        CHECK (at.delivered == delivered);
        CHECK (at.fileFrame == 1389);
    }
}

TEST_CASE ("WORKED C: change of speed and a made card, nothing rounded between")
{
    const Edition film = edition ({ atSpeed (shot ("s1", 0, 101), 18), made ("s2", Rational (124, 25)),
                                    atSpeed (shot ("s3", 101, 202), 20), atSpeed (shot ("s4", 202, 303), 22) },
                                  Rational (16));
    const std::array<Rational, 5> starts{ 0, { 101, 18 }, { 4757, 450 }, { 14059, 900 }, { 200099, 9900 } };
    const std::array<std::int64_t, 5> at24{ 0, 135, 254, 375, 486 }, at25{ 0, 141, 265, 391, 506 };
    const auto t24 = timings (film, "24"), t25 = timings (film, "25");
    for (std::size_t i = 0; i < starts.size(); ++i)
    {
        CHECK (t24.shotHead (i).time == starts[i]);
        CHECK (t24.times (t24.shotHead (i)).delivered == at24[i]);
        CHECK (t25.times (t25.shotHead (i)).delivered == at25[i]);
    }
    CHECK (t24.deliveredLength() == 486);
    CHECK (t25.deliveredLength() == 506);
    // The card keeps its 4.96 s at any speed.
    for (const int speed : { 16, 20, 24 })
    {
        Edition other = film;
        other.speed = speed;
        for (auto& s : other.shots)
            s.speed.reset();
        const auto t = timings (other, "25");
        CHECK (t.shotHead (2).time - t.shotHead (1).time == Rational (496, 100));
    }
}

TEST_CASE ("WORKED D: running speed above the final rate leaves a film frame unshown")
{
    const auto film = oneSpeed (100, Rational (80, 3), "24");
    const std::array<std::int64_t, 4> delivered{ 8, 9, 9, 10 };
    for (std::int64_t k = 8; k <= 11; ++k)
    {
        const auto at = timesAt (film, k);
        CHECK (at.delivered == delivered[static_cast<std::size_t> (k - 8)]);
        CHECK (at.notShown == (k == 9));
    }
    const auto picture = film.pictureAt (9);
    REQUIRE (picture);
    CHECK (picture->filmFrame == 10);
    // A shot of one film frame can be gone as a whole.
    const auto short1 = timings (edition ({ shot ("s1", 0, 9), shot ("s2", 9, 10), shot ("s3", 10, 40) }, Rational (80, 3)), "24");
    CHECK (short1.times (short1.shotHead (1)).notShown);
    CHECK_FALSE (short1.times (short1.shotHead (2)).notShown);
}

TEST_CASE ("WORKED E: a film frame gone moves the later ones by phase, not by interval")
{
    const auto before = oneSpeed (200, 18, "24");
    const auto after = timings (edition ({ shot ("s1", 0, 50), shot ("s2", 51, 200) }), "24");
    const std::array<std::int64_t, 3> first{ 134, 135, 136 }, then{ 132, 134, 135 };
    for (std::int64_t k = 100; k < 103; ++k)
    {
        const auto at = before.find (Place{ PicturePlace{ "p1", k, 0 } });
        const auto moved = after.find (Place{ PicturePlace{ "p1", k, 0 } });
        REQUIRE (at);
        REQUIRE (moved);
        CHECK (before.times (*at).delivered == first[static_cast<std::size_t> (k - 100)]);
        CHECK (after.times (*moved).delivered == then[static_cast<std::size_t> (k - 100)]);
        CHECK (at->filmFrame - moved->filmFrame == 1);
    }
    CHECK_FALSE (after.find (Place{ PicturePlace{ "p1", 50, 0 } }));
}

TEST_CASE ("WORKED F: leader is delivered frames before the picture, never converted through the running speed")
{
    // The start label of the file lies before the leader; picture start is that label plus the leader's frames.
    struct Row
    {
        const char* rate;
        const char* start;
        std::int64_t leader;
        const char* picture;
    };
    for (const Row& row : { Row{ "24", "00:59:50:00", 240, "01:00:00:00" }, Row{ "25", "00:59:50:00", 250, "01:00:00:00" },
                            Row{ "29.97df f 30", "00:59:50;00", 300, "01:00:00;00" } })
        for (const int speed : { 16, 18, 24 })
        {
            const auto rate = delivery (row.rate).rate;
            const auto start = time::parseLabel (row.start, rate);
            REQUIRE (start);
            Edition film = edition ({ shot ("s1", 0, 100) }, Rational (speed));
            film.reels[0].startLabel = time::labelOf (start->value + row.leader, rate).text;
            CHECK (film.reels[0].startLabel == row.picture);
            const auto t = timings (film, row.rate);
            CHECK (t.timecodeOf (0) == row.picture);
            CHECK (t.timecodeOf (-row.leader) == row.start);
            CHECK (timesAt (t, 0).timecode == row.picture);
        }
}

TEST_CASE ("WORKED G: a pop two seconds before picture, in frames of the counting rate")
{
    struct Row
    {
        const char* rate;
        std::int64_t frames;
        const char* seconds;
    };
    for (const Row& row :
         { Row{ "24", 48, "2.000" }, Row{ "23.976 f 24", 48, "2.002" }, Row{ "25", 50, "2.000" }, Row{ "25 f 24", 48, "1.920" } })
    {
        INFO (row.rate);
        const auto film = oneSpeed (1000, 18, row.rate);
        const auto pop = deliveredFrame (-2, film.delivery().countingRate());
        CHECK (pop == -row.frames);
        CHECK (time::secondsText (-film.clockOf (pop), 3) == row.seconds);
    }
}

TEST_CASE ("WORKED H: feet are the print's: a 24 fps counter is its own thing")
{
    const auto film = oneSpeed (5000, 18, "24");
    const auto at = timesAt (film, 1000);
    CHECK (at.feet == "62+08");
    CHECK (at.delivered == 1334);
    CHECK (time::feetText (at.delivered, time::Gauge{}) == "83+06");
    const auto narrow = time::parseGauge ("16 mm");
    REQUIRE (narrow);
    CHECK (timesAt (timings (edition ({ shot ("s1", 0, 5000) }), "24", { print (5000, "p1", *narrow) }), 1000).feet == "25+00");
}

TEST_CASE ("WORKED I: clock times of delivered frames on the sample grid")
{
    const auto film = oneSpeed (5000, 24, "24");
    const std::array<std::int64_t, 5> samples{ 0, 1838, 3675, 5513, 7350 };
    for (std::int64_t k = 0; k < 5; ++k)
        CHECK (time::sampleAt (timesAt (film, k).clock, 44100) == samples[static_cast<std::size_t> (k)]);
    CHECK (time::secondsText (timesAt (film, 3).clock) == "0.13");
}

TEST_CASE ("WORKED K: live at one projector speed")
{
    const Edition film = edition ({ atSpeed (shot ("s1", 0, 6000), 18), atSpeed (shot ("s2", 6000, 12000), 22) });
    CHECK (time::secondsText (timings (film, "24").filmTime().length()) == "606.06");
    Edition house = film;
    house.speed = 20;
    for (auto& s : house.shots)
        s.speed.reset();
    CHECK (time::secondsText (timings (house, "24").filmTime().length()) == "600.00");
}

TEST_CASE ("WORKED L: edge places over trims and a remade card")
{
    const Edition before = edition ({ shot ("A", 0, 100), shot ("B", 100, 172), shot ("C", 200, 290), shot ("D", 300, 400) });
    Edition after = before;
    after.shots[1].first = 112;
    after.shots[2] = made ("C", Rational (126, 18));
    const auto t1 = timings (before, "24"), t2 = timings (after, "24");

    const Place cut = EdgePlace{ "B", Edge::head, std::int64_t{ 0 }, 0 };
    CHECK (t1.find (cut)->filmFrame == 100);
    CHECK (t2.find (cut)->filmFrame == 100);
    CHECK (t1.times (*t1.find (cut)).sourceFrame == 100);
    CHECK (t2.times (*t2.find (cut)).sourceFrame == 112);

    const auto on40 = t1.placeAt (found (t1, "edge:B.head+40"));
    CHECK (on40 == Place{ PicturePlace{ "p1", 140, 0 } });
    CHECK (t1.find (on40)->filmFrame == 140);
    CHECK (t2.find (on40)->filmFrame == 128);
    CHECK (t2.times (*t2.find (on40)).sourceFrame == 140);

    const Place beforeItGoes = EdgePlace{ "C", Edge::tail, std::int64_t{ -6 }, 0 };
    CHECK (t1.find (beforeItGoes)->frameInShot == 84);
    const auto inCard = t2.find (beforeItGoes);
    REQUIRE (inCard);
    CHECK (inCard->where == Position::Where::made);
    CHECK (inCard->secondsInShot == Rational (120, 18));
    CHECK (t2.shotHead (3).time - inCard->time == Rational (6, 18));
}
