#pragma once

#include "time/Rational.h"

#include <string>
#include <string_view>

namespace shutterbeat::time
{
/// A rate of delivered frames, and how its timecode counts.
struct Rate
{
    Rational perSecond{ 24 };
    bool dropFrame = false; ///< only at 30000/1001 and 60000/1001

    friend bool operator== (const Rate&, const Rate&) = default;
};

/// What was read, and a sentence for the user when it was not taken to the letter.
template <class T>
struct Reading
{
    T value;
    std::string note;
};

/// Reads 23.976, 24, 25, 29.97, 29.97df, 30, 47.952, 48, 50, 59.94, 59.94df, 60, or a fraction n/d (with df where
/// drop-frame exists). 23.98 and the like snap to their fraction over 1001, with a note.
/// Error: no such rate, zero or below, above 240, df at a rate that has no drop-frame, or a part of more than 9 digits.
Result<Reading<Rate>> parseRate (std::string_view text);

/// The shortest name that parseRate takes: "29.97df", "25", "200/11".
std::string rateName (const Rate& rate);

/// True for the ten rates of SMPTE ST 12-1:2014.
bool hasTimecode (const Rate& rate);

/// Labels a second counts: 24 for 24000/1001, 30 for 30000/1001, and so on. Only when hasTimecode().
int labelsPerSecond (const Rate& rate);

/// Reads a running speed in film frames a second: "18", "18.5", "200/11", "80ft/min" or "13min/1000ft" (both of 35 mm,
/// 16 frames a foot). The decimals 18.18, 21.82, 23.98 and 23.976 snap to 200/11, 240/11 and 24000/1001 with a note
/// (archive rates: SMPTE ST 428-21:2011). Error: not a speed, or outside 1 to 120.
Result<Reading<Rational>> parseSpeed (std::string_view text);

/// "18", "18.5", or the fraction with its value: "200/11 (18.182)".
std::string speedText (const Rational& framesPerSecond);

/// The speed as parseSpeed reads it back exactly: "18", "200/11".
std::string speedName (const Rational& framesPerSecond);
} // namespace shutterbeat::time
