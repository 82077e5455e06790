#pragma once

#include "desk/OpenBook.h"
#include "desk/Progress.h"
#include "scan/Match.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A shot of one of two prints and where its pictures are in the other.
struct ComparedShot
{
    std::int64_t first = 0; ///< film frames of its own print
    std::int64_t end = 0;
    film::ShotKind kind = film::ShotKind::shot;
    std::int64_t shared = 0;      ///< film frames the other print has too
    std::int64_t otherFirst = -1; ///< where the first of them is there; -1: none is
    int otherShot = -1;           ///< the other print's shot that most of it is in, counted from 0
};

/// Which shots each of two prints has, in the order of each.
struct Compared
{
    std::vector<ComparedShot> one, two;
    std::vector<scan::MatchedRun> runs; ///< old is the first print, new the second
    bool mirrored = false;
};

/// Compares two prints of a book by their pictures. Error: no such print; as fingerprintsOf.
Result<Compared> comparePrints (const OpenBook& open, const std::string& one, const std::string& two,
                                const Progress& progress = {});
} // namespace shutterbeat::desk
