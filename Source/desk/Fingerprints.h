#pragma once

#include "desk/OpenBook.h"
#include "desk/Progress.h"
#include "scan/Fingerprint.h"

#include <vector>

namespace shutterbeat::desk
{
/// A fingerprint of every film frame of a print, over all its reels. Each file is decoded once and its fingerprints are kept
/// beside the indexes of films ($XDG_CACHE_HOME/shutterbeat/prints) under its identity and cadence; together no more than
/// 1 GB, what was not asked for longest goes. A cache that can't be written only costs time.
/// Error: as media::forEachGrey; a file that has another number of frames than the print's; cancelled.
Result<std::vector<scan::Fingerprint>> fingerprintsOf (const OpenBook& open, const film::Print& print,
                                                       const Progress& progress = {});
} // namespace shutterbeat::desk
