#pragma once

#include "film/Timings.h"

#include <cstdint>

namespace shutterbeat::play
{
/// A delivered frame of the whole edition, its reels one after another as they are shown.
struct ReelSpot
{
    std::size_t reel = 0;
    std::int64_t delivered = 0; ///< from picture start of the reel
};

/// Delivered frames in all reels before `reel`; reelCount() gives the whole length.
std::int64_t deliveredBefore (const film::Timings& timings, std::size_t reel);

/// Where a delivered frame of the whole edition lies; one outside gives the first or the last frame there is.
ReelSpot reelSpotOf (const film::Timings& timings, std::int64_t deliveredInAll);

/// The first delivered frame of the whole edition at which a position shows; the last one for picture end.
std::int64_t deliveredInAll (const film::Timings& timings, const film::Position& position);

/// The position `steps` pictures further (below zero: back): film frames, and each made card or freeze as one.
/// Stops at the first and the last picture.
film::Position stepped (const film::Timings& timings, const film::Position& from, std::int64_t steps);

/// True when `a` comes before `b`: by reel, then by film time.
bool comesBefore (const film::Position& a, const film::Position& b);
} // namespace shutterbeat::play
