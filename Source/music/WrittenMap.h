#pragma once

#include "music/TempoMap.h"
#include "music/TickMap.h"

#include <vector>

namespace shutterbeat::music
{
/// A tempo of a map as a MIDI file holds it, on a tick that counts beats.
struct WrittenStep
{
    std::int64_t tick = 0;
    time::Rational position; ///< quarter notes from bar 1 beat 1, on the whole tick
    WrittenTempo tempo;
};

/// The tempos of a map from position `from` on, ticks counted from there. Ramps go in as many steps a quarter note as keep
/// every beat within a millisecond. Whole microseconds make each stretch a little long or short: the length of every step
/// is worked out from where the written ones before it really end (a steady stretch at most one microsecond a quarter note
/// beside its own), so no error adds up. Error: a stretch slower or faster than the format can say, named by its bar.
Result<std::vector<WrittenStep>> writtenSteps (const TempoMap& map, const time::Rational& from, int ticksPerQuarter);
} // namespace shutterbeat::music
