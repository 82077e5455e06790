#pragma once

#include "mix/LinearTimecode.h"
#include "mix/MidiTimecode.h"
#include "play/SoundFeeder.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace shutterbeat::play
{
/// Bytes of MIDI, and when they go out.
struct DueMidi
{
    std::int64_t clockNanoseconds = 0;
    std::vector<std::uint8_t> bytes;
};

/// MIDI time code for a reel that runs, stands and jumps: quarter frames while it runs forward, at whatever speed, one full
/// message where it stands or runs back. Reads no clock and owns no thread: it is asked what is due.
class MidiTimecodeOut
{
public:
    /// `startCount` is the label count of the reel's picture start at the final rate; `offset` seconds move the code later.
    MidiTimecodeOut (mix::MidiRate rate, std::int64_t startCount, const time::Rational& offset = time::Rational (0));

    /// The film stands: its label goes out with the next due().
    void standing (const time::Rational& seconds);
    /// Second `seconds` of the reel is on screen when the clock says `clockNanoseconds`; at each start, jump and change of speed.
    void running (const time::Rational& seconds, const time::Rational& factor, std::int64_t clockNanoseconds);
    /// What goes out before `untilClock` and has not been given yet, in order. To be asked every few milliseconds for a little
    /// more than is over; asked too late it leaves out all but the last tenth of a second.
    std::vector<DueMidi> due (std::int64_t untilClock);

private:
    mix::MidiRate rate;
    std::int64_t startCount;
    time::Rational offset;
    std::optional<time::Rational> toTell; ///< a full message is owed
    bool runs = false;
    time::Rational seconds, factor{ 1 };
    std::int64_t clock = 0, told = 0;
};

/// Linear timecode of a reel for a feeder of its own, on both sides; silent below half and above double speed.
SoundSupply timecodeSupply (const mix::LinearTimecode& code);
} // namespace shutterbeat::play
