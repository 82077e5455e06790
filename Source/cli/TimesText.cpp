#include "cli/TimesText.h"

#include "cli/Table.h"

#include <algorithm>

namespace shutterbeat::cli
{
namespace
{
template <class T>
Json orNull (const std::optional<T>& value)
{
    return value ? Json (*value) : Json (nullptr);
}
} // namespace

Json timesJson (const std::optional<film::PlaceTimes>& at)
{
    if (! at)
        return { { "film_frame", nullptr }, { "file_frame", nullptr }, { "delivered_frame", nullptr },
                 { "timecode", nullptr },   { "clock", nullptr },      { "clock_exact", nullptr },
                 { "feet", nullptr } };
    Json json{ { "film_frame", at->filmFrame },
               { "file_frame", orNull (at->fileFrame) },
               { "delivered_frame", at->delivered },
               { "timecode", at->timecode.empty() ? Json (nullptr) : Json (at->timecode) },
               { "clock", time::decimalText (at->clock, 2) },
               { "clock_exact", time::fractionText (at->clock) },
               { "feet", at->feet },
               { "reel", at->reel + 1 },
               { "source_frame", orNull (at->sourceFrame) } };
    if (at->reelFile)
        json["file"] = *at->reelFile + 1;
    if (at->notShown)
        json["not_shown"] = true;
    return json;
}

Json hitJson (const spotting::HitTimes& row)
{
    const auto& hit = row.hit;
    Json json{ { "id", hit.id },
               { "label", hit.label },
               { "kind", std::string (spotting::hitKindName (hit.kind)) },
               { "weight", std::string (spotting::weightName (hit.weight)) } };
    json.update (timesJson (row.at));
    json["place"] = row.place;
    json["lead"] = time::fractionText (hit.lead);
    json["early_ms"] = hit.earlyMs;
    json["late_ms"] = hit.lateMs;
    json["note"] = hit.note;
    json["asked_by"] = hit.askedBy;
    json["agreed"] = hit.agreed;
    json["cue"] = hit.cue;
    if (! hit.typed.empty())
        json["typed"] = hit.typed;
    if (hit.fromScan)
        json["from_scan"] = true;
    if (! row.at)
        json["lost"] = row.lost;
    return json;
}

Json cueJson (const spotting::BookTimes& times, const spotting::CueTimes& row)
{
    const auto& cue = row.cue;
    Json hits = Json::array();
    for (const auto index : row.hits)
    {
        Json hit = hitJson (times.hits[index]);
        const auto from = spotting::fromCueStart (row, times.hits[index]);
        hit["from_start"] = from ? Json (time::decimalText (*from, 2)) : Json (nullptr);
        hit["from_start_exact"] = from ? Json (time::fractionText (*from)) : Json (nullptr);
        hits.push_back (std::move (hit));
    }
    Json json{ { "number", cue.number }, { "title", cue.title }, { "in", timesJson (row.in) }, { "out", timesJson (row.out) } };
    json["length"] = row.length ? Json (time::decimalText (*row.length, 2)) : Json (nullptr);
    json["length_exact"] = row.length ? Json (time::fractionText (*row.length)) : Json (nullptr);
    json["id"] = cue.id;
    json["kind"] = std::string (spotting::cueKindName (cue.kind));
    json["mood"] = cue.mood;
    json["status"] = std::string (spotting::cueStatusName (cue.status));
    json["version"] = cue.version;
    json["note"] = cue.note;
    if (! row.until.empty())
        json["until"] = row.until;
    if (cue.tempo)
    {
        json["beats_per_minute"] = time::fractionText (cue.tempo->opening().beatsPerMinute);
        json["bar_one"] = row.barOne ? Json (time::decimalText (*row.barOne, 3)) : Json (nullptr);
        json["bar_one_exact"] = row.barOne ? Json (time::fractionText (*row.barOne)) : Json (nullptr);
    }
    if (! row.lost.empty())
        json["lost"] = row.lost;
    json["hits"] = std::move (hits);
    return json;
}

Json bookTimesJson (const spotting::BookTimes& times)
{
    const auto& timings = times.timings;
    const auto& delivery = timings.delivery();
    Json hits = Json::array(), cues = Json::array(), reels = Json::array();
    for (const auto& hit : times.hits)
        hits.push_back (hitJson (hit));
    for (const auto& cue : times.cues)
        cues.push_back (cueJson (times, cue));
    for (std::size_t r = 0; r < timings.reelCount(); ++r)
        reels.push_back (
            { { "start_timecode", timings.timecodeOf (0, r).empty() ? Json (nullptr) : Json (timings.timecodeOf (0, r)) },
              { "film_frames", timings.filmTime (r).frames() },
              { "delivered_frames", timings.deliveredLength (r) } });
    return { { "final_rate", time::rateName (delivery.rate) },
             { "rate", time::fractionText (delivery.rate.perSecond) + (delivery.rate.perSecond.isWhole() ? "/1" : "") },
             { "fill", film::fillName (delivery.from) },
             { "edition", timings.edition().letter },
             { "basis", spotting::basisText (timings) },
             { "times", "computed" },
             { "reels", std::move (reels) },
             { "hits", std::move (hits) },
             { "cues", std::move (cues) } };
}

void printHits (const spotting::BookTimes& times, std::ostream& out)
{
    std::vector<std::vector<std::string>> rows;
    const bool reels = times.timings.reelCount() > 1;
    for (const auto& row : times.hits)
    {
        const auto& hit = row.hit;
        std::vector<std::string> cells{ hit.id };
        if (row.at)
        {
            const auto& at = *row.at;
            cells.insert (cells.end(), { std::to_string (at.filmFrame), at.fileFrame ? std::to_string (*at.fileFrame) : "-",
                                         std::to_string (at.delivered), at.timecode.empty() ? "-" : at.timecode,
                                         time::decimalText (at.clock, 2), at.feet });
        }
        else
            cells.insert (cells.end(), { "lost", "-", "-", "-", "-", "-" });
        std::string cue = hit.cue;
        for (const auto& c : times.cues)
            if (c.cue.id == hit.cue)
                cue = c.cue.number;
        std::string label = oneLine (hit.label);
        if (row.at && row.at->notShown)
            label += " [not shown]";
        if (reels && row.at)
            label = "reel " + std::to_string (row.at->reel + 1) + ": " + label;
        cells.insert (cells.end(), { std::string (spotting::hitKindName (hit.kind)),
                                     std::string (spotting::weightName (hit.weight)), hit.agreed ? "agreed" : "open", cue, label });
        rows.push_back (std::move (cells));
    }
    printTable ({ { "hit", false },
                  { "film", true },
                  { "file", true },
                  { "delivered", true },
                  { "timecode", true },
                  { "clock", true },
                  { "feet", true },
                  { "kind", false },
                  { "weight", false },
                  { "state", false },
                  { "cue", false },
                  { "label", false } },
                rows, out);
}

void printCues (const spotting::BookTimes& times, std::ostream& out)
{
    std::vector<std::vector<std::string>> rows;
    const auto label = [] (const std::optional<film::PlaceTimes>& at) {
        return ! at ? std::string ("lost") : at->timecode.empty() ? time::decimalText (at->clock, 2) : at->timecode;
    };
    for (const auto& row : times.cues)
        rows.push_back ({ row.cue.number, row.cue.id, label (row.in), label (row.out),
                          row.length ? time::decimalText (*row.length, 2) : "-", std::string (spotting::cueKindName (row.cue.kind)),
                          std::string (spotting::cueStatusName (row.cue.status)), std::to_string (row.hits.size()),
                          oneLine (row.cue.title), oneLine (row.cue.mood), oneLine (row.until) });
    printTable ({ { "cue", false },
                  { "id", false },
                  { "in", true },
                  { "out", true },
                  { "length", true },
                  { "kind", false },
                  { "status", false },
                  { "hits", true },
                  { "title", false },
                  { "mood", false },
                  { "until the card", false } },
                rows, out);
}
} // namespace shutterbeat::cli
