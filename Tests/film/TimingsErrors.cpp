#include "film/Timings.h"

#include "Films.h"

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
Error refused (Edition e, Delivery d = {}, std::vector<Print> prints = { print (100) })
{
    const auto t = Timings::of (std::move (prints), std::move (e), d);
    REQUIRE_FALSE (t);
    return t.error();
}

bool says (const Error& error, const std::string& words)
{
    UNSCOPED_INFO (error.text());
    return error.text().find (words) != std::string::npos;
}
} // namespace

TEST_CASE ("Editions that can't be timed are refused with the shot's name")
{
    CHECK (says (refused (edition ({})), "no shots"));
    CHECK (says (refused (edition ({ shot ("x1", 0, 10) }, Rational (0))), "shot x1: has no running speed"));
    CHECK (says (refused (edition ({ shot ("x1", 0, 101) })), "100"));
    CHECK (says (refused (edition ({ shot ("x1", 5, 5) })), "x1"));
    CHECK (says (refused (edition ({ shot ("x1", -1, 5) })), "x1"));
    CHECK (says (refused (edition ({ shot ("x1", 0, 5, "p9") })), "p9"));
    CHECK (says (refused (edition ({ made ("c1", Rational (0)) })), "c1"));
    CHECK (says (refused (edition ({ made ("c1", Rational (-2)) })), "c1"));
    CHECK (says (refused (edition ({ shot ("x1", 0, 10) }, Rational (1'000'000))), "projector"));
    CHECK (says (refused (edition ({ made ("c1", Rational (100'000'000)) })), "ten million"));

    Edition reels = edition ({ shot ("a", 0, 10), shot ("b", 10, 20) });
    reels.reels = {};
    CHECK (says (refused (reels), "first reel"));
    reels.reels = { { 1, "01:00:00:00" } };
    CHECK (says (refused (reels), "first reel"));
    reels.reels = { { 0, "01:00:00:00" }, { 0, "02:00:00:00" } };
    CHECK (says (refused (reels), "reel 1 has no shots"));
    reels.reels = { { 0, "01:00:00:00" }, { 2, "02:00:00:00" } };
    CHECK (says (refused (reels), "reel 2 has no shots"));
}

TEST_CASE ("Final rates that do not exist are refused")
{
    const auto film = edition ({ shot ("x1", 0, 10) });
    CHECK (says (refused (film, { { Rational (0), false }, {} }), "rate"));
    CHECK (says (refused (film, { { Rational (-24), false }, {} }), "rate"));
    CHECK (says (refused (film, { { Rational (1, 0), false }, {} }), "rate"));
    CHECK (says (refused (film, { { Rational (25), true }, {} }), "drop-frame"));
    CHECK (says (refused (film, { { Rational (25), false }, Rational (0) }), "rate"));
}

TEST_CASE ("Too many odd speeds are reported with the shot to round (DESIGN 2)")
{
    std::vector<Shot> shots;
    std::int64_t first = 0;
    for (const int prime : { 10007, 10009, 10037, 10039, 10061, 10067, 10069, 10079, 10091, 10093, 10099, 10103 })
    {
        shots.push_back (atSpeed (shot ("odd" + std::to_string (prime), first, first + 1), Rational (prime, 500)));
        ++first;
    }
    const auto error = refused (edition (shots));
    CHECK (error.code == ErrorCode::overflow);
    CHECK (says (error, "shot odd100"));
    CHECK (says (error, "round"));
}

TEST_CASE ("Places the film does not have are refused in one sentence with the range it has")
{
    const auto t = timings (edition ({ shot ("s1", 0, 100), made ("c1", Rational (2)) }), "24", { print (500) });
    CHECK (says (refusal (t, "film:101"), "0 to 99"));
    CHECK (says (refusal (t, "film:-1"), "0 to 99"));
    CHECK (says (refusal (t, "feet:6+05"), "6+04"));
    CHECK (says (refusal (t, "feet:-0+01"), "6+04"));
    CHECK (says (refusal (t, "tc:00:59:59:23"), "01:00:00:00"));
    CHECK (says (refusal (t, "tc:01:00:08:00"), "01:00:07:14")); // 100 / 18 + 2 s = 181 1/3 frames
    CHECK (says (refusal (t, "tc:01:00:00:24"), "does not exist"));
    CHECK (says (refusal (t, "tc:01:00:00;00"), "semicolon"));
    CHECK (says (refusal (t, "feet:many"), "62+08"));
    CHECK (says (refusal (t, "file:500"), "500"));
    CHECK (says (refusal (t, "file:200"), "does not show"));
    CHECK (says (refusal (t, "r2:file:0"), "no reel 2"));
    CHECK (says (refusal (t, "8s"), "7.58"));
    CHECK (says (refusal (t, "99999999999999999999999s"), "7.58"));
    CHECK (says (refusal (t, "99999999999999999999999999999999999999/99999999999999999999999999999999999998s"), "fraction"));
    CHECK (says (refusal (t, "-86401s"), "day"));
    CHECK (says (refusal (t, "-99999999999999999999999999999s"), "day"));
    CHECK (says (refusal (t, "end+86401s"), "day"));
    CHECK (says (refusal (t, "-1/99999999999999999s"), "fraction"));
    CHECK (says (refusal (t, "edge:nobody.head+0"), "no shot"));
    CHECK (says (refusal (t, "edge:s1#2.head+0"), "so many times"));
    CHECK (says (refusal (t, "edge:s1.head+999999999999999999"), "0 to 99"));
    CHECK (says (refusal (t, "edge:s1.head-1"), "0 to 99"));
    CHECK (says (refusal (t, "edge:s1.head+99999999999999999999s"), "edge"));
    CHECK (says (refusal (t, "edge:c1.head+3s"), "too short"));
    CHECK (says (refusal (t, "edge:c1.tail-3s"), "too short"));
    CHECK (says (refusal (t, "edge:c1.head+1/99999999999999999999999999999999999999s"), "round"));
    CHECK_FALSE (t.atDelivered (-1));
    CHECK_FALSE (t.atDelivered (t.deliveredLength() + 1));
    CHECK (t.atDelivered (t.deliveredLength())->where == Position::Where::end);
    CHECK_FALSE (t.find (Place{ OutsidePlace{ false, Rational (1) } }));
    CHECK_FALSE (t.find (Place{ OutsidePlace{ false, Rational (0) } }));
    CHECK_FALSE (t.find (Place{ OutsidePlace{ true, Rational (-1) } }));
    CHECK_FALSE (t.find (Place{ PicturePlace{ "p9", 0, 0 } }));
    CHECK_FALSE (t.find (Place{ PicturePlace{ "p1", 0, 1 } }));
}
