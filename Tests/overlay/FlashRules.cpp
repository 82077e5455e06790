#include "Catch.h"
#include "overlay/FlashRule.h"

using namespace shutterbeat;
using overlay::Flash;
using overlay::flashBreaches;
using time::Rational;

namespace
{
/// Flashes of the whole picture, two frames long, every `apart` frames.
std::vector<Flash> every (std::int64_t apart, int count, const Rational& area = 1)
{
    std::vector<Flash> flashes;
    for (int i = 0; i < count; ++i)
        flashes.push_back ({ i * apart, i * apart + 2, area });
    return flashes;
}
} // namespace

// Limits: WCAG 2.x SC 2.3.1 (three in any second), ITU-R BT.1702 / Ofcom (leading edges 9 frames at 25 fps: 360 ms apart).
TEST_CASE ("Large flashes nearer than 360 ms are reported, at exactly 360 ms they are not")
{
    CHECK (flashBreaches (every (9, 20), 25).empty());
    CHECK (flashBreaches (every (8, 2), 25).size() == 1);
    CHECK (flashBreaches (every (8, 2), 25)[0].frame == 8);
    // 360 ms is 8.64 frames at 24, 21.6 at 60.
    CHECK (flashBreaches (every (9, 5), 24).empty());
    CHECK_FALSE (flashBreaches (every (8, 5), 24).empty());
    CHECK (flashBreaches (every (22, 5), 60).empty());
    CHECK_FALSE (flashBreaches (every (21, 5), 60).empty());
    // At 25/1.001 frames a second nine frames last longer than 360 ms, eight less.
    CHECK (flashBreaches (every (9, 5), Rational (25000, 1001)).empty());
}

TEST_CASE ("A fourth large flash within one second is reported by itself")
{
    const auto breaches = flashBreaches ({ { 0, 1, 1 }, { 8, 9, 1 }, { 16, 17, 1 }, { 23, 24, 1 } }, 24);
    int fourths = 0;
    for (const auto& breach : breaches)
        fourths += breach.what.find ("fourth") != std::string::npos ? 1 : 0;
    CHECK (fourths == 1);
    CHECK (breaches.back().frame == 23);
    // Three a second, for ever, are 333 ms apart: too near, but never four within a second.
    for (const auto& breach : flashBreaches (every (8, 30), 24))
        CHECK (breach.what.find ("fourth") == std::string::npos);
}

TEST_CASE ("Flashes of a quarter of the picture or less may follow as they like, unless they overlap")
{
    CHECK (flashBreaches (every (2, 50, Rational (1, 12)), 24).empty());
    CHECK (flashBreaches (every (2, 50, Rational (1, 4)), 24).empty());
    CHECK_FALSE (flashBreaches (every (2, 50, Rational (26, 100)), 24).empty());
    // Two fifths at a time, in two places: together more than a quarter.
    const Rational fifth (1, 5);
    CHECK (flashBreaches ({ { 0, 2, fifth }, { 4, 6, fifth } }, 24).empty());
    CHECK_FALSE (flashBreaches ({ { 0, 2, fifth }, { 1, 3, fifth }, { 4, 6, fifth }, { 5, 7, fifth } }, 24).empty());
}

TEST_CASE ("The order in which flashes are given makes no difference")
{
    const std::vector<Flash> forward{ { 0, 2, 1 }, { 5, 7, 1 }, { 30, 32, 1 } };
    const std::vector<Flash> backward (forward.rbegin(), forward.rend());
    REQUIRE (flashBreaches (forward, 24).size() == 1);
    CHECK (flashBreaches (backward, 24)[0].frame == flashBreaches (forward, 24)[0].frame);
}
