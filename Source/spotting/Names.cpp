#include "spotting/Cue.h"
#include "spotting/Hit.h"
#include "spotting/Named.h"

namespace shutterbeat::spotting
{
namespace
{
constexpr std::array<std::string_view, 9> hitKinds{ "cut",    "card", "gag",        "action", "entrance",
                                                    "effect", "mood", "music seen", "stop" };
constexpr std::array<std::string_view, 3> weights{ "must", "should", "may" };
constexpr std::array<std::string_view, 4> cueKinds{ "music", "tacet", "seen music", "effect" };
constexpr std::array<std::string_view, 6> cueStatuses{ "planned", "written", "mocked up", "recorded", "placed", "approved" };
} // namespace

std::string_view hitKindName (HitKind kind)
{
    return hitKinds[static_cast<std::size_t> (kind)];
}

Result<HitKind> parseHitKind (std::string_view text)
{
    return named<HitKind> (hitKinds, "kind", text);
}

std::string_view weightName (Weight weight)
{
    return weights[static_cast<std::size_t> (weight)];
}

Result<Weight> parseWeight (std::string_view text)
{
    return named<Weight> (weights, "weight", text);
}

std::string_view cueKindName (CueKind kind)
{
    return cueKinds[static_cast<std::size_t> (kind)];
}

Result<CueKind> parseCueKind (std::string_view text)
{
    return named<CueKind> (cueKinds, "cue kind", text);
}

std::string_view cueStatusName (CueStatus status)
{
    return cueStatuses[static_cast<std::size_t> (status)];
}

Result<CueStatus> parseCueStatus (std::string_view text)
{
    return named<CueStatus> (cueStatuses, "status", text);
}
} // namespace shutterbeat::spotting
