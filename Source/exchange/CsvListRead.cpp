#include "exchange/CsvList.h"
#include "exchange/CsvPut.h"

namespace shutterbeat::exchange
{
namespace
{
const std::vector<csv::Reader<ListedHit>>& hitReaders()
{
    using namespace csv;
    static const std::vector<Reader<ListedHit>> all{
        { "id", text (&ListedHit::id) },
        { "cue", text (&ListedHit::cue) },
        { "cue_id", text (&ListedHit::cueId) },
        { "label", text (&ListedHit::label) },
        { "kind", word (&ListedHit::kind, spotting::parseHitKind) },
        { "weight", word (&ListedHit::weight, spotting::parseWeight) },
        { "reel", whole (&ListedHit::reel) },
        { "film_frame", whole (&ListedHit::filmFrame) },
        { "source_frame", whole (&ListedHit::sourceFrame) },
        { "file_frame", whole (&ListedHit::fileFrame) },
        { "delivered_frame", whole (&ListedHit::deliveredFrame) },
        { "timecode", text (&ListedHit::timecode) },
        { "clock", number (&ListedHit::clock), true },
        { "clock_exact", number (&ListedHit::clockExact), true },
        { "from_start", number (&ListedHit::fromStart), true },
        { "from_start_exact", number (&ListedHit::fromStartExact), true },
        { "feet", text (&ListedHit::feet) },
        { "not_shown", yesNo (&ListedHit::notShown) },
        { "lead", amount (&ListedHit::lead), true },
        { "early_ms", milliseconds (&ListedHit::earlyMs) },
        { "late_ms", milliseconds (&ListedHit::lateMs) },
        { "note", text (&ListedHit::note) },
        { "asked_by", text (&ListedHit::askedBy) },
        { "agreed", yesNo (&ListedHit::agreed) },
        { "from_scan", yesNo (&ListedHit::fromScan) },
        { "typed", text (&ListedHit::typed) },
        { "place", text (&ListedHit::place) },
        { "lost", text (&ListedHit::lost) },
        { "edition", text (&ListedHit::edition) },
        { "running", text (&ListedHit::running) },
        { "final_rate", text (&ListedHit::finalRate) },
        { "fill", text (&ListedHit::fill) },
        { "start", text (&ListedHit::start) },
        { "stamped", text (&ListedHit::stamped) },
        { "revision", text (&ListedHit::revision) },
        { "book", text (&ListedHit::book) },
    };
    return all;
}

} // namespace

Result<HitList> readHitList (std::string_view bytes)
{
    auto table = readTable (bytes);
    if (! table)
        return table.error();
    bool hasPlace = false;
    for (const char* name : { "place", "film_frame", "file_frame", "delivered_frame", "timecode", "feet" })
        hasPlace = hasPlace || table->column (name);
    if (! hasPlace)
        return unreadable ("table", "has no column that says where a hit lies; name one place, film_frame, file_frame, "
                                    "delivered_frame, timecode or feet");
    auto rows = csv::rowsOf (*table, hitReaders());
    return HitList{ table->look, std::move (rows.rows), std::move (rows.bad), std::move (rows.notUsed), std::move (rows.columns) };
}
} // namespace shutterbeat::exchange
