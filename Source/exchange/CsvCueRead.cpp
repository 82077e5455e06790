#include "exchange/CsvList.h"
#include "exchange/CsvPut.h"

namespace shutterbeat::exchange
{
namespace
{
const std::vector<csv::Reader<ListedCue>>& cueReaders()
{
    using namespace csv;
    static const std::vector<Reader<ListedCue>> all{
        { "id", text (&ListedCue::id) },
        { "number", text (&ListedCue::number) },
        { "title", text (&ListedCue::title) },
        { "kind", word (&ListedCue::kind, spotting::parseCueKind) },
        { "status", word (&ListedCue::status, spotting::parseCueStatus) },
        { "version", text (&ListedCue::version) },
        { "mood", text (&ListedCue::mood) },
        { "bpm", number (&ListedCue::bpm, "is not a number of beats a minute"), true },
        { "note", text (&ListedCue::note) },
        { "in_place", text (&ListedCue::inPlace) },
        { "out_place", text (&ListedCue::outPlace) },
        { "in_reel", whole (&ListedCue::inReel) },
        { "in_film_frame", whole (&ListedCue::inFilmFrame) },
        { "in_delivered_frame", whole (&ListedCue::inDelivered) },
        { "in_timecode", text (&ListedCue::inTimecode) },
        { "in_feet", text (&ListedCue::inFeet) },
        { "out_reel", whole (&ListedCue::outReel) },
        { "out_film_frame", whole (&ListedCue::outFilmFrame) },
        { "out_delivered_frame", whole (&ListedCue::outDelivered) },
        { "out_timecode", text (&ListedCue::outTimecode) },
        { "out_feet", text (&ListedCue::outFeet) },
        { "length", number (&ListedCue::length), true },
        { "lost", text (&ListedCue::lost) },
        { "edition", text (&ListedCue::edition) },
        { "running", text (&ListedCue::running) },
        { "final_rate", text (&ListedCue::finalRate) },
        { "fill", text (&ListedCue::fill) },
        { "start", text (&ListedCue::start) },
        { "stamped", text (&ListedCue::stamped) },
        { "revision", text (&ListedCue::revision) },
        { "book", text (&ListedCue::book) },
    };
    return all;
}

/// Columns that writeCueList adds for readers and that follow from the others.
bool follows (const std::string& name)
{
    for (const char* known : { "in_clock", "in_clock_exact", "out_clock", "out_clock_exact", "length_exact", "hits" })
        if (name == known)
            return true;
    return false;
}
} // namespace

Result<CueList> readCueList (std::string_view bytes)
{
    auto table = readTable (bytes);
    if (! table)
        return table.error();
    bool hasPlace = false;
    for (const char* name : { "in_place", "in_film_frame", "in_delivered_frame", "in_timecode", "in_feet" })
        hasPlace = hasPlace || table->column (name);
    if (! hasPlace)
        return unreadable ("table", "has no column that says where a cue begins; name one in_place, in_film_frame, "
                                    "in_delivered_frame, in_timecode or in_feet");
    auto rows = csv::rowsOf (*table, cueReaders());
    std::erase_if (rows.notUsed, follows);
    return CueList{ table->look, std::move (rows.rows), std::move (rows.bad), std::move (rows.notUsed), std::move (rows.columns) };
}
} // namespace shutterbeat::exchange
