#pragma once

#include "film/Place.h"
#include "film/Unknown.h"

#include <optional>
#include <string>
#include <string_view>

namespace shutterbeat::spotting
{
/// What a hit point answers. The names are the fixed English words of files and lists.
enum class HitKind
{
    cut,
    card,
    gag,
    action,
    entrance,
    effect,
    mood,
    seenMusic, ///< "music seen": somebody plays in the picture
    stop
};

/// How much the music owes it.
enum class Weight
{
    must,
    should,
    may
};

/// "cut", "card", "gag", "action", "entrance", "effect", "mood", "music seen", "stop".
std::string_view hitKindName (HitKind kind);
Result<HitKind> parseHitKind (std::string_view text);
/// "must", "should", "may".
std::string_view weightName (Weight weight);
Result<Weight> parseWeight (std::string_view text);

using film::Unknown;

/// What the music answers, pinned to the picture.
struct HitPoint
{
    std::string id;
    film::Place place;
    HitKind kind = HitKind::action;
    Weight weight = Weight::should;
    std::string label;
    time::Rational lead; ///< exact seconds from the picture to where the music strikes; above zero is later
    int earlyMs = 40;    ///< limit before picture + lead, milliseconds
    int lateMs = 80;     ///< limit after it
    std::string note;
    std::string askedBy;   ///< id or name of a person
    bool agreed = false;   ///< else an open question
    std::string cue;       ///< id of its cue, or empty; range never decides
    std::string typed;     ///< the timecode a person typed, where it fell on a repeat
    bool fromScan = false; ///< proposed by the scan, not yet touched by a person
    Unknown unknown;

    friend bool operator== (const HitPoint&, const HitPoint&) = default;
};
} // namespace shutterbeat::spotting
