#pragma once

#include "film/Print.h"
#include "scan/Fingerprint.h"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace shutterbeat::scan
{
/// A print as it is compared: one fingerprint a film frame, and its shots, without gaps over all of them.
struct PrintFrames
{
    std::span<const Fingerprint> frames;
    std::span<const film::ScannedShot> shots;
    float dark = 9; ///< texture below which a picture shows nothing but the print's grain; matchPrints measures it
};

/// A run of film frames of the new print that show the pictures of a run of the old one, in the same order.
struct MatchedRun
{
    std::int64_t newFirst = 0;
    std::int64_t oldFirst = 0;
    std::int64_t frames = 0;
    double sure = 1;       ///< that it is the same shot, 0 to 1
    double exact = 1;      ///< that it is this very frame and not a neighbour of the same shot, 0 to 1
    bool mirrored = false; ///< left and right are exchanged

    friend bool operator== (const MatchedRun&, const MatchedRun&) = default;
};

/// A card of the new print that stands where one of the old stood, with other words, another design or another length.
struct CardSuccessor
{
    std::size_t oldShot = 0; ///< index of its shot
    std::size_t newShot = 0;
    double sure = 1; ///< 0 to 1

    friend bool operator== (const CardSuccessor&, const CardSuccessor&) = default;
};

/// What two prints share.
struct PrintMatch
{
    std::vector<MatchedRun> runs;          ///< rising by newFirst; every new frame is in one at most
    std::vector<CardSuccessor> successors; ///< rising by newShot
    bool mirrored = false;                 ///< most of the new print is seen from behind

    /// The old film frame that shows the picture of a new one, or -1.
    [[nodiscard]] std::int64_t oldFrameOf (std::int64_t newFrame) const;
};

/// Below these a run's shot, or its very frame, is doubtful: to be shown to somebody.
constexpr double doubtfulShot = 0.5;
constexpr double doubtfulFrame = 0.6;

/// Finds by pictures alone, for every film frame of a new print, the film frame of an old one that shows the same: whatever
/// was reordered, trimmed, left out, put in or shown again; through wear, cleaning, grading, other crops and mirrored prints.
/// Near-black frames follow the run they stand in. Cost and memory grow with the length of the prints.
PrintMatch matchPrints (const PrintFrames& before, const PrintFrames& after);
} // namespace shutterbeat::scan
