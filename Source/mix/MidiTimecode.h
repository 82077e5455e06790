#pragma once

#include "time/Timecode.h"

#include <array>
#include <cstdint>
#include <vector>

namespace shutterbeat::mix
{
/// How a final rate is told in MIDI time code: the rate its labels count in (half of 48 to 60) and the two rate bits.
struct MidiRate
{
    time::Rate labels;              ///< at most 30 labels a second
    int deliveredPerLabel = 1;      ///< 2 at 48 to 60
    std::uint8_t code = 0;          ///< 0: 24, 1: 25, 2: 30 drop, 3: 30 (handbook 1.7)
    std::vector<std::string> notes; ///< for the user: what the receiver has to be set to, half labels
};

/// Error: a rate without timecode, with the reason.
Result<MidiRate> midiRateOf (const time::Rate& final);

/// The full message that places a standing receiver: F0 7F 7F 01 01 hh mm ss ff F7. `count` is the label's, at `rate.labels`.
std::array<std::uint8_t, 10> midiFullFrame (std::int64_t count, const MidiRate& rate);

/// The eight data bytes of the quarter-frame messages for one label, in order: F1 then each of them.
std::array<std::uint8_t, 8> midiQuarterFrames (std::int64_t count, const MidiRate& rate);

/// A quarter-frame message and its exact time.
struct TimedQuarter
{
    time::Rational at; ///< seconds from picture start
    std::uint8_t data = 0;
};

/// The quarter-frame messages whose time lies from `from` up to before `to` (seconds from picture start, delivered time) while
/// the film runs forward. Four a label; the first of eight goes out as its label begins, on every second label counted from
/// midnight, and carries that label, as receivers expect (they add the two frames it takes). `startCount` is the label count of
/// picture start at the final rate; `offset` moves the code later. Any stretches joined end to end give the same messages.
std::vector<TimedQuarter> midiQuartersBetween (const MidiRate& rate, std::int64_t startCount, const time::Rational& from,
                                               const time::Rational& to, const time::Rational& offset = time::Rational (0));

/// The label count, at `rate.labels`, that is running at a moment.
std::int64_t midiCountAt (const MidiRate& rate, std::int64_t startCount, const time::Rational& seconds,
                          const time::Rational& offset = time::Rational (0));
} // namespace shutterbeat::mix
