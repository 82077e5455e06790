#include "film/Print.h"

#include "Films.h"

using namespace shutterbeat;
using namespace shutterbeat::film;
using namespace shutterbeat::tests;

TEST_CASE ("Film frames count on over the reels of a print")
{
    Print two = print (100);
    two.reels.push_back (two.reels[0]);
    two.reels[1].path = "second.mov";
    const auto padded = Cadence::fromRuns ({ { { 2, 1, 1, 1 }, 80 } });
    REQUIRE (padded);
    two.reels[1].cadence = *padded;
    CHECK (filmFramesOf (two) == 180);

    const auto last = reelFrameOf (two, 99);
    REQUIRE (last);
    CHECK (last->reel == 0);
    CHECK (last->fileFrame == 99);
    const auto first = reelFrameOf (two, 100);
    REQUIRE (first);
    CHECK (first->reel == 1);
    CHECK (first->filmFrame == 0);
    CHECK (first->fileFrame == 0);
    CHECK (reelFrameOf (two, 101)->fileFrame == 2);
    for (const std::int64_t frame : { std::int64_t{ -1 }, std::int64_t{ 180 } })
    {
        const auto none = reelFrameOf (two, frame);
        REQUIRE_FALSE (none);
        CHECK (none.error().text().find ("180") != std::string::npos);
    }
    CHECK (*filmFrameOf (two, 0, 99) == 99);
    CHECK (*filmFrameOf (two, 1, 1) == 100);
    CHECK (*filmFrameOf (two, 1, 2) == 101);
    const auto past = filmFrameOf (two, 1, 100);
    REQUIRE_FALSE (past);
    CHECK (past.error().text().find ("second.mov") == 0);
    CHECK_FALSE (filmFrameOf (two, 0, -1));
    CHECK_FALSE (filmFrameOf (two, 2, 0));
}
