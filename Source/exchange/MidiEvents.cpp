#include "exchange/MidiEvents.h"

#include "exchange/MidiFile.h"

#include <algorithm>

namespace shutterbeat::exchange
{
std::string bigEndian (std::int64_t number, int bytes)
{
    std::string text;
    for (int shift = 8 * (bytes - 1); shift >= 0; shift -= 8)
        text += static_cast<char> ((number >> shift) & 0xFF);
    return text;
}

std::string midiTrack (const std::vector<MidiMeta>& events)
{
    std::string body;
    std::int64_t at = 0;
    for (const auto& event : events)
    {
        body += variableLength (event.tick - at);
        body += '\xFF';
        body += static_cast<char> (event.type);
        body += variableLength (static_cast<std::int64_t> (event.data.size()));
        body += event.data;
        at = event.tick;
    }
    return "MTrk" + bigEndian (static_cast<std::int64_t> (body.size()), 4) + body;
}

Result<std::string> midiFile (std::vector<MidiMeta> events, const std::string& name, std::int64_t lastTick, int ticksPerQuarter)
{
    std::stable_sort (events.begin(), events.end(), [] (const MidiMeta& a, const MidiMeta& b) { return a.tick < b.tick; });
    const auto last = std::max (lastTick, events.empty() ? 0 : events.back().tick);
    events.push_back ({ last, MidiMeta::end, "" });
    for (std::size_t i = 1; i < events.size(); ++i)
        if (events[i].tick - events[i - 1].tick > 0x0FFFFFFF)
            return usageError ("MIDI file", "cannot say so long a time in so fine a resolution; use fewer ticks a quarter");
    if (last > 0x0FFFFFFF)
        return usageError ("MIDI file", "cannot say so long a time in so fine a resolution; use fewer ticks a quarter");
    return "MThd" + bigEndian (6, 4) + bigEndian (1, 2) + bigEndian (2, 2) + bigEndian (ticksPerQuarter, 2) + midiTrack (events)
           + midiTrack ({ { 0, MidiMeta::trackName, name }, { last, MidiMeta::end, "" } });
}

MidiMeta tempoEvent (std::int64_t tick, const music::WrittenTempo& tempo)
{
    return { tick, MidiMeta::tempo, bigEndian (tempo.microsPerQuarter, 3) };
}

MidiMeta meterEvent (std::int64_t tick, const music::Meter& meter)
{
    int power = 0;
    while ((1 << power) < meter.unit)
        ++power;
    const auto clocks = time::roundOf (music::beatLengths (meter).front() * time::Rational (24));
    return { tick, MidiMeta::meter,
             bigEndian (meter.count, 1) + bigEndian (power, 1) + bigEndian (std::clamp<std::int64_t> (clocks, 1, 255), 1)
                 + bigEndian (8, 1) };
}

MidiMeta keyEvent (std::int64_t tick, const music::KeyChange& key)
{
    return { tick, MidiMeta::key, bigEndian (key.fifths, 1) + bigEndian (key.minor ? 1 : 0, 1) };
}

std::string MidiTexts::operator() (const std::string& text)
{
    std::string line = oneLine (fromUtf8OrLatin1 (text));
    if (line != text)
        notes.push_back ("\"" + line + "\" is written on one line: text in a MIDI file has no line breaks");
    if (! plain)
        return line;
    std::string ascii = asciiOnly (line);
    if (ascii != line)
        notes.push_back ("\"" + line + "\" is written \"" + ascii + "\" in plain ASCII");
    return ascii;
}

std::string cueName (const spotting::Cue& cue)
{
    if (cue.number.empty() || cue.title.empty())
        return cue.number + cue.title;
    return cue.number + " " + cue.title;
}

std::string hitName (const spotting::HitPoint& hit)
{
    return hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
}
} // namespace shutterbeat::exchange
