#pragma once

#include "exchange/MidiEvents.h"
#include "exchange/MidiFile.h"

#include <string>

namespace shutterbeat::exchange
{
/// Standard MIDI Files for the composer, one a cue with a tempo map: ticks count beats, and bars begin where the cue's do.
/// Tick 0 is bar 1 beat 1 (or the pickup before it, as a short bar of its own); tempos, meters, keys; a marker named as the
/// cue at bar 1; each hit of the cue as a cue point at the moment it is wanted (picture and lead), within half a tick of it
/// through the tempos as written; the SMPTE offset of tick 0, a hundredth of a frame exact. `cue` is an id, or empty for
/// all. Error: no such cue, none with a tempo map, or a tempo the format cannot say.
Result<Written> writeMidiCues (const spotting::BookTimes& times, const ListHead& head, const MidiLook& look = {},
                               const std::string& cue = "");

/// Tempos, meters and keys of a map from a position on, as events; what writeMidiCues writes besides texts.
Result<std::vector<MidiMeta>> mapEvents (const music::TempoMap& map, const time::Rational& from, const time::Rational& to,
                                                int ticksPerQuarter);
} // namespace shutterbeat::exchange
