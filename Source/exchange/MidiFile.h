#pragma once

#include "exchange/Written.h"
#include "music/TickMap.h"
#include "spotting/Times.h"
#include "time/Rate.h"

#include <array>
#include <optional>

namespace shutterbeat::exchange
{
/// How a Standard MIDI File is written.
struct MidiLook
{
    int ticksPerQuarter = 960;
    bool plainAscii = false; ///< for programs that garble UTF-8; what is lost is said in the notes
};

/// A start label as FF 54 carries it (handbook 1.7, 1.8).
struct SmpteOffset
{
    std::array<unsigned char, 5> bytes{}; ///< hour with its rate bits, minute, second, frame, hundredth of a frame
    std::string note;                     ///< what the format cannot say; empty when all is said
};

/// The offset for `start` frames after 00:00:00:00, below zero on the day before; parts of a frame in hundredths. 23.976 and 29.97
/// go as 24 and 30; 48 to 60 with the label of half the rate, an odd frame as 50 hundredths. None at a rate without timecode.
std::optional<SmpteOffset> smpteOffset (const time::Rational& start, const time::Rate& rate);

/// A variable-length number, 0 to 0x0FFFFFFF: seven bits a byte, the highest first.
std::string variableLength (std::int64_t number);

/// Standard MIDI Files, format 1, one a reel; tick 0 is picture start of the reel. The first track has the SMPTE offset,
/// 4/4, the tempos of every cue (tacet excepted) at their times, a marker (FF 06) a cue with number and title and a cue point (FF
/// 07) a hit with its label; hits on one tick become one cue point with all their names, since many programs keep only one. The
/// second track, named after the book, is empty and as long as the reel. Bars are in writeMidiCues. Text is UTF-8 on one line. What
/// does not fit is said in the notes: no tempo, before picture start (placed at it), lost hits and cues. Error: a tempo the format
/// cannot say, or a resolution outside 1 to 32767.
Result<Written> writeMidiFile (const spotting::BookTimes& times, const ListHead& head, const MidiLook& look = {});
} // namespace shutterbeat::exchange
