#include "Catch.h"

#include "music/Beats.h"
#include "music/Tap.h"

using namespace shutterbeat;
using music::ClickLook;
using music::TempoMap;
using music::TempoPlan;
using time::Rational;

namespace
{
std::vector<Rational> secondsOf (const std::vector<music::BeatMoment>& moments)
{
    std::vector<Rational> list;
    for (const auto& moment : moments)
        list.push_back (moment.seconds);
    return list;
}
} // namespace

TEST_CASE ("free clicks of handbook 4.4 lead in at the opening click")
{
    // 12-0 and 10-4 at 24 frames: four clicks 2.000 and 1.750 s, eight 4.000 and 3.500 s.
    for (const auto& [eighths, count, first] : std::vector<std::tuple<int, int, Rational>>{
             { 96, 4, -2 }, { 96, 8, -4 }, { 84, 4, Rational (-7, 4) }, { 84, 8, Rational (-7, 2) } })
    {
        const auto map = *TempoMap::steady (Rational (11520, eighths));
        ClickLook look;
        look.freeClicks = count;
        const auto clicks = music::clicksOf (map, Rational (1, 100), look);
        REQUIRE (clicks.ok());
        REQUIRE (clicks->size() == static_cast<std::size_t> (count) + 1);
        CHECK (clicks->front().seconds == first);
        CHECK (clicks->front().free);
        CHECK (clicks->front().bar <= 0);
        CHECK_FALSE (clicks->back().free);
        CHECK (clicks->back().seconds == Rational (0));
    }
}

TEST_CASE ("free clicks come before the pickup and count back in the bars before bar 1")
{
    TempoPlan plan;
    plan.meters = { { 1, *music::parseMeter ("3/4") } };
    plan.pickup = 1;
    plan.tempos.front().beatsPerMinute = 60;
    const auto map = *TempoMap::of (plan);
    ClickLook look;
    look.freeBars = 2;
    const auto clicks = *music::clicksOf (map, 4, look);
    CHECK (secondsOf (clicks) == std::vector<Rational>{ -7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3 });
    std::vector<int> beats;
    for (const auto& click : clicks)
        beats.push_back (click.free ? -click.beat : click.beat);
    CHECK (beats == std::vector<int>{ -3, -1, -2, -3, -1, -2, 3, 1, 2, 3, 1 });
}

TEST_CASE ("clicks follow meters, subdivisions and patterns: holds and free passages are silent")
{
    TempoPlan plan;
    plan.tempos.front().beatsPerMinute = 60;
    plan.stretches = { { 2, 3, 10, true }, { 8, 12, 7, false } };
    const auto map = *TempoMap::of (plan);
    ClickLook look;
    look.freeClicks = 0;
    const auto end = map.timeOf (16);
    CHECK (secondsOf (*music::clicksOf (map, end, look)) == std::vector<Rational>{ 0, 1, 2, 12, 13, 14, 15, 16, 24, 25, 26, 27 });
    look.parts = 2;
    CHECK (secondsOf (*music::clicksOf (map, Rational (27, 2), look))
           == std::vector<Rational>{ 0, Rational (1, 2), 1, Rational (3, 2), 2, 12, Rational (25, 2), 13 });
    look.parts = 1;
    look.pattern = "X.x.";
    const auto some = *music::clicksOf (map, end, look);
    CHECK (secondsOf (some) == std::vector<Rational>{ 0, 2, 13, 15, 24, 26 });
    CHECK (some[0].accent);
    CHECK_FALSE (some[1].accent);
    look.accents = false;
    CHECK_FALSE (music::clicksOf (map, end, look)->front().accent);
    look.pattern = "....";
    CHECK (music::clicksOf (map, end, look)->empty());
    look.pattern = "ab";
    CHECK_FALSE (music::clicksOf (map, end, look).ok());
    look = {};
    look.parts = 9;
    CHECK_FALSE (music::clicksOf (map, end, look).ok());
    look = {};
    look.freeClicks = 65;
    CHECK_FALSE (music::clicksOf (map, end, look).ok());
}

TEST_CASE ("beats between two moments, before bar 1 and through an uneven meter")
{
    TempoPlan plan;
    plan.meters = { { 1, *music::parseMeter ("7/8(2+2+3)") } };
    plan.tempos.front().beatsPerMinute = 60;
    const auto map = *TempoMap::of (plan);
    CHECK (secondsOf (music::beatsBetween (map, Rational (-4), 8))
           == std::vector<Rational>{ Rational (-7, 2), Rational (-5, 2), Rational (-3, 2), 0, 1, 2, Rational (7, 2),
                                     Rational (9, 2), Rational (11, 2), 7 });
    const auto beats = music::beatsBetween (map, Rational (7, 2), 4);
    REQUIRE (beats.size() == 1);
    CHECK (beats[0].bar == 2);
    CHECK (beats[0].accent);
    CHECK (music::beatsBetween (map, 4, 4).empty());
}

TEST_CASE ("an hour of clicks adds no error up")
{
    const auto map = *TempoMap::steady (Rational (973, 10));
    const auto clicks = *music::clicksOf (map, 3600, {});
    CHECK (clicks.size() == 4 + 5838);
    CHECK (clicks.back().seconds == Rational (5837 * 600, 973));
}

TEST_CASE ("a tapped tempo")
{
    const auto even = music::tappedTempo ({ 10, 10.5, 11, 11.5, 12 });
    REQUIRE (even);
    CHECK (even->beatsPerMinute() == Approx (120));
    CHECK (even->firstBeat == Approx (10));
    CHECK (even->taps == 5);
    // A missed tap is bridged, a long rest starts anew.
    CHECK (music::tappedTempo ({ 0, .5, 1.5, 2, 2.5 })->beatsPerMinute() == Approx (120));
    const auto again = music::tappedTempo ({ 0, .4, .8, 9, 9.75, 10.5 });
    CHECK (again->beatsPerMinute() == Approx (80));
    CHECK (again->taps == 3);
    CHECK (again->firstBeat == Approx (9));
    CHECK_FALSE (music::tappedTempo ({ 3 }));
    CHECK_FALSE (music::tappedTempo ({}));
    CHECK_FALSE (music::tappedTempo ({ 3, 3 }));
    // Human taps: the line is nearer than any one gap.
    std::vector<double> taps;
    unsigned noise = 7;
    for (int i = 0; i < 32; ++i)
    {
        noise = noise * 1664525u + 1013904223u;
        taps.push_back (5 + i * 0.6 + (static_cast<double> (noise >> 16) / 65536 - 0.5) * 0.05);
    }
    const auto human = music::tappedTempo (taps);
    CHECK (human->beatsPerMinute() == Approx (100).epsilon (0.002));
    CHECK (human->firstBeat == Approx (5).margin (0.012));
    CHECK (human->spread < 0.03);
}
