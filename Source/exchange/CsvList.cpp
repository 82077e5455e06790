#include "exchange/CsvList.h"

#include <algorithm>
#include <map>

namespace shutterbeat::exchange
{
namespace
{
using Cells = std::vector<std::string>;

/// A column: its name and what stands in it.
template <class Row>
struct Column
{
    const char* name;
    std::string (*cell) (const Row& row, const CsvLook& look);
};

struct HitRow
{
    const spotting::HitTimes& hit;
    const spotting::CueTimes* cue;
    std::optional<time::Rational> fromStart;
};

std::string yes (bool holds)
{
    return holds ? "yes" : "no";
}

std::string frame (const std::optional<std::int64_t>& number)
{
    return number ? std::to_string (*number) : "";
}

std::string rounded (const std::optional<time::Rational>& seconds, const CsvLook& look)
{
    return seconds ? roundedNumber (*seconds, 2, look) : "";
}

std::string fraction (const std::optional<time::Rational>& seconds)
{
    return seconds ? time::fractionText (*seconds) : "";
}

/// One field of the times, or an empty cell where there are none.
template <class Take>
std::string ifAt (const std::optional<film::PlaceTimes>& at, Take take)
{
    return at ? take (*at) : std::string();
}

const std::vector<Column<HitRow>> hitColumns{
    { "id", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.id); } },
    { "cue", [] (const HitRow& r, const CsvLook&) { return r.cue != nullptr ? guardedText (r.cue->cue.number) : ""; } },
    { "cue_id", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.cue); } },
    { "label", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.label); } },
    { "kind", [] (const HitRow& r, const CsvLook&) { return std::string (spotting::hitKindName (r.hit.hit.kind)); } },
    { "weight", [] (const HitRow& r, const CsvLook&) { return std::string (spotting::weightName (r.hit.hit.weight)); } },
    { "reel", [] (const HitRow& r, const CsvLook&)
      { return ifAt (r.hit.at, [] (const auto& t) { return std::to_string (t.reel + 1); }); } },
    { "film_frame", [] (const HitRow& r, const CsvLook&)
      { return ifAt (r.hit.at, [] (const auto& t) { return std::to_string (t.filmFrame); }); } },
    { "source_frame",
      [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return frame (t.sourceFrame); }); } },
    { "file_frame",
      [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return frame (t.fileFrame); }); } },
    { "delivered_frame", [] (const HitRow& r, const CsvLook&)
      { return ifAt (r.hit.at, [] (const auto& t) { return std::to_string (t.delivered); }); } },
    { "timecode", [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return t.timecode; }); } },
    { "clock", [] (const HitRow& r, const CsvLook& look)
      { return ifAt (r.hit.at, [&] (const auto& t) { return rounded (t.clock, look); }); } },
    { "clock_exact",
      [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return fraction (t.clock); }); } },
    { "from_start", [] (const HitRow& r, const CsvLook& look) { return rounded (r.fromStart, look); } },
    { "from_start_exact", [] (const HitRow& r, const CsvLook&) { return fraction (r.fromStart); } },
    { "feet",
      [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return guardedText (t.feet); }); } },
    { "not_shown",
      [] (const HitRow& r, const CsvLook&) { return ifAt (r.hit.at, [] (const auto& t) { return yes (t.notShown); }); } },
    { "lead", [] (const HitRow& r, const CsvLook& look) { return exactNumber (r.hit.hit.lead, look); } },
    { "early_ms", [] (const HitRow& r, const CsvLook&) { return std::to_string (r.hit.hit.earlyMs); } },
    { "late_ms", [] (const HitRow& r, const CsvLook&) { return std::to_string (r.hit.hit.lateMs); } },
    { "note", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.note); } },
    { "asked_by", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.askedBy); } },
    { "agreed", [] (const HitRow& r, const CsvLook&) { return yes (r.hit.hit.agreed); } },
    { "from_scan", [] (const HitRow& r, const CsvLook&) { return yes (r.hit.hit.fromScan); } },
    { "typed", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.hit.typed); } },
    { "place", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.place); } },
    { "lost", [] (const HitRow& r, const CsvLook&) { return guardedText (r.hit.lost); } },
};

/// The columns about the list, the same on every line.
Cells basisNames()
{
    return { "edition", "running", "final_rate", "fill", "start", "stamped", "book", "revision" };
}

Cells basisCells (const spotting::BookTimes& times, const ListHead& head, std::size_t reel)
{
    const auto& timings = times.timings;
    const auto& edition = timings.edition();
    std::string running = time::speedName (edition.speed);
    for (const auto& shot : edition.shots)
        if (! shot.made && film::speedOf (edition, shot) != edition.speed)
            running = "several";
    // A rate without timecode has no label for its start.
    return { guardedText (edition.letter),
             running,
             time::rateName (timings.delivery().rate),
             film::fillName (timings.delivery().from),
             guardedText (timings.timecodeOf (0, reel)),
             guardedText (head.stamped),
             guardedText (head.title),
             guardedText (head.revision) };
}

void append (Cells& cells, const Cells& more)
{
    cells.insert (cells.end(), more.begin(), more.end());
}

Cells endNames (const std::string& end)
{
    Cells names;
    for (const char* name : { "reel", "film_frame", "delivered_frame", "timecode", "clock", "clock_exact", "feet" })
        names.push_back (end + "_" + name);
    return names;
}

Cells endCells (const std::optional<film::PlaceTimes>& at, const CsvLook& look)
{
    if (! at)
        return Cells (7);
    return { std::to_string (at->reel + 1),      std::to_string (at->filmFrame), std::to_string (at->delivered), at->timecode,
             roundedNumber (at->clock, 2, look), time::fractionText (at->clock), guardedText (at->feet) };
}
} // namespace

namespace
{
/// The records with the columns that were chosen, in that order.
Result<Written> withColumns (const std::vector<Cells>& records, const std::vector<std::string>& columns, const CsvLook& look)
{
    if (columns.empty())
        return Written{ { { "", writeTable (records, look) } }, {} };
    const auto& names = records[0];
    std::vector<std::size_t> chosen;
    for (const auto& column : columns)
    {
        const auto at = static_cast<std::size_t> (std::find (names.begin(), names.end(), column) - names.begin());
        if (at == names.size())
        {
            std::string all;
            for (const auto& name : names)
                all += (all.empty() ? "" : ", ") + name;
            return usageError ("column \"" + column + "\"", "is not in this list; it has " + all);
        }
        if (std::find (chosen.begin(), chosen.end(), at) != chosen.end())
            return usageError ("column " + column, "is named twice");
        chosen.push_back (at);
    }
    std::vector<Cells> fewer;
    for (const auto& record : records)
    {
        Cells cells;
        for (const auto at : chosen)
            cells.push_back (record[at]);
        fewer.push_back (std::move (cells));
    }
    return Written{ { { "", writeTable (fewer, look) } }, {} };
}

Cells hitNames()
{
    Cells names;
    for (const auto& column : hitColumns)
        names.push_back (column.name);
    append (names, basisNames());
    return names;
}

Cells cueNames()
{
    Cells names{ "id", "number", "title", "kind", "status", "version", "mood", "bpm", "note", "in_place", "out_place" };
    append (names, endNames ("in"));
    append (names, endNames ("out"));
    append (names, { "length", "length_exact", "hits", "lost" });
    append (names, basisNames());
    return names;
}

std::vector<Cells> hitRecords (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look)
{
    std::map<std::string, const spotting::CueTimes*> cues;
    for (const auto& cue : times.cues)
        cues.emplace (cue.cue.id, &cue);
    std::vector<Cells> records{ hitNames() };
    for (const auto& hit : times.hits)
    {
        const auto named = cues.find (hit.hit.cue);
        const auto* cue = named != cues.end() ? named->second : nullptr;
        const HitRow row{ hit, cue, cue != nullptr ? spotting::fromCueStart (*cue, hit) : std::nullopt };
        Cells cells;
        for (const auto& column : hitColumns)
            cells.push_back (column.cell (row, look));
        append (cells, basisCells (times, head, hit.at ? hit.at->reel : 0));
        records.push_back (std::move (cells));
    }
    return records;
}

std::vector<Cells> cueRecords (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look)
{
    std::vector<Cells> records{ cueNames() };
    for (const auto& row : times.cues)
    {
        const auto& cue = row.cue;
        Cells cells{ guardedText (cue.id),
                     guardedText (cue.number),
                     guardedText (cue.title),
                     std::string (spotting::cueKindName (cue.kind)),
                     std::string (spotting::cueStatusName (cue.status)),
                     guardedText (cue.version),
                     guardedText (cue.mood),
                     cue.tempo ? exactNumber (cue.tempo->opening().beatsPerMinute, look) : "",
                     guardedText (cue.note),
                     guardedText (times.timings.placeText (cue.in)),
                     guardedText (times.timings.placeText (cue.out)) };
        append (cells, endCells (row.in, look));
        append (cells, endCells (row.out, look));
        append (cells,
                { rounded (row.length, look), fraction (row.length), std::to_string (row.hits.size()), guardedText (row.lost) });
        append (cells, basisCells (times, head, row.in ? row.in->reel : 0));
        records.push_back (std::move (cells));
    }
    return records;
}
} // namespace

std::vector<std::string> hitListColumns()
{
    return hitNames();
}

std::vector<std::string> cueListColumns()
{
    return cueNames();
}

Written writeHitList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look)
{
    return { { { "", writeTable (hitRecords (times, head, look), look) } }, {} };
}

Written writeCueList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look)
{
    return { { { "", writeTable (cueRecords (times, head, look), look) } }, {} };
}

Result<Written> writeHitList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look,
                              const std::vector<std::string>& columns)
{
    return withColumns (hitRecords (times, head, look), columns, look);
}

Result<Written> writeCueList (const spotting::BookTimes& times, const ListHead& head, const CsvLook& look,
                              const std::vector<std::string>& columns)
{
    return withColumns (cueRecords (times, head, look), columns, look);
}
} // namespace shutterbeat::exchange
