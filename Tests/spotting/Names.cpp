#include "SmallBook.h"

using namespace shutterbeat;
using namespace shutterbeat::spotting;

TEST_CASE ("The fixed words of files and lists, there and back")
{
    for (const char* name : { "cut", "card", "gag", "action", "entrance", "effect", "mood", "music seen", "stop" })
    {
        const auto kind = parseHitKind (name);
        REQUIRE (kind);
        CHECK (hitKindName (*kind) == name);
    }
    for (const char* name : { "must", "should", "may" })
        CHECK (weightName (*parseWeight (name)) == name);
    for (const char* name : { "music", "tacet", "seen music", "effect" })
        CHECK (cueKindName (*parseCueKind (name)) == name);
    for (const char* name : { "planned", "written", "mocked up", "recorded", "placed", "approved" })
        CHECK (cueStatusName (*parseCueStatus (name)) == name);
    CHECK (parseHitKind ("stop").value() == HitKind::stop);
    CHECK (parseCueStatus ("approved").value() == CueStatus::approved);
    const auto none = parseHitKind ("Cut");
    REQUIRE_FALSE (none);
    CHECK (none.error().text().find ("music seen") != std::string::npos);
    CHECK_FALSE (parseWeight (""));
    CHECK_FALSE (parseCueKind ("silence"));
    CHECK_FALSE (parseCueStatus ("done"));
}
