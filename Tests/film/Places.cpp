#include "film/Place.h"

#include "Films.h"

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Rational;
using Kind = TypedPlace::Kind;

namespace
{
TypedPlace read (const std::string& text, BareNumber bare = BareNumber::filmFrame)
{
    const auto typed = parsePlace (text, bare);
    INFO (text << (typed ? "" : ": " + typed.error().text()));
    REQUIRE (typed);
    return *typed;
}

/// Photographed shots of two prints, one used twice, made cards between; two reels at times.
Timings someFilm()
{
    std::vector<Shot> shots;
    const auto count = *rc::gen::inRange (2, 8);
    for (int i = 0; i < count; ++i)
    {
        const std::string id = "anna-" + std::to_string (*rc::gen::inRange (1, 6));
        if (*rc::gen::inRange (0, 4) == 0)
        {
            shots.push_back (made (id, Rational (*rc::gen::inRange (1, 200), *rc::gen::element (1, 18, 25, 7))));
            continue;
        }
        const auto first = *rc::gen::inRange (0, 100);
        auto s = shot (id, first, first + *rc::gen::inRange (1, 60), *rc::gen::element<std::string> ("p1", "p2"));
        if (*rc::gen::inRange (0, 3) == 0)
            s.speed = *rc::gen::element (Rational (16), Rational (200, 11), Rational (80, 3));
        shots.push_back (s);
    }
    Edition e = edition (shots, *rc::gen::element (Rational (18), Rational (20), Rational (26)));
    if (*rc::gen::arbitrary<bool>())
        e.reels.push_back ({ *rc::gen::inRange<std::size_t> (1, shots.size()), "02:00:00:00" });
    Delivery d;
    d.rate = *rc::gen::element (time::Rate{ Rational (24), false }, time::Rate{ Rational (30000, 1001), true },
                                time::Rate{ Rational (25), false }, time::Rate{ Rational (18), false });
    d.from = usualFill (d.rate);
    auto t = Timings::of ({ print (1000, "p1"), print (1000, "p2") }, e, d);
    RC_ASSERT (t.ok());
    return std::move (*t);
}

bool same (const Position& a, const Position& b)
{
    return a.where == b.where && a.reel == b.reel && a.filmFrame == b.filmFrame && a.time == b.time
           && a.outsideSeconds == b.outsideSeconds
           && (a.where == Position::Where::end || a.where == Position::Where::outside || a.shot == b.shot);
}

/// Position to place to position, and over text.
void thereAndBack (const Timings& t, const Position& position)
{
    const auto place = t.placeAt (position);
    const auto again = t.find (place);
    RC_ASSERT (again.ok());
    RC_ASSERT (same (*again, position));
    const auto typed = parsePlace (t.placeText (place));
    RC_ASSERT (typed.ok());
    const auto fromText = t.find (*typed);
    RC_ASSERT (fromText.ok());
    RC_ASSERT (same (*fromText, position));
    const auto kept = t.placeFor (*typed);
    RC_ASSERT (kept.ok());
    RC_ASSERT (*kept == place);
}
} // namespace

TEST_CASE ("Places as a person writes them")
{
    CHECK (read ("film:1000").frame == 1000);
    CHECK (read ("film:1000").kind == Kind::filmFrame);
    CHECK (read ("file:1389").kind == Kind::fileFrame);
    CHECK (read ("1000").kind == Kind::filmFrame);
    CHECK (read ("1000", BareNumber::fileFrame).kind == Kind::fileFrame);
    CHECK (read ("tc:01:00:55:14").kind == Kind::timecode);
    CHECK (read ("tc:01:00:55:14").text == "01:00:55:14");
    CHECK (read ("feet:62+08").kind == Kind::feet);
    CHECK (read ("feet:62+08").text == "62+08");
    CHECK (read ("-4.0s").kind == Kind::seconds);
    CHECK (read ("-4.0s").seconds == Rational (-4));
    CHECK (read (" 12.5s ").seconds == Rational (25, 2));
    CHECK (read ("1/3s").seconds == Rational (1, 3));
    CHECK (read ("end+2s").kind == Kind::afterEnd);
    CHECK (read ("end+2s").seconds == Rational (2));
    CHECK (read ("end").seconds == Rational (0));
    CHECK (read ("end+0").seconds == Rational (0));
    CHECK (read ("r2:film:7").reel == 2);
    CHECK (read ("r12:7").reel == 12);
    CHECK (read ("film:7").reel == 1);

    const auto edge = read ("edge:B.head+0");
    CHECK (edge.kind == Kind::edge);
    CHECK (edge.text == "B");
    CHECK (edge.edge.edge == Edge::head);
    CHECK (edge.edge.offset == EdgePlace{}.offset);
    CHECK (read ("edge:B.head").edge.offset == EdgePlace{}.offset);
    CHECK (read ("edge:B.tail-6").edge.edge == Edge::tail);
    CHECK (std::get<std::int64_t> (read ("edge:B.tail-6").edge.offset) == -6);
    CHECK (std::get<Rational> (read ("edge:B.tail-1/2s").edge.offset) == Rational (-1, 2));
    CHECK (std::get<Rational> (read ("edge:B.head+0.25s").edge.offset) == Rational (1, 4));
    CHECK (read ("edge:Mr. H.head.tail+1").text == "Mr. H.head");
    CHECK (read ("edge:a.head.head+1").text == "a.head");
    CHECK (read ("edge:B#2.head+0").text == "B#2");

    for (const char* text : { "",
                              "film:",
                              "film:1.5",
                              "film:x",
                              "file:",
                              "frames:3",
                              "edge:",
                              "edge:B",
                              "edge:.head+0",
                              "edge:B.head0",
                              "edge:B.head+",
                              "edge:B.head++1",
                              "edge:B.head+-1",
                              "edge:B.middle+0",
                              "end-2s",
                              "end+2",
                              "end2s",
                              "s",
                              "4,5s",
                              "r0:film:1",
                              "r:1",
                              "r1",
                              "r1x:5",
                              "r9999:film:1",
                              "r2:",
                              "+4s",
                              "one" })
    {
        INFO (text);
        const auto typed = parsePlace (text);
        REQUIRE_FALSE (typed);
        CHECK (typed.error().text().find ("film:1000") != std::string::npos);
    }
}

TEST_CASE ("Every position has a place, a text, and comes back from both")
{
    CHECK_PROPERTY ("film frames",
                    []
                    {
                        const auto t = someFilm();
                        for (std::size_t reel = 0; reel < t.reelCount(); ++reel)
                            for (std::int64_t k = 0; k <= t.filmTime (reel).frames(); ++k)
                            {
                                const auto at = t.atFilmFrame (k, reel);
                                RC_ASSERT (at.ok());
                                RC_ASSERT (at->filmFrame == k);
                                thereAndBack (t, *at);
                            }
                    });
    CHECK_PROPERTY ("delivered frames",
                    []
                    {
                        const auto t = someFilm();
                        for (std::size_t reel = 0; reel < t.reelCount(); ++reel)
                            for (std::int64_t j = 0; j <= t.deliveredLength (reel); ++j)
                            {
                                const auto at = t.atDelivered (j, reel);
                                RC_ASSERT (at.ok());
                                thereAndBack (t, *at);
                            }
                    });
    CHECK_PROPERTY ("outside",
                    []
                    {
                        const auto t = someFilm();
                        const Rational seconds (*rc::gen::inRange (1, 100000), *rc::gen::inRange (2, 2000));
                        for (const auto& outside : { OutsidePlace{ false, -seconds }, OutsidePlace{ true, seconds } })
                        {
                            const auto at = t.find (Place{ outside });
                            RC_ASSERT (at.ok());
                            RC_ASSERT (at->where == Position::Where::outside);
                            thereAndBack (t, *at);
                            const auto times = t.times (*at);
                            const auto end = t.clockOf (t.deliveredLength (t.reelCount() - 1));
                            RC_ASSERT (times.clock == (outside.afterEnd ? end + seconds : -seconds));
                            RC_ASSERT (times.delivered == time::ceilOf (times.clock * t.delivery().rate.perSecond));
                        }
                    });
}

TEST_CASE ("Typed timecode, feet, file frames and seconds find the picture on screen")
{
    const auto padded = Cadence::fromRuns ({ { { 2, 1, 1, 1 }, 1000 } });
    REQUIRE (padded);
    Print from = print (1);
    from.reels[0].cadence = *padded;
    const auto t = timings (edition ({ shot ("s1", 0, 400), made ("c1", Rational (4)), shot ("s2", 400, 1000) }, Rational (20)),
                            "25", { from });
    // 20 in 25: delivered 0 and 1 show film frame 0, 2 film frame 1.
    CHECK (found (t, "tc:01:00:00:01").filmFrame == 0);
    CHECK (found (t, "tc:01:00:00:02").filmFrame == 1);
    CHECK (found (t, "file:1").filmFrame == 0);
    CHECK (found (t, "file:2").filmFrame == 1);
    CHECK (found (t, "feet:1+00").filmFrame == 16);
    CHECK (found (t, "0.079s").filmFrame == 0);
    CHECK (found (t, "0.08s").filmFrame == 1);
    const auto card = found (t, "tc:01:00:21:00");
    CHECK (card.where == Position::Where::made);
    CHECK (card.secondsInShot == Rational (1));
    CHECK (card.filmFrame == 400);
    // Inside a made card the nearer edge; the middle belongs to its head.
    CHECK (t.placeText (t.placeAt (card)) == "edge:c1.head+1s");
    CHECK (t.placeText (t.placeAt (found (t, "22s"))) == "edge:c1.head+2s");
    CHECK (t.placeText (t.placeAt (found (t, "23s"))) == "edge:c1.tail-1s");
    CHECK (found (t, "film:400").shot == 2);
    CHECK (t.times (found (t, "film:400")).delivered == 600);
    CHECK (found (t, "end").where == Position::Where::end);
    CHECK (t.times (found (t, "end")).delivered == 1350);
    CHECK (found (t, "tc:01:00:54:00").where == Position::Where::end);
    const auto out = t.times (found (t, "end+2s"));
    CHECK (out.clock == Rational (56));
    CHECK (out.timecode == "01:00:56:00");
    const auto before = t.times (found (t, "-4s"));
    CHECK (before.clock == Rational (-4));
    CHECK (before.delivered == -100);
    CHECK (before.timecode == "00:59:56:00");
}

TEST_CASE ("Shots are found by id first, then by a name that only one has")
{
    auto a = shot ("anna-1", 0, 10), b = shot ("anna-2", 10, 20), c = shot ("anna-3", 20, 30), d = shot ("x", 30, 40);
    a.name = "door";
    b.name = "door";
    c.name = "anna-1";
    d.name = "take #2";
    const auto t = timings (edition ({ a, b, c, d }), "24");
    CHECK (found (t, "edge:anna-1.head+0").shot == 0);
    CHECK (found (t, "edge:take #2.head+0").shot == 3);
    const auto twice = refusal (t, "edge:door.head+0");
    CHECK (twice.text().find ("anna-1") != std::string::npos);
    CHECK (twice.text().find ("anna-2") != std::string::npos);
    const auto kept = t.placeFor (*parsePlace ("edge:take #2.tail-1"));
    REQUIRE (kept);
    CHECK (*kept == Place{ EdgePlace{ "x", Edge::tail, std::int64_t{ -1 }, 0 } });
}
