#pragma once

#include "film/Shot.h"

#include <string>
#include <vector>

namespace shutterbeat::film
{
/// A reel of an edition: counts its own film frames, feet, delivered frames and timecode from its picture start.
struct EditionReel
{
    std::size_t firstShot = 0;              ///< index into Edition::shots
    std::string startLabel = "01:00:00:00"; ///< of its picture start

    friend bool operator== (const EditionReel&, const EditionReel&) = default;
};

/// An ordered list of shots: the film as it is to be seen.
struct Edition
{
    std::string letter = "A";
    std::string parent;        ///< letter of the edition it was made from; empty for the first
    time::Rational speed{ 0 }; ///< running speed where a shot has none of its own
    std::vector<Shot> shots;
    std::vector<EditionReel> reels{ {} }; ///< at least one; the first begins at shot 0
    Unknown unknown;

    friend bool operator== (const Edition&, const Edition&) = default;
};

/// The running speed of a shot of the edition.
time::Rational speedOf (const Edition& edition, const Shot& shot);
} // namespace shutterbeat::film
