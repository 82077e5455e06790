#pragma once

#include "time/Rate.h"

#include <cstdint>
#include <string>
#include <string_view>

namespace shutterbeat::time
{
/// A timecode label: the name of a frame, not a time (SMPTE ST 12-1). Integer arithmetic only.
struct Label
{
    std::string text;      ///< hh:mm:ss:ff, with a semicolon before ff for drop-frame
    std::int64_t days = 0; ///< whole label days that were wrapped away: 1 past 24 h, -1 before 0

    /// "00:00:02:00 (+1 day)" when wrapped, else the bare label.
    [[nodiscard]] std::string shown() const;
};

/// Labels in one day: 24 * 3600 * labelsPerSecond, less the dropped ones. 0 for a rate without timecode.
std::int64_t labelsPerDay (const Rate& rate);

/// The label of the count-th frame after 00:00:00:00; counts outside the day wrap. Only when hasTimecode (rate).
Label labelOf (std::int64_t count, const Rate& rate);

/// How strictly a typed or found label is read.
enum class LabelReading
{
    typed, ///< separators must fit the rate
    media  ///< a file's tag: hours up to 99; an unexpected semicolon counts drop-frame where 30 or 60 labels make a second,
           ///< else nothing; either way with a note
};

/// The number of frames from 00:00:00:00 to the label. Takes hh:mm:ss:ff, and ; before ff at drop-frame rates
/// (a colon there is taken too), and the suffix " (+1 day)" that Label::shown() writes.
/// Error: not a label, a field out of range, a label that drop-frame leaves out, a rate without timecode.
Result<Reading<std::int64_t>> parseLabel (std::string_view text, const Rate& rate, LabelReading how = LabelReading::typed);

/// The first label at or after `text` that exists at `rate`: "01:01:00:00" at 29.97df is "01:01:00;02".
/// A frames field that the rate does not have goes to the next second; past midnight it says "(+1 day)", which parseLabel
/// reads. Error: not a label at all.
Result<std::string> nextLegalLabel (std::string_view text, const Rate& rate);

/// At 48, 50, 59.94 and 60 linear timecode and MIDI carry the label of every second frame: this is that rate
/// (24, 25, 29.97, 30); other rates are returned as they are.
Rate halfLabelRate (const Rate& rate);
} // namespace shutterbeat::time
