#include "film/Delivery.h"

#include "Films.h"

#include "time/Timecode.h"

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Rational;

TEST_CASE ("Fills by name")
{
    CHECK (usualFill (delivery ("23.976").rate) == Rational (24));
    CHECK (usualFill (delivery ("29.97df").rate) == Rational (30));
    CHECK (usualFill (delivery ("47.952").rate) == Rational (48));
    CHECK (usualFill (delivery ("59.94").rate) == Rational (60));
    for (const char* rate : { "24", "25", "30", "50", "60", "18", "200/11" })
        CHECK_FALSE (usualFill (delivery (rate).rate));
    CHECK (*parseFill ("true") == std::nullopt);
    CHECK (*parseFill ("from:24") == Rational (24));
    CHECK (*parseFill ("from:23.976") == Rational (24000, 1001));
    for (const char* fill : { "true", "from:24", "from:30", "from:200/11", "from:23.976" })
        CHECK (fillName (*parseFill (fill)) == fill);
    for (const char* fill : { "", "false", "from", "from:", "from:29.97df", "from:0", "24" })
        CHECK_FALSE (parseFill (fill));
}

TEST_CASE ("A running speed as it is seen after the fill (DESIGN 2)")
{
    CHECK (speedSeenText (18, delivery ("24")) == "18");
    CHECK (speedSeenText (18, delivery ("23.976 f 24")) == "18 (17.982)");
    CHECK (speedSeenText (18, delivery ("25 f 24")) == "18 (18.750)");
    CHECK (speedSeenText (Rational (200, 11), delivery ("24")) == "200/11 (18.182)");
    CHECK (speedSeenText (Rational (200, 11), delivery ("23.976 f 24")) == "200/11 (18.164)");
}

TEST_CASE ("A start label that the rate does not have gives way to the next, and says so (DESIGN 5)")
{
    Edition film = edition ({ shot ("s1", 0, 100) });
    film.reels[0].startLabel = "01:01:00:00";
    const auto plain = timings (film, "25");
    CHECK (plain.notes().empty());
    CHECK (plain.timecodeOf (0) == "01:01:00:00");
    const auto drop = timings (film, "29.97df f 30");
    CHECK (drop.timecodeOf (0) == "01:01:00;02");
    REQUIRE (drop.notes().size() == 1);
    CHECK (drop.notes()[0].find ("01:01:00:00") != std::string::npos);
    CHECK (drop.notes()[0].find ("01:01:00;02") != std::string::npos);
    film.reels[0].startLabel = "nine";
    CHECK_FALSE (Timings::of ({ print (100) }, film, delivery ("25")));
}

TEST_CASE ("B04: a reel that runs past midnight keeps its order, and its labels say the day")
{
    Edition film = edition ({ shot ("s1", 0, 96) }, Rational (24));
    film.reels[0].startLabel = "23:59:58:00";
    const auto t = timings (film, "23.976 f 24");
    CHECK (timesAt (t, 47).timecode == "23:59:59:23");
    CHECK (timesAt (t, 48).timecode == "00:00:00:00 (+1 day)");
    CHECK (timesAt (t, 48).clock > timesAt (t, 47).clock);
    CHECK (t.timecodeOf (96) == "00:00:02:00 (+1 day)");
    CHECK (t.timecodeOf (-1 - t.startCount()) == "23:59:59:23 (-1 day)");
    // Typed as it is shown, with the day or without it.
    CHECK (found (t, "tc:00:00:01:00 (+1 day)").filmFrame == 72);
    CHECK (found (t, "tc:00:00:01:00").filmFrame == 72);
    CHECK (found (t, "tc:23:59:58:00").filmFrame == 0);
    refusal (t, "tc:00:00:03:00");
    refusal (t, "tc:12:00:00:00");

    // A reel that starts a whole day in.
    film.reels[0].startLabel = time::labelOf (2073600, delivery ("23.976").rate).shown();
    const auto late = timings (film, "23.976 f 24");
    CHECK (late.notes().empty());
    CHECK (timesAt (late, 24).timecode == "00:00:01:00 (+1 day)");
    CHECK (found (late, "tc:00:00:01:00").filmFrame == 24);
}

TEST_CASE ("A final rate without timecode shows frames and clock (DESIGN 5)")
{
    for (const char* rate : { "18", "200/11" })
    {
        const auto t = oneSpeed (1000, 18, rate);
        const auto at = timesAt (t, 180);
        CHECK (at.timecode.empty());
        CHECK (at.delivered == (std::string (rate) == "18" ? 180 : 182));
        CHECK (at.clock == Rational (at.delivered) / t.delivery().rate.perSecond);
        REQUIRE (t.notes().size() == 1);
        CHECK (t.notes()[0].find ("no timecode") != std::string::npos);
        CHECK (refusal (t, "tc:01:00:00:00").text().find ("no timecode") != std::string::npos);
    }
}

TEST_CASE ("Every reel counts from its own picture start")
{
    Edition film = edition ({ shot ("a", 0, 101), shot ("b", 101, 202), shot ("c", 202, 303) }, Rational (18));
    film.reels = { { 0, "01:00:00:00" }, { 2, "02:00:00:00" } };
    const auto t = timings (film, "24");
    REQUIRE (t.reelCount() == 2);
    CHECK (t.deliveredLength (0) == 270); // 202 / 18 * 24 = 269 1/3
    CHECK (t.deliveredLength (1) == 135);
    const auto second = timesAt (t, 0, 1);
    CHECK (second.delivered == 0);
    CHECK (second.timecode == "02:00:00:00");
    CHECK (second.feet == "0+00");
    CHECK (second.sourceFrame == 202);
    CHECK (found (t, "r2:film:100").shot == 2);
    CHECK (found (t, "r2:tc:02:00:01:00").filmFrame == 18);
    CHECK (found (t, "r2:feet:1+00").filmFrame == 16);
    CHECK (t.placeText (t.placeAt (found (t, "r2:film:7"))) == "r2:film:7");
    CHECK (refusal (t, "r3:film:0").text().find ("2 reel") != std::string::npos);
    const auto end1 = found (t, "film:202"), end2 = found (t, "r2:film:101");
    CHECK (end1.where == Position::Where::end);
    CHECK (end1.reel == 0);
    CHECK (end2.where == Position::Where::end);
    CHECK (end2.reel == 1);
    CHECK (t.times (end1).delivered == 270);
    CHECK (t.find (t.placeAt (end1))->reel == 0);
    CHECK (t.find (t.placeAt (end2))->reel == 1);
    // Only the film as a whole has an outside.
    CHECK (found (t, "-4s").reel == 0);
    CHECK (found (t, "r2:end+2s").reel == 1);
    CHECK (t.placeText (t.placeAt (found (t, "r2:end+2s"))) == "r2:end+2s");
    CHECK (refusal (t, "r2:-4s").text().find ("reel 1") != std::string::npos);
    CHECK (refusal (t, "end+2s").text().find ("reel 2") != std::string::npos);
}
