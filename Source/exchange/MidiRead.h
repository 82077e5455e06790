#pragma once

#include "time/Rational.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// A text of a MIDI file on its tick.
struct MidiText
{
    std::int64_t tick = 0;
    time::Rational seconds; ///< exact, through all tempos before it
    std::string text;       ///< UTF-8 whatever the file had
    int track = 0;
};

struct MidiTempo
{
    std::int64_t tick = 0;
    time::Rational seconds;
    std::int64_t microsPerQuarter = 500000;
};

struct MidiNote
{
    std::int64_t tick = 0;
    time::Rational seconds;
    int channel = 0, key = 0, velocity = 0; ///< velocity 0 and note off end a note
    bool on = false;
    int track = 0;
};

/// The beats of a bar from a tick on.
struct MidiMeter
{
    std::int64_t tick = 0;
    int beats = 4, beatUnit = 4;
};

/// What a Standard MIDI File says about time and names.
struct MidiReading
{
    int format = 1;
    int division = 480; ///< ticks a quarter, or the raw word below zero for ticks of a timecode frame
    std::vector<std::string> trackNames;
    std::vector<MidiTempo> tempos;
    std::vector<MidiMeter> meters;
    std::vector<MidiText> markers, cuePoints;
    std::vector<MidiNote> notes;
    std::optional<std::array<unsigned char, 5>> smpteOffset; ///< the data of FF 54
    std::int64_t lastTick = 0;
    std::vector<std::string> warnings; ///< what was odd or broken, and how it was taken
};

/// Reads any Standard MIDI File, leniently: a broken track is read as far as it goes and said; data bytes right after a
/// meta event are taken as running status, with a warning (CASES B37); text is UTF-8, else Latin-1. Memory is bounded by
/// the size of the file. Error: not a MIDI file.
Result<MidiReading> readMidiFile (std::string_view bytes);
} // namespace shutterbeat::exchange
