#include "Films.h"

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
Place head (const char* id, std::variant<std::int64_t, Rational> offset = std::int64_t{ 0 }, int instance = 0)
{
    return EdgePlace{ id, Edge::head, offset, instance };
}

Place tail (const char* id, std::variant<std::int64_t, Rational> offset = std::int64_t{ 0 }, int instance = 0)
{
    return EdgePlace{ id, Edge::tail, offset, instance };
}

Position at (const Timings& t, const Place& place)
{
    const auto found = t.find (place);
    INFO ((found ? "" : found.error().text()));
    REQUIRE (found);
    return *found;
}
} // namespace

TEST_CASE ("An edge is the cut: a shot's tail is its successor's head")
{
    const auto t =
        timings (edition ({ shot ("a", 0, 50), shot ("b", 70, 100), made ("c", Rational (2)), shot ("d", 100, 130) }), "24");
    CHECK (at (t, tail ("a")).shot == 1);
    CHECK (at (t, tail ("a")).filmFrame == 50);
    CHECK (at (t, tail ("a")).time == at (t, head ("b")).time);
    // Before a made card the tail of the shot is where the card comes, not where the next picture comes.
    CHECK (at (t, tail ("b")).where == Position::Where::made);
    CHECK (at (t, tail ("b")).time == at (t, head ("c")).time);
    CHECK (at (t, tail ("c")).shot == 3);
    CHECK (at (t, tail ("c")).time - at (t, tail ("b")).time == Rational (2));
    CHECK (at (t, tail ("d")).where == Position::Where::end);
    CHECK (at (t, tail ("d", std::int64_t{ -1 })).filmFrame == 109);
}

TEST_CASE ("Offsets stand with their edge when a shot is trimmed")
{
    const Edition before = edition ({ shot ("a", 0, 50), shot ("b", 50, 122), shot ("c", 122, 200) });
    Edition trimmed = before;
    trimmed.shots[1].first = 62;
    const auto t1 = timings (before, "25"), t2 = timings (trimmed, "25");
    CHECK (t2.times (at (t2, head ("b"))).sourceFrame == 62);
    CHECK (at (t2, head ("b")).filmFrame == 50);
    CHECK (at (t2, head ("b", std::int64_t{ 10 })).filmFrame == 60);
    CHECK (at (t1, tail ("b", std::int64_t{ -10 })).filmFrame == 112);
    CHECK (at (t2, tail ("b", std::int64_t{ -10 })).filmFrame == 100);
    CHECK (t2.times (at (t2, tail ("b", std::int64_t{ -10 }))).sourceFrame == 112);
    // An offset that reaches over the edge goes on in the neighbour.
    CHECK (at (t1, head ("b", std::int64_t{ -3 })).shot == 0);
    CHECK (at (t1, head ("b", std::int64_t{ -3 })).filmFrame == 47);
    CHECK (at (t1, head ("b", std::int64_t{ 75 })).shot == 2);
    // The place itself never changes, whatever the edition.
    CHECK (t1.placeText (head ("b", std::int64_t{ -3 })) == "edge:b.head-3");
    CHECK (t2.placeText (head ("b", std::int64_t{ -3 })) == "edge:b.head-3");
}

TEST_CASE ("Seconds in a photographed shot go to the nearest film frame")
{
    const auto t = timings (edition ({ shot ("a", 0, 50), shot ("b", 50, 122) }, Rational (18)), "24");
    CHECK (at (t, head ("b", Rational (1))).frameInShot == 18);
    CHECK (at (t, head ("b", Rational (1, 36))).frameInShot == 1);
    CHECK (at (t, tail ("b", Rational (-1))).frameInShot == 54);
}

TEST_CASE ("A shot used twice keeps its instances apart")
{
    const auto t = timings (
        edition ({ shot ("a", 0, 50), shot ("b", 50, 80), shot ("a", 0, 50), made ("c", Rational (1)), made ("c", Rational (1)) }),
        "24");
    CHECK (at (t, head ("a", std::int64_t{ 5 })).filmFrame == 5);
    CHECK (at (t, head ("a", std::int64_t{ 5 }, 1)).filmFrame == 85);
    CHECK (at (t, Place{ PicturePlace{ "p1", 5, 1 } }).filmFrame == 85);
    CHECK_FALSE (t.find (head ("a", std::int64_t{ 5 }, 2)));
    CHECK (t.placeText (head ("a", std::int64_t{ 5 }, 1)) == "edge:a#2.head+5");
    CHECK (found (t, "edge:a#2.head+5").filmFrame == 85);
    CHECK (*t.placeFor (*parsePlace ("edge:a#2.head+5")) == head ("a", std::int64_t{ 5 }, 1));
    CHECK (found (t, "edge:c#2.head+0.5s").shot == 4);
    CHECK (t.placeText (t.placeAt (found (t, "edge:c#2.head+0.5s"))) == "edge:c#2.head+1/2s");
}

TEST_CASE ("A place is never a time: speed, rate and fill change every time and no place")
{
    const Edition film = edition ({ shot ("a", 0, 200), made ("c", Rational (5)), shot ("b", 200, 400) });
    const std::vector<Place> places{ PicturePlace{ "p1", 150, 0 }, head ("b"), tail ("b", std::int64_t{ -7 }),
                                     head ("c", Rational (1)) };
    const auto slow = timings (film, "24");
    Edition quick = film;
    quick.speed = 22;
    for (const auto& place : places)
    {
        const auto text = slow.placeText (place);
        const auto was = slow.times (at (slow, place));
        for (const char* rate : { "24", "25", "25 f 24", "29.97df f 30", "18" })
        {
            const auto t = timings (quick, rate);
            CHECK (t.placeText (place) == text);
            CHECK (t.placeText (*t.placeFor (*parsePlace (text))) == text);
            const auto now = t.times (at (t, place));
            CHECK (now.filmFrame == was.filmFrame);
            CHECK (now.feet == was.feet);
            CHECK (now.sourceFrame == was.sourceFrame);
            CHECK (now.clock != was.clock);
        }
    }
}
