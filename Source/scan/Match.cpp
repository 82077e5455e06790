#include "scan/Match.h"

#include "scan/MatchAnchors.h"
#include "scan/MatchBands.h"
#include "scan/MatchDoubts.h"
#include "scan/MatchPath.h"
#include "scan/MatchRefine.h"
#include "scan/MatchRuns.h"

#include <algorithm>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t longestPiece = 192; // film frames

/// The shots laid end to end over exactly the frames there are, so that nothing below has to ask.
std::vector<film::ScannedShot> gapless (const PrintFrames& print)
{
    const auto frames = static_cast<std::int64_t> (print.frames.size());
    std::vector<film::ScannedShot> shots;
    std::int64_t at = 0;
    for (const auto& shot : print.shots)
    {
        const auto end = std::min (shot.end, frames);
        if (end <= at)
            continue;
        if (shot.first > at)
            shots.push_back ({ at, shot.first, film::ShotKind::shot, 0 });
        shots.push_back (shot);
        shots.back().first = std::max (shot.first, at);
        shots.back().end = end;
        at = end;
    }
    if (at < frames)
        shots.push_back ({ at, frames, film::ShotKind::shot, 0 });
    return shots;
}

/// The texture of the darkest hundredth of a print is its grain; a film without dark pictures says nothing of it.
float darkOf (std::span<const Fingerprint> frames)
{
    std::vector<float> textures;
    const std::size_t step = std::max<std::size_t> (1, frames.size() / 4000);
    for (std::size_t i = 0; i < frames.size(); i += step)
        textures.push_back (textureOf (frames[i]));
    const auto low = textures.begin() + static_cast<std::ptrdiff_t> (textures.size() / 100);
    std::nth_element (textures.begin(), low, textures.end());
    return std::clamp (1.2F * *low, 9.0F, 13.0F);
}
} // namespace

std::int64_t PrintMatch::oldFrameOf (std::int64_t newFrame) const
{
    const auto after = std::upper_bound (runs.begin(), runs.end(), newFrame,
                                         [] (std::int64_t n, const MatchedRun& run) { return n < run.newFirst; });
    if (after == runs.begin())
        return -1;
    const MatchedRun& run = *std::prev (after);
    return newFrame < run.newFirst + run.frames ? run.oldFirst + newFrame - run.newFirst : -1;
}

PrintMatch matchPrints (const PrintFrames& before, const PrintFrames& after)
{
    PrintMatch match;
    if (before.frames.empty() || after.frames.empty())
        return match;
    const auto oldShots = gapless (before), newShots = gapless (after);
    const PrintFrames old{ before.frames, oldShots, darkOf (before.frames) }, now{ after.frames, newShots, darkOf (after.frames) };
    const auto newPieces = piecesOf (now, longestPiece), oldPieces = piecesOf (old, longestPiece);
    auto questions = questionsOf (old, now, newPieces, oldPieces);
    match.mirrored = mostlyMirrored (questions);
    match.runs = runsOf (cheapestPath (old, now, questions));
    registerAgain (old, now, match.runs, questions);
    refine (old, now, questions, match.runs);
    dropStrays (now, match.runs);
    extendRuns (old, now, match.runs);
    layCards (old, now, match.runs);
    doubtBorders (old, now, questions, match.runs);
    match.successors = cardSuccessors (old, now, match.runs);
    return match;
}
} // namespace shutterbeat::scan
