#pragma once

#include "time/Rational.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::music
{
/// The meter of a bar: 4/4, 6/8, 7/8(2+2+3).
struct Meter
{
    int count = 4;           ///< 1 to 64 of `unit` make the bar
    int unit = 4;            ///< 1, 2, 4, 8, 16, 32 or 64: the note value that is counted
    std::vector<int> groups; ///< beats made of so many units each; empty: as is usual for the meter

    friend bool operator== (const Meter&, const Meter&) = default;
};

/// The length of the bar in quarter notes.
time::Rational barLength (const Meter& meter);

/// The beats of the bar in quarter notes each, in order. Groups where they are given; else threes in compound meters
/// (6, 9, 12, ... of eighths or shorter), else one beat a unit.
std::vector<time::Rational> beatLengths (const Meter& meter);

/// Reads "4/4", "12/8", "7/8(2+2+3)". Error: not a meter, or groups that do not fill the bar.
Result<Meter> parseMeter (std::string_view text);
/// As parseMeter reads it back.
std::string meterText (const Meter& meter);

/// A meter for a bar of that many quarter notes: 4/4 for 4, 7/8 for 7/2. Error: longer than 64 units, or not a whole
/// number of sixty-fourths.
Result<Meter> meterOfLength (const time::Rational& quarters);
} // namespace shutterbeat::music
