#include "exchange/MidiCueFile.h"

#include "exchange/MidiEvents.h"
#include "music/WrittenMap.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;

/// Letters and digits of a cue's number, for a file name.
std::string fileSuffix (const spotting::Cue& cue)
{
    std::string name;
    for (const char c : asciiOnly (cue.number.empty() ? cue.id : cue.number))
        name += (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '.' ? c : '-';
    return "-" + name;
}

/// The position where the music has ended.
Rational endOf (const spotting::CueTimes& row)
{
    const auto& map = *row.cue.tempo;
    if (! row.out || row.out->reel != row.in->reel || row.out->clock <= *row.barOne)
        return 0;
    return map.beatOf (row.out->clock - *row.barOne);
}

Result<std::string> cueFile (const spotting::BookTimes& times, const spotting::CueTimes& row, const ListHead& head,
                             const MidiLook& look, std::vector<std::string>& notes)
{
    const auto& timings = times.timings;
    const auto& map = *row.cue.tempo;
    const auto from = map.start();
    const auto to = endOf (row);
    auto written = mapEvents (map, from, to, look.ticksPerQuarter);
    if (! written)
        return usageError ("cue " + cueName (row.cue), written.error().text());
    std::vector<std::pair<std::int64_t, music::WrittenTempo>> tempos;
    for (const auto& event : *written)
        if (event.type == MidiMeta::tempo)
            tempos.push_back ({ event.tick,
                                { static_cast<unsigned char> (event.data[0]) << 16 | static_cast<unsigned char> (event.data[1]) << 8
                                  | static_cast<unsigned char> (event.data[2]) } });
    const auto ticks = music::TickMap::onTicks (tempos, look.ticksPerQuarter);
    const auto clock = *row.barOne + map.timeOf (from);

    MidiTexts texts (look.plainAscii);
    const auto name = texts (cueName (row.cue));
    std::vector<MidiMeta> events{ { 0, MidiMeta::trackName, name } };
    const auto frames = Rational (timings.startCount (row.in->reel)) + clock * timings.delivery().rate.perSecond;
    if (const auto offset = smpteOffset (frames, timings.delivery().rate))
    {
        events.push_back ({ 0, MidiMeta::offset, std::string (offset->bytes.begin(), offset->bytes.end()) });
        if (! offset->note.empty())
            notes.push_back (offset->note);
        if (frames.sign() < 0)
            notes.push_back ("cue " + name + " begins before midnight of its timecode; its SMPTE offset is on the day before");
    }
    else
        notes.push_back ("final rate " + time::rateName (timings.delivery().rate) + " has no timecode: the MIDI file of cue " + name
                         + " has no SMPTE offset, its tick 0 is " + time::decimalText (clock, 3) + " s after picture start");
    std::string about = spotting::basisText (timings) + ", edition " + timings.edition().letter + ", begins "
                        + time::decimalText (clock, 3) + " s from picture start";
    about += head.stampText();
    events.push_back ({ 0, MidiMeta::text, texts (about) });
    events.insert (events.end(), written->begin(), written->end());
    events.push_back ({ time::roundOf (-from * Rational (look.ticksPerQuarter)), MidiMeta::marker, name });
    for (const auto index : row.hits)
    {
        const auto& hit = times.hits[index];
        if (! hit.at || hit.at->reel != row.in->reel)
            continue;
        const auto label = texts (hitName (hit.hit));
        const auto moment = hit.at->clock + hit.hit.lead - clock;
        if (moment.sign() < 0)
            notes.push_back ("hit \"" + label + "\" comes before the music of its cue " + name + "; it is placed at its start");
        const auto tick = ticks.tickAt (moment);
        if (events.back().type == MidiMeta::cuePoint && events.back().tick == tick)
        {
            events.back().data += " + " + label;
            notes.push_back ("hits on one place are one cue point: \"" + events.back().data + "\"");
        }
        else
            events.push_back ({ tick, MidiMeta::cuePoint, label });
    }
    notes.insert (notes.end(), texts.notes.begin(), texts.notes.end());
    const auto last = time::ceilOf ((std::max (to, from) - from) * Rational (look.ticksPerQuarter));
    return midiFile (std::move (events), name, last, look.ticksPerQuarter);
}
} // namespace

Result<std::vector<MidiMeta>> mapEvents (const music::TempoMap& map, const Rational& from, const Rational& to, int ticksPerQuarter)
{
    const auto steps = music::writtenSteps (map, from, ticksPerQuarter);
    if (! steps)
        return steps.error();
    std::vector<MidiMeta> events;
    const auto tickOf = [&] (const Rational& position) { return time::roundOf ((position - from) * Rational (ticksPerQuarter)); };
    const auto lead = -from;
    if (lead.sign() > 0)
    {
        // A meter event begins a bar: the pickup is a short bar before bar 1.
        if (const auto pickup = music::meterOfLength (lead))
            events.push_back (meterEvent (0, *pickup));
    }
    for (const auto& change : map.plan().meters)
        if (const auto at = map.barStart (change.bar); change.bar == 1 || at <= to)
            events.push_back (meterEvent (tickOf (at), change.meter));
    for (const auto& key : map.plan().keys)
        events.push_back (keyEvent (tickOf (key.bar == 1 ? from : map.barStart (key.bar)), key));
    for (const auto& step : *steps)
        if (step.tick == 0 || step.position <= to)
            events.push_back (tempoEvent (step.tick, step.tempo));
    return events;
}

Result<Written> writeMidiCues (const spotting::BookTimes& times, const ListHead& head, const MidiLook& look, const std::string& cue)
{
    Written written;
    bool known = cue.empty();
    for (const auto& row : times.cues)
    {
        if (! cue.empty() && row.cue.id != cue)
            continue;
        known = true;
        const auto leaveOut = [&] (const std::string& why)
        { written.notes.push_back ("cue " + cueName (row.cue) + " is left out: " + why); };
        if (row.cue.kind == spotting::CueKind::tacet)
            leaveOut ("it is tacet");
        else if (! row.cue.tempo)
            leaveOut ("it has no tempo yet");
        else if (! row.in || ! row.barOne)
            leaveOut ("it has lost its place: " + (row.lost.empty() ? row.barOneLost : row.lost));
        else
        {
            auto bytes = cueFile (times, row, head, look, written.notes);
            if (! bytes)
                return bytes.error();
            auto suffix = fileSuffix (row.cue);
            if (std::any_of (written.parts.begin(), written.parts.end(), [&] (const auto& part) { return part.suffix == suffix; }))
                suffix += "-" + row.cue.id;
            written.parts.push_back ({ cue.empty() ? suffix : "", std::move (*bytes) });
        }
    }
    if (! known)
        return usageError ("cue " + cue, "the book does not have it");
    if (written.parts.empty())
        return usageError ("MIDI file", "no cue has a tempo to write; set one with: shutterbeat tempo BOOK CUE set 96");
    return written;
}
} // namespace shutterbeat::exchange
