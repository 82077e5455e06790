#include "exchange/MidiFile.h"

#include "exchange/MidiEvents.h"
#include "music/WrittenMap.h"
#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
/// Clock seconds that the format can hold: what lies before picture start goes to it, with a note.
time::Rational heldTime (const time::Rational& clock, const std::string& what, std::vector<std::string>& notes)
{
    if (clock.sign() >= 0)
        return clock;
    notes.push_back (what + " lies " + time::decimalText (-clock, 2)
                     + " s before picture start; a MIDI file cannot say that, it is placed at picture start");
    return 0;
}

/// The tempos of a cue from where its music starts up to its out. Error: one the format cannot say.
Result<std::vector<music::TempoFrom>> temposOf (const spotting::CueTimes& row, int ticksPerQuarter, std::vector<std::string>& notes)
{
    const auto in = std::max (row.in->clock, time::Rational (0));
    if (! row.cue.tempo || ! row.barOne)
    {
        notes.push_back ("cue " + cueName (row.cue) + (row.cue.tempo ? " has lost the place of its bar 1" : " has no tempo yet")
                         + "; 120 beats a minute are written");
        return std::vector<music::TempoFrom>{ { in, {} } };
    }
    const auto& map = *row.cue.tempo;
    const auto steps = music::writtenSteps (map, map.start(), ticksPerQuarter);
    if (! steps)
        return usageError ("cue " + cueName (row.cue), steps.error().text());
    std::vector<music::TempoFrom> tempos;
    for (const auto& step : *steps)
    {
        const auto at = *row.barOne + map.timeOf (step.position);
        if (! tempos.empty() && row.out && row.out->reel == row.in->reel && at >= row.out->clock)
            break;
        tempos.push_back ({ at, step.tempo });
    }
    return tempos;
}

/// The tempos of a reel. Error: one the format cannot say.
Result<std::vector<music::TempoFrom>> temposOf (const spotting::BookTimes& times, std::size_t reel, int ticksPerQuarter,
                                                std::vector<std::string>& notes)
{
    std::vector<music::TempoFrom> all;
    for (const auto& row : times.cues)
    {
        if (! row.in || row.in->reel != reel || row.cue.kind == spotting::CueKind::tacet)
            continue;
        const auto tempos = temposOf (row, ticksPerQuarter, notes);
        if (! tempos)
            return tempos.error();
        if (! all.empty() && all.back().seconds == tempos->front().seconds)
            notes.push_back ("cue " + cueName (row.cue) + " begins together with another; its tempo is the one written");
        all.insert (all.end(), tempos->begin(), tempos->end());
    }
    return all;
}

/// The hits of a reel as cue points, those of one tick under all their names.
std::vector<MidiMeta> cuePointsOf (const spotting::BookTimes& times, std::size_t reel, const music::TickMap& map, MidiTexts& texts,
                                   std::vector<std::string>& notes)
{
    std::vector<MidiMeta> points;
    for (const auto& row : times.hits)
    {
        if (! row.at || row.at->reel != reel)
            continue;
        const auto name = texts (hitName (row.hit));
        const auto tick = map.tickAt (heldTime (row.at->clock, "hit \"" + name + "\"", notes));
        if (! points.empty() && points.back().tick == tick)
        {
            points.back().data += " + " + name;
            notes.push_back ("hits on one place are one cue point: \"" + points.back().data + "\"");
        }
        else
            points.push_back ({ tick, MidiMeta::cuePoint, name });
    }
    return points;
}

std::vector<MidiMeta> markersOf (const spotting::BookTimes& times, std::size_t reel, const music::TickMap& map, MidiTexts& texts,
                                 std::vector<std::string>& notes)
{
    std::vector<MidiMeta> markers;
    for (const auto& row : times.cues)
        if (row.in && row.in->reel == reel)
        {
            const auto name = texts (cueName (row.cue));
            markers.push_back ({ map.tickAt (heldTime (row.in->clock, "cue \"" + name + "\"", notes)), MidiMeta::marker, name });
        }
    return markers;
}

Result<std::string> reelFile (const spotting::BookTimes& times, const ListHead& head, const MidiLook& look, std::size_t reel,
                              std::vector<std::string>& notes)
{
    const auto& timings = times.timings;
    const auto tempos = temposOf (times, reel, look.ticksPerQuarter, notes);
    if (! tempos)
        return tempos.error();
    const auto map = music::TickMap::of (*tempos, look.ticksPerQuarter);
    if (! map)
        return map.error();
    MidiTexts texts (look.plainAscii);
    std::string about = spotting::basisText (timings) + ", edition " + timings.edition().letter;
    about += head.stampText();
    // At tick 0 the offset and the meter come before everything that could sound.
    const auto title = texts (head.title);
    std::vector<MidiMeta> events{ { 0, MidiMeta::trackName, title } };
    if (const auto offset = smpteOffset (timings.startCount (reel), timings.delivery().rate))
    {
        events.push_back ({ 0, MidiMeta::offset, std::string (offset->bytes.begin(), offset->bytes.end()) });
        if (! offset->note.empty())
            notes.push_back (offset->note);
    }
    else
        notes.push_back ("final rate " + time::rateName (timings.delivery().rate)
                         + " has no timecode: the MIDI file has no SMPTE offset, its tick 0 is picture start");
    events.push_back (meterEvent (0, {}));
    events.push_back ({ 0, MidiMeta::text, texts (about) });
    for (const auto& step : map->steps())
        events.push_back (tempoEvent (step.tick, step.tempo));
    for (auto& marker : markersOf (times, reel, *map, texts, notes))
        events.push_back (std::move (marker));
    for (auto& point : cuePointsOf (times, reel, *map, texts, notes))
        events.push_back (std::move (point));
    notes.insert (notes.end(), texts.notes.begin(), texts.notes.end());
    return midiFile (std::move (events), title, map->tickAt (timings.clockOf (timings.deliveredLength (reel))),
                     look.ticksPerQuarter);
}
} // namespace

std::string variableLength (std::int64_t number)
{
    std::string bytes (1, static_cast<char> (number & 0x7F));
    while ((number >>= 7) > 0)
        bytes.insert (bytes.begin(), static_cast<char> (0x80 | (number & 0x7F)));
    return bytes;
}

std::optional<SmpteOffset> smpteOffset (const time::Rational& start, const time::Rate& rate)
{
    if (! time::hasTimecode (rate))
        return {};
    const time::Rate carried = time::halfLabelRate (rate);
    const bool half = ! (carried == rate);
    const std::int64_t day = time::labelsPerDay (carried);
    // Hundredths of a frame, rounded once; a full hundred is the next frame.
    const auto hundredths = time::roundOf ((half ? start / time::Rational (2) : start) * time::Rational (100));
    const auto part = ((hundredths % 100) + 100) % 100;
    const std::int64_t count = ((hundredths - part) / 100) % day;
    const std::string label = time::labelOf (count < 0 ? count + day : count, carried).text;
    const auto field = [&] (std::size_t at) { return (label[at] - '0') * 10 + label[at + 1] - '0'; };
    const int labels = time::labelsPerSecond (carried);
    const int code = labels == 24 ? 0 : labels == 25 ? 1 : carried.dropFrame ? 2 : 3;
    SmpteOffset offset;
    offset.bytes = { static_cast<unsigned char> (code << 5 | field (0)), static_cast<unsigned char> (field (3)),
                     static_cast<unsigned char> (field (6)), static_cast<unsigned char> (field (9)),
                     static_cast<unsigned char> (part) };
    if (half)
        offset.note = "MIDI has no timecode at " + time::rateName (rate) + ": the offset is the label at "
                      + time::rateName (carried) + ", " + label
                      + (part == 50 ? " and a half frame"
                         : part > 0 ? " and " + std::to_string (part) + " hundredths of a frame"
                                    : "");
    if (! carried.perSecond.isWhole() && ! carried.dropFrame)
        offset.note += (half ? "; it" : "MIDI has no code for " + time::rateName (rate) + ": the offset") + " is written as "
                       + std::to_string (labels) + " frames a second";
    return offset;
}

Result<Written> writeMidiFile (const spotting::BookTimes& times, const ListHead& head, const MidiLook& look)
{
    Written written;
    for (std::size_t reel = 0; reel < times.timings.reelCount(); ++reel)
    {
        auto bytes = reelFile (times, head, look, reel, written.notes);
        if (! bytes)
            return bytes.error();
        written.parts.push_back ({ times.timings.reelCount() > 1 ? "-reel" + std::to_string (reel + 1) : "", std::move (*bytes) });
    }
    for (const auto& row : times.hits)
        if (! row.at)
            written.notes.push_back ("hit " + hitName (row.hit) + " is lost and not in the MIDI file: " + row.lost);
    for (const auto& row : times.cues)
        if (! row.in)
            written.notes.push_back ("cue " + cueName (row.cue) + " is lost and not in the MIDI file: " + row.lost);
    return written;
}
} // namespace shutterbeat::exchange
