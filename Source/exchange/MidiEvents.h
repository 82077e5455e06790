#pragma once

#include "exchange/PlainText.h"
#include "music/TempoMap.h"
#include "music/WrittenTempo.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// A meta event on its tick.
struct MidiMeta
{
    static constexpr unsigned char text = 0x01, trackName = 0x03, marker = 0x06, cuePoint = 0x07, end = 0x2F, tempo = 0x51,
                                   offset = 0x54, meter = 0x58, key = 0x59;

    std::int64_t tick = 0;
    unsigned char type = 0;
    std::string data;
};

/// `number` in so many bytes, the highest first.
std::string bigEndian (std::int64_t number, int bytes);
/// A whole MTrk chunk; events must be in order of ticks. The status byte is always written: running status ends at a meta
/// event (CASES B37).
std::string midiTrack (const std::vector<MidiMeta>& events);
/// A whole file of format 1: the tempo track, and an empty one of the same name and length. `events` in any order; an end
/// is added at `lastTick` or after the last event. Error: a time between two events that the format cannot say.
Result<std::string> midiFile (std::vector<MidiMeta> events, const std::string& name, std::int64_t lastTick, int ticksPerQuarter);

MidiMeta tempoEvent (std::int64_t tick, const music::WrittenTempo& tempo);
/// FF 58: the metronome clicks on the first beat's length, 36 clocks in 6/8 (handbook 7.2).
MidiMeta meterEvent (std::int64_t tick, const music::Meter& meter);
MidiMeta keyEvent (std::int64_t tick, const music::KeyChange& key);

/// Texts as the file holds them; keeps count of what it had to change.
class MidiTexts
{
public:
    explicit MidiTexts (bool ascii)
        : plain (ascii)
    {
    }

    std::string operator() (const std::string& text);

    std::vector<std::string> notes;

private:
    bool plain;
};

std::string cueName (const spotting::Cue& cue);
std::string hitName (const spotting::HitPoint& hit);
} // namespace shutterbeat::exchange
