#include "exchange/MidiRead.h"

#include "exchange/PlainText.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
/// Bytes with an end that is never passed.
class Bytes
{
public:
    explicit Bytes (std::string_view all)
        : rest (all)
    {
    }

    [[nodiscard]] std::size_t left() const { return rest.size(); }
    [[nodiscard]] int peek() const { return rest.empty() ? -1 : static_cast<unsigned char> (rest[0]); }

    std::string_view take (std::size_t count)
    {
        count = std::min (count, rest.size());
        const auto taken = rest.substr (0, count);
        rest.remove_prefix (count);
        return taken;
    }

    /// Big-endian; nothing when there are not so many bytes.
    std::optional<std::int64_t> number (std::size_t count)
    {
        if (rest.size() < count)
            return {};
        std::int64_t value = 0;
        for (const char c : take (count))
            value = value << 8 | static_cast<unsigned char> (c);
        return value;
    }

    /// A variable-length number of four bytes at most; nothing when it goes on or breaks off.
    std::optional<std::int64_t> variable()
    {
        std::int64_t value = 0;
        for (int i = 0; i < 4; ++i)
        {
            const auto byte = number (1);
            if (! byte)
                return {};
            value = value << 7 | (*byte & 0x7F);
            if ((*byte & 0x80) == 0)
                return value;
        }
        return {};
    }

private:
    std::string_view rest;
};

class Track
{
public:
    Track (MidiReading& into, int number, std::string_view body)
        : reading (into)
        , track (number)
        , bytes (body)
    {
    }

    void read()
    {
        reading.trackNames.emplace_back();
        while (bytes.left() > 0)
        {
            const auto delta = bytes.variable();
            if (! delta)
                return warn ("a time that breaks off or is longer than four bytes");
            tick += *delta;
            reading.lastTick = std::max (reading.lastTick, tick);
            if (bytes.left() == 0)
                return warn ("a time with no event after it");
            if (const auto wrong = event(); ! wrong.empty())
                return warn (wrong);
            if (ended)
                return;
        }
        warn ("no end-of-track event");
    }

private:
    void warn (const std::string& what)
    {
        // A broken file says each thing once a track, not once an event.
        const std::string text = "track " + std::to_string (track + 1) + ", tick " + std::to_string (tick) + ": " + what;
        reading.warnings.push_back (text);
    }

    /// Reads one event; answers why the track can't be read on, or nothing.
    std::string event()
    {
        const int first = bytes.peek();
        if (first == 0xFF)
        {
            bytes.take (1);
            return meta();
        }
        if (first == 0xF0 || first == 0xF7)
        {
            bytes.take (1);
            const auto length = bytes.variable();
            if (! length || static_cast<std::size_t> (*length) > bytes.left())
                return "a system exclusive event that breaks off";
            bytes.take (static_cast<std::size_t> (*length));
            afterMeta = true;
            return "";
        }
        if (first >= 0xF0)
            return "a status byte that has no place in a file";
        if (first >= 0x80)
        {
            status = first;
            bytes.take (1);
        }
        else if (status == 0)
            return "a data byte before any status byte";
        else if (afterMeta && ! saidRunning)
        {
            warn ("data bytes right after a meta or exclusive event are taken as running status, which the format cancels there");
            saidRunning = true;
        }
        afterMeta = false;
        const int kind = status & 0xF0;
        const auto data = bytes.take (kind == 0xC0 || kind == 0xD0 ? 1 : 2);
        if (data.size() < (kind == 0xC0 || kind == 0xD0 ? 1u : 2u))
            return "a channel event that breaks off";
        for (const char c : data)
            if ((c & 0x80) != 0)
                return "a channel event with a status byte among its data";
        if (kind == 0x80 || kind == 0x90)
            reading.notes.push_back ({ tick, 0, status & 0x0F, data[0], data[1], kind == 0x90 && data[1] != 0, track });
        return "";
    }

    std::string meta()
    {
        const auto type = bytes.number (1);
        const auto length = bytes.variable();
        if (! type || ! length || static_cast<std::size_t> (*length) > bytes.left())
            return "a meta event that breaks off";
        const auto data = bytes.take (static_cast<std::size_t> (*length));
        afterMeta = true;
        Bytes fields (data);
        switch (*type)
        {
        case 0x03:
            reading.trackNames.back() = fromUtf8OrLatin1 (data);
            break;
        case 0x06:
            reading.markers.push_back ({ tick, 0, fromUtf8OrLatin1 (data), track });
            break;
        case 0x07:
            reading.cuePoints.push_back ({ tick, 0, fromUtf8OrLatin1 (data), track });
            break;
        case 0x2F:
            ended = true;
            break;
        case 0x51:
            if (const auto micros = fields.number (3); micros && *micros > 0)
                reading.tempos.push_back ({ tick, 0, *micros });
            else
                warn ("a tempo that says nothing; it is left out");
            break;
        case 0x54:
            if (data.size() < 5)
                warn ("an SMPTE offset that is too short; it is left out");
            else
            {
                reading.smpteOffset.emplace();
                std::transform (data.begin(), data.begin() + 5, reading.smpteOffset->begin(),
                                [] (char c) { return static_cast<unsigned char> (c); });
            }
            break;
        case 0x58:
            if (data.size() >= 2 && data[0] > 0 && data[1] >= 0 && data[1] < 16)
                reading.meters.push_back ({ tick, data[0], 1 << data[1] });
            else
                warn ("a meter that says nothing; it is left out");
            break;
        default:
            break;
        }
        return "";
    }

    MidiReading& reading;
    int track;
    Bytes bytes;
    std::int64_t tick = 0;
    int status = 0;
    bool afterMeta = false, saidRunning = false, ended = false;
};

/// Exact seconds of ticks through the tempos of the file.
class Clock
{
public:
    explicit Clock (MidiReading& of)
        : reading (of)
    {
        auto& tempos = reading.tempos;
        std::stable_sort (tempos.begin(), tempos.end(), [] (const MidiTempo& a, const MidiTempo& b) { return a.tick < b.tick; });
        // Tempos that another on the same tick replaces must not count.
        for (auto& tempo : tempos)
            tempo.seconds = at (tempo.tick, static_cast<std::size_t> (&tempo - tempos.data()));
    }

    [[nodiscard]] time::Rational at (std::int64_t tick) const
    {
        const auto after = std::upper_bound (reading.tempos.begin(), reading.tempos.end(), tick,
                                             [] (std::int64_t asked, const MidiTempo& t) { return asked < t.tick; });
        return at (tick, static_cast<std::size_t> (after - reading.tempos.begin()));
    }

private:
    /// Through the last of the first `known` tempos, whose seconds are known.
    [[nodiscard]] time::Rational at (std::int64_t tick, std::size_t known) const
    {
        const MidiTempo base = known > 0 ? reading.tempos[known - 1] : MidiTempo{};
        if (reading.division < 0)
        {
            // Ticks of a timecode frame: 24, 25, 29 (drop-frame 29.97) or 30 frames a second; tempos mean nothing.
            const int frames = -static_cast<signed char> (reading.division >> 8 & 0xFF), ticks = reading.division & 0xFF;
            const auto rate = frames == 29 ? time::Rational (30000, 1001) : time::Rational (frames);
            return time::Rational (tick) / (rate * time::Rational (ticks));
        }
        return base.seconds
               + time::Rational (tick - base.tick) * time::Rational (base.microsPerQuarter, 1'000'000) / reading.division;
    }

    MidiReading& reading;
};
} // namespace

Result<MidiReading> readMidiFile (std::string_view all)
{
    Bytes bytes (all);
    const auto notMidi = [] (const std::string& why) { return unreadable ("MIDI file", why); };
    if (bytes.take (4) != "MThd")
        return notMidi ("does not begin with MThd: not a Standard MIDI File");
    const auto length = bytes.number (4);
    const auto format = bytes.number (2), tracks = bytes.number (2), division = bytes.number (2);
    if (! length || *length < 6 || ! format || ! tracks || ! division)
        return notMidi ("has a header that breaks off");
    bytes.take (static_cast<std::size_t> (*length) - 6);
    MidiReading reading;
    reading.format = static_cast<int> (*format);
    reading.division = static_cast<int> (*division) - ((*division & 0x8000) != 0 ? 0x10000 : 0);
    if (*division == 0 || (reading.division < 0 && (*division & 0xFF) == 0))
        return notMidi ("has a resolution of no ticks");
    int track = 0;
    while (bytes.left() >= 8)
    {
        const auto name = bytes.take (4);
        const auto size = static_cast<std::size_t> (*bytes.number (4));
        if (size > bytes.left())
            reading.warnings.push_back ("the file breaks off inside a chunk that should have " + std::to_string (size) + " bytes");
        const auto body = bytes.take (size);
        if (name == "MTrk")
            Track (reading, track++, body).read();
    }
    if (track != *tracks)
        reading.warnings.push_back ("the header says " + std::to_string (*tracks) + " tracks, there are " + std::to_string (track));
    const Clock clock (reading);
    for (auto* texts : { &reading.markers, &reading.cuePoints })
    {
        std::stable_sort (texts->begin(), texts->end(), [] (const MidiText& a, const MidiText& b) { return a.tick < b.tick; });
        for (auto& text : *texts)
            text.seconds = clock.at (text.tick);
    }
    for (auto& note : reading.notes)
        note.seconds = clock.at (note.tick);
    return reading;
}
} // namespace shutterbeat::exchange
