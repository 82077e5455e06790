#include "Catch.h"
#include "overlay/ConductorMarks.h"

#include <algorithm>

using namespace shutterbeat;
using overlay::HitMarks;
using overlay::planMarks;
using overlay::ShownMark;
using time::Rational;

namespace
{
overlay::MarkPlan planned (const std::vector<HitMarks>& hits, const Rational& rate)
{
    const auto plan = planMarks (hits, rate, true);
    INFO ((plan ? "" : plan.error().text()));
    REQUIRE (plan);
    return *plan;
}

std::vector<std::int64_t> framesWith (const overlay::MarkPlan& plan, ShownMark::Kind kind, std::int64_t from, std::int64_t to)
{
    std::vector<std::int64_t> frames;
    for (auto j = from; j < to; ++j)
        for (const auto& mark : plan.at (j))
            if (mark.kind == kind && (frames.empty() || frames.back() != j))
                frames.push_back (j);
    return frames;
}

using Frames = std::vector<std::int64_t>;
} // namespace

TEST_CASE ("A punch begins on the hit and lasts 2 frames at 24 to 30, 4 at 48 to 60")
{
    for (const auto& rate : { Rational (24000, 1001), Rational (24), Rational (25), Rational (30000, 1001), Rational (30) })
        CHECK (framesWith (planned ({ { 100, 0, true, 0, false, 0 } }, rate), ShownMark::Kind::punch, 0, 300)
               == Frames{ 100, 101 });
    for (const auto& rate : { Rational (48), Rational (50), Rational (60000, 1001), Rational (60) })
        CHECK (framesWith (planned ({ { 100, 0, true, 0, false, 0 } }, rate), ShownMark::Kind::punch, 0, 300)
               == Frames{ 100, 101, 102, 103 });
}

// Streamer lengths: handbook 4.4, computed: 48/72/96/120 frames at 24, 50/75/100/125 at 25.
TEST_CASE ("A streamer of n seconds begins n seconds before the hit and arrives on it")
{
    struct Row
    {
        Rational rate;
        std::int64_t frames[4];
    };
    for (const auto& row :
         { Row{ 24, { 48, 72, 96, 120 } }, Row{ 25, { 50, 75, 100, 125 } }, Row{ Rational (24000, 1001), { 48, 72, 96, 120 } } })
        for (int seconds = 2; seconds <= 5; ++seconds)
        {
            // A hit that comes before the streamer can begin in the picture: it begins in the leader.
            const auto plan = planned ({ { 10, seconds, false, 0, false, 0 } }, row.rate);
            const auto frames = framesWith (plan, ShownMark::Kind::streamer, -200, 300);
            CHECK (frames.front() == 10 - row.frames[seconds - 2]);
            CHECK (frames.back() == 10);
            CHECK (plan.at (10).front().progress == Rational (1));
            CHECK (plan.at (frames.front()).front().progress == Rational (0));
            const auto before = row.frames[seconds - 2] / 2;
            CHECK (plan.at (10 - before).front().progress == Rational (1) - Rational (before, row.frames[seconds - 2]));
        }
}

TEST_CASE ("A flutter's punches alternate with pauses, the middle one on the hit")
{
    CHECK (framesWith (planned ({ { 100, 0, false, 5, false, 0 } }, 24), ShownMark::Kind::punch, 0, 300)
           == Frames{ 96, 98, 100, 102, 104 });
    CHECK (framesWith (planned ({ { 100, 0, true, 3, false, 0 } }, 24), ShownMark::Kind::punch, 0, 300) == Frames{ 98, 100, 102 });
    CHECK (framesWith (planned ({ { 100, 0, false, 3, false, 0 } }, 50), ShownMark::Kind::punch, 0, 300)
           == Frames{ 96, 97, 100, 101, 104, 105 });
}

TEST_CASE ("Nothing flashes before the caution was read: streamers may")
{
    CHECK (planMarks ({ { 100, 3, false, 0, false, 0 } }, 24, false));
    for (const HitMarks& marks : { HitMarks{ 100, 0, true }, HitMarks{ 100, 0, false, 3 }, HitMarks{ 100, 0, false, 0, true } })
    {
        const auto plan = planMarks ({ marks }, 24, false);
        REQUIRE_FALSE (plan);
        CHECK (plan.error().message.find (overlay::flashCaution) != std::string::npos);
        CHECK (planMarks ({ marks }, 24, true));
    }
}

TEST_CASE ("Flashes that break the flash rule are refused, with the place: punches at the same hits are not")
{
    const std::vector<HitMarks> near{ { 100, 0, false, 0, true }, { 108, 0, false, 0, true } };
    const auto plan = planMarks (near, 24, true);
    REQUIRE_FALSE (plan);
    CHECK (plan.error().message.find ("108") != std::string::npos);
    CHECK (planMarks ({ { 100, 0, false, 0, true }, { 109, 0, false, 0, true } }, 24, true));
    CHECK (planMarks ({ { 100, 0, true }, { 104, 0, true }, { 108, 0, true, 7 } }, 24, true));
    // A flash lasts as long as a punch.
    CHECK (framesWith (planned ({ { 100, 0, false, 0, true } }, 24), ShownMark::Kind::flash, 0, 300) == Frames{ 100, 101 });
}

TEST_CASE ("Lengths that there are not are refused")
{
    CHECK_FALSE (planMarks ({ { 100, 1 } }, 24, true));
    CHECK_FALSE (planMarks ({ { 100, 6 } }, 24, true));
    CHECK_FALSE (planMarks ({ { 100, -2 } }, 24, true));
    CHECK_FALSE (planMarks ({ { 100, 0, false, 4 } }, 24, true));
    CHECK (planMarks ({}, 24, false)->empty());
}

TEST_CASE ("Marks of many hits are all there, streamers first")
{
    std::vector<HitMarks> hits;
    for (int i = 0; i < 200; ++i)
        hits.push_back ({ i * 30, 2, true, 0, false, i % 3 });
    const auto plan = planned (hits, 24);
    for (int i = 0; i < 200; ++i)
    {
        const auto marks = plan.at (i * 30);
        CHECK (marks.front().kind == ShownMark::Kind::streamer);
        CHECK (marks.back().kind == ShownMark::Kind::punch);
        CHECK (marks.back().hit == static_cast<std::size_t> (i));
        // Its own streamer and the one of the next hit, 30 frames on.
        const auto streamers = std::count_if (marks.begin(), marks.end(),
                                              [] (const ShownMark& mark) { return mark.kind == ShownMark::Kind::streamer; });
        CHECK (streamers == (i < 199 ? 2 : 1));
    }
}
