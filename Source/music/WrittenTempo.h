#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <string>

namespace shutterbeat::music
{
/// A tempo as a Standard MIDI File holds it: whole microseconds for a quarter note, 24 bits (handbook 4.6).
struct WrittenTempo
{
    std::int64_t microsPerQuarter = 500000; ///< 1 to 16777215; the format's own default is 120 beats a minute

    /// Exact seconds of a quarter note as written.
    [[nodiscard]] time::Rational secondsPerQuarter() const;
    /// The exact tempo that was written; seldom the one that was wanted.
    [[nodiscard]] time::Rational beatsPerMinute() const;

    friend bool operator== (const WrittenTempo&, const WrittenTempo&) = default;
};

/// round (60000000 / beats a minute), ties up. Error: not above zero, slower than 3.58 (which 24 bits cannot say), or so
/// fast that a quarter note rounds to nothing.
Result<WrittenTempo> writtenTempo (const time::Rational& beatsPerMinute);

/// The tempo for people, two decimals: what was wanted comes back as it was typed ("97.30", though 97.29993 is written).
std::string tempoText (const WrittenTempo& tempo);
} // namespace shutterbeat::music
