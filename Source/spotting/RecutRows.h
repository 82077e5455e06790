#pragma once

#include "spotting/Carry.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Pictures that both editions show, in the same order.
struct SamePart
{
    std::int64_t oldFirst = 0; ///< film frame in the old edition, over all reels
    std::int64_t newFirst = 0;
    std::int64_t frames = 0;

    friend bool operator== (const SamePart&, const SamePart&) = default;
};

/// What happened to one shot, for people: a row of a change list.
struct RecutRow
{
    std::vector<std::string> what; ///< "kept", "moved", "new", "cut out", "remade", "repeated", "split"; then "head -12", "tail +3"
    std::string shot;              ///< its name
    std::string id;
    std::int64_t oldFirst = -1; ///< film frame in the old edition, over all reels; -1: not there
    std::int64_t oldFrames = 0;
    std::int64_t newFirst = -1;
    std::int64_t newFrames = 0;
    std::int64_t by = 0; ///< film frames its pictures are later; 0 where it is in one edition only
    film::ShotKind kind = film::ShotKind::shot;
    std::optional<time::Rational> made; ///< seconds of a made one, in the new edition where it is there
    std::vector<SamePart> same;         ///< its pictures that the old edition has too, rising by newFirst

    [[nodiscard]] bool changed() const { return what != std::vector<std::string>{ "kept" } || by != 0; }
};

/// Every shot of both editions in the order of the new one; what was cut out stands where it would have been.
std::vector<RecutRow> recutRows (const film::Edition& before, const film::Edition& after, const film::ChangeList& changes);

/// "moved, head -12".
std::string whatText (const RecutRow& row);

/// "bar 12 beat 3: 18 frames out, 50 frames in"; "at 0:12.480: ..." in a cue without a tempo.
std::string insideText (const InsideChange& change);
} // namespace shutterbeat::spotting
