#pragma once

#include "desk/LineUp.h"

namespace shutterbeat::desk
{
/// A sentence about a whole sound, and whether it tells of a fault.
struct SoundFinding
{
    std::string text;
    bool fault = false;
};

/// The pop of a sound: found where it belongs, found elsewhere, missing though the sound covers its place (DESIGN: two seconds of
/// picture before picture start and after picture end). Nothing where none was to be expected.
std::vector<SoundFinding> popFindings (const film::Timings& timings, std::size_t reel, const time::Rational& start,
                                       const HeardSound& heard);

/// Whether the music ends with its cue: more than a second before its out, or heard more than half a second past it.
std::vector<SoundFinding> endFindings (const spotting::CueTimes& cue, const time::Rational& start, const HeardSound& heard);
} // namespace shutterbeat::desk
