#include "desk/CueTempo.h"

#include "exchange/MidiTempo.h"
#include "exchange/MusicXmlRead.h"
#include "store/WholeFile.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

/// Bars of a cue's music, for comparing: up to its out.
std::int64_t barsOf (const spotting::CueTimes& row, const music::TempoMap& map)
{
    if (! row.length || ! row.barOne)
        return 64;
    return std::clamp<std::int64_t> (map.barBeatOf (map.beatOf (row.out->clock - *row.barOne)).bar, 1, 4000);
}

/// The beat nearest to a position.
Rational nearestBeat (const music::TempoMap& map, const Rational& position)
{
    auto at = map.barBeatOf (position);
    const auto start = position - at.past;
    const auto length = music::beatLengths (map.meterOf (at.bar))[static_cast<std::size_t> (at.beat - 1)];
    return at.past * Rational (2) > length ? start + length : start;
}

void compare (ReadTempo& read, const spotting::CueTimes& row)
{
    if (! row.cue.tempo)
        read.changes.push_back ("the book has no tempo for this cue yet");
    else
        for (const auto& change : exchange::changesBetween (*row.cue.tempo, read.map, barsOf (row, *row.cue.tempo)))
            read.changes.push_back (change);
}
} // namespace

Result<ReadTempo> readTempoFile (const spotting::BookTimes& times, const std::string& cue, const std::string& path,
                                 std::optional<std::int64_t> fileBar)
{
    const auto* row = spotting::cueRow (times, cue);
    if (row == nullptr)
        return usageError ("cue " + cue, "the book does not have it");
    const auto bytes = store::readWhole (path);
    if (! bytes)
        return bytes.error();
    if (bytes->substr (0, 4) != "MThd" && (bytes->find ("<score-") != std::string::npos || bytes->substr (0, 2) == "PK"))
    {
        auto score = exchange::readMusicXml (*bytes);
        if (! score)
            return unreadable (path, score.error().message);
        ReadTempo read{ std::move (score->map), "bar 1 is bar 1 of the score", {}, std::move (score->notes), {} };
        compare (read, *row);
        return read;
    }
    const auto reading = exchange::readMidiFile (*bytes);
    if (! reading)
        return unreadable (path, reading.error().message);
    const auto map = exchange::tempoMapOf (*reading, row->cue.number, row->cue.title, fileBar);
    if (! map)
        return Error{ map.error().code, path, map.error().message + (map.error().code == ErrorCode::usage ? ": --bar N" : "") };
    ReadTempo read{ map->map, "", {}, map->notes, {} };
    read.notes.insert (read.notes.begin(), reading->warnings.begin(), reading->warnings.end());
    read.barOneBy = map->from == exchange::BarOneFrom::marker ? "bar 1 is the marker named as the cue"
                    : map->from == exchange::BarOneFrom::given
                        ? "bar 1 is bar " + std::to_string (*fileBar) + " of the file, as asked"
                        : "bar 1 is the start of the file, placed by its SMPTE offset";
    if (reading->smpteOffset && row->in && time::hasTimecode (times.timings.delivery().rate))
    {
        // The offset is that of tick 0; bar 1 comes later by what lies before it in the file.
        const auto before = map->map.timeOf (0) - map->map.timeOf (Rational (-map->barOneTick, reading->division));
        const auto start = Rational (times.timings.startCount (row->in->reel)) / times.timings.delivery().rate.perSecond;
        auto clock = exchange::offsetSeconds (*reading->smpteOffset) + before - start;
        // An offset of the day before.
        if (clock > Rational (43200))
            clock -= Rational (86400);
        read.fromIn = clock - row->in->clock;
        if (row->barOne)
        {
            const auto off = clock - *row->barOne;
            // The offset says hundredths of a frame.
            if (off > Rational (1, 1000) || off < Rational (-1, 1000))
                read.changes.push_back ("bar 1 lies " + time::decimalText (off.sign() < 0 ? -off : off, 3) + " s "
                                        + (off.sign() < 0 ? "earlier" : "later") + " by the file's SMPTE offset than in the book");
        }
    }
    compare (read, *row);
    return read;
}

Result<SpeedEffect> speedEffect (const spotting::BookTimes& before, const spotting::BookTimes& after, const std::string& cue)
{
    const auto *a = spotting::cueRow (before, cue), *b = spotting::cueRow (after, cue);
    if (a == nullptr || b == nullptr)
        return usageError ("cue " + cue, "the book does not have it");
    const std::string where = "cue " + a->cue.number;
    if (! a->cue.tempo)
        return usageError (where, "has no tempo map that a change could touch");
    for (const auto* row : { a, b })
        if (! row->length || row->length->sign() <= 0 || ! row->barOne)
            return usageError (where, "has lost its place: " + (row->lost.empty() ? row->barOneLost : row->lost));
    const auto& map = *a->cue.tempo;
    const auto factor = *a->length / *b->length;
    auto bars = music::scaled (map, factor);
    if (! bars)
        return usageError (where, bars.error().text());
    SpeedEffect effect{ factor, *a->length, *b->length, *bars, {} };
    for (const auto index : b->hits)
    {
        const auto& now = after.hits[index];
        const auto old =
            std::find_if (before.hits.begin(), before.hits.end(), [&] (const auto& h) { return h.hit.id == now.hit.id; });
        if (! now.at || old == before.hits.end() || ! old->at || old->at->reel != a->in->reel || now.at->reel != b->in->reel)
            continue;
        const auto beat = nearestBeat (map, map.beatOf (old->at->clock + old->hit.lead - *a->barOne));
        const auto wanted = now.at->clock + now.hit.lead - *b->barOne;
        effect.hits.push_back ({ index, map.barBeatOf (beat), map.timeOf (beat) - wanted, bars->timeOf (beat) - wanted });
    }
    return effect;
}
} // namespace shutterbeat::desk
