#include "Catch.h"

#include "lineup/SyncLimits.h"

#include <algorithm>

using namespace shutterbeat::lineup;

TEST_CASE ("Published sync limits, sound early and sound late the right way round")
{
    // Handbook 5. Its sign is BT.1359's, positive for sound early; ours is late_ms, positive for sound late.
    const auto limit = [] (const std::string& name)
    {
        const auto found =
            std::find_if (syncLimits().begin(), syncLimits().end(), [&] (const SyncLimit& l) { return l.name == name; });
        REQUIRE (found != syncLimits().end());
        return *found;
    };
    struct Row
    {
        const char* name;
        double early, late;
    };
    for (const Row& row : { Row{ "ITU-R BT.1359-1, detectability", 45, 125 }, Row{ "ITU-R BT.1359-1, acceptability", 90, 185 },
                            Row{ "EBU R37, distribution", 40, 60 }, Row{ "EBU R37, one production stage", 5, 15 },
                            Row{ "ATSC IS-191", 15, 45 }, Row{ "AC-3 decoder specification", 5, 15 },
                            // Report BS.1204: the picture may lead by two frames of 24 (sound late), lag by one (sound early).
                            Row{ "ITU-R Report BS.1204, film practice", 42, 83 } })
    {
        INFO (row.name);
        const auto one = limit (row.name);
        CHECK (one.early == row.early);
        CHECK (one.late == row.late);
        CHECK (one.holds (row.late));
        CHECK_FALSE (one.holds (row.late + 0.1));
        CHECK (one.holds (-row.early));
        CHECK_FALSE (one.holds (-row.early - 0.1));
        // Every one of them allows sound to be later than it may be early.
        CHECK (one.holds (row.early + 1));
        CHECK_FALSE (one.holds (-row.late));
    }
    CHECK (syncLimits().size() == 7);
    CHECK (brokenLimits (0).empty());
    CHECK (brokenLimits (100).size() == 5);
    CHECK (brokenLimits (-100).size() == 7);
}
