#include "mix/MidiTimecode.h"

#include "mix/LabelFields.h"

namespace shutterbeat::mix
{
namespace
{
std::uint8_t byteOf (int value)
{
    return static_cast<std::uint8_t> (value);
}

/// Delivered frames a second of the final rate behind it.
time::Rational deliveredRate (const MidiRate& rate)
{
    return rate.labels.perSecond * time::Rational (rate.deliveredPerLabel);
}
} // namespace

Result<MidiRate> midiRateOf (const time::Rate& final)
{
    if (! time::hasTimecode (final))
        return usageError ("MIDI time code", "has no code for " + time::rateName (final)
                                                 + " frames a second; choose a final rate with timecode, such as 24 or 25");
    MidiRate rate;
    rate.labels = time::halfLabelRate (final);
    if (! (rate.labels == final))
    {
        rate.deliveredPerLabel = 2;
        rate.notes.push_back ("at " + time::rateName (final) + " MIDI time code carries every second label, counted at "
                              + time::rateName (rate.labels));
    }
    const int perSecond = time::labelsPerSecond (rate.labels);
    rate.code = perSecond == 24 ? 0 : perSecond == 25 ? 1 : rate.labels.dropFrame ? 2 : 3;
    if (! rate.labels.perSecond.isWhole() && ! rate.labels.dropFrame)
        rate.notes.push_back ("MIDI time code has no code of its own for " + time::rateName (rate.labels) + ": it is sent as "
                              + std::to_string (perSecond) + ", set the receiver to " + time::rateName (rate.labels));
    return rate;
}

std::array<std::uint8_t, 10> midiFullFrame (std::int64_t count, const MidiRate& rate)
{
    const auto label = fieldsOf (count, rate.labels);
    return { 0xF0,
             0x7F,
             0x7F,
             0x01,
             0x01,
             byteOf (rate.code << 5 | label.hours),
             byteOf (label.minutes),
             byteOf (label.seconds),
             byteOf (label.frames),
             0xF7 };
}

std::array<std::uint8_t, 8> midiQuarterFrames (std::int64_t count, const MidiRate& rate)
{
    const auto label = fieldsOf (count, rate.labels);
    return { byteOf (0x00 | (label.frames & 15)),  byteOf (0x10 | label.frames >> 4),
             byteOf (0x20 | (label.seconds & 15)), byteOf (0x30 | label.seconds >> 4),
             byteOf (0x40 | (label.minutes & 15)), byteOf (0x50 | label.minutes >> 4),
             byteOf (0x60 | (label.hours & 15)),   byteOf (0x70 | rate.code << 1 | label.hours >> 4) };
}

std::vector<TimedQuarter> midiQuartersBetween (const MidiRate& rate, std::int64_t startCount, const time::Rational& from,
                                               const time::Rational& to, const time::Rational& offset)
{
    // Quarter q, counted from midnight, comes at (q / 4 * deliveredPerLabel - startCount) / delivered rate + offset.
    const auto perSecond = rate.labels.perSecond * time::Rational (4);
    const auto midnight = time::Rational (startCount) / deliveredRate (rate) - offset;
    std::vector<TimedQuarter> messages;
    const auto end = time::ceilOf ((to + midnight) * perSecond);
    for (auto q = time::ceilOf ((from + midnight) * perSecond); q < end; ++q)
    {
        const std::int64_t piece = ((q % 8) + 8) % 8;
        const auto bytes = midiQuarterFrames ((q - piece) / 4, rate);
        messages.push_back ({ time::Rational (q) / perSecond - midnight, bytes[static_cast<std::size_t> (piece)] });
    }
    return messages;
}

std::int64_t midiCountAt (const MidiRate& rate, std::int64_t startCount, const time::Rational& seconds,
                          const time::Rational& offset)
{
    return time::floorOf ((seconds - offset + time::Rational (startCount) / deliveredRate (rate)) * rate.labels.perSecond);
}
} // namespace shutterbeat::mix
