#include "exchange/OtioFile.h"

#include "exchange/PlainText.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::exchange
{
namespace
{
using Json = nlohmann::ordered_json;

class TimelineWriter
{
public:
    TimelineWriter (const spotting::BookTimes& bookTimes, const ListHead& listHead)
        : times (bookTimes)
        , head (listHead)
        , timings (bookTimes.timings)
        , rate (time::toDouble (timings.delivery().rate.perSecond))
    {
    }

    Json timeline (std::size_t reel)
    {
        Json markers = Json::array();
        for (const auto& row : times.cues)
            if (row.in && row.in->reel == reel)
                markers.push_back (cueMarker (row));
        for (const auto& row : times.hits)
            if (row.at && row.at->reel == reel)
                markers.push_back (hitMarker (row));
        Json about{ { "edition", timings.edition().letter },
                    { "basis", spotting::basisText (timings) },
                    { "start", timings.timecodeOf (0, reel) },
                    { "stamped", head.stamped },
                    { "revision", head.revision } };
        if (reel + 1 == timings.reelCount())
            about["lost"] = lost();
        const std::string name = timings.reelCount() > 1 ? head.title + ", reel " + std::to_string (reel + 1) : head.title;
        return { { "OTIO_SCHEMA", "Timeline.1" },
                 { "name", text (name) },
                 { "global_start_time", moment (timings.startCount (reel)) },
                 { "tracks", item ("Stack.1", "tracks", std::move (markers), { { "children", Json::array ({ track (reel) }) } }) },
                 { "metadata", { { "shutterbeat", std::move (about) } } } };
    }

private:
    static std::string text (const std::string& words) { return fromUtf8OrLatin1 (words); }

    [[nodiscard]] Json moment (std::int64_t frames) const
    {
        return { { "OTIO_SCHEMA", "RationalTime.1" }, { "rate", rate }, { "value", static_cast<double> (frames) } };
    }

    [[nodiscard]] Json range (std::int64_t first, std::int64_t length) const
    {
        return { { "OTIO_SCHEMA", "TimeRange.1" }, { "start_time", moment (first) }, { "duration", moment (length) } };
    }

    static Json item (const char* schema, const std::string& name, Json markers, const Json& more,
                      const Json& metadata = Json::object())
    {
        Json json{ { "OTIO_SCHEMA", schema },    { "name", name },
                   { "source_range", nullptr },  { "enabled", true },
                   { "effects", Json::array() }, { "markers", std::move (markers) } };
        for (const auto& [key, value] : more.items())
            json[key] = value;
        json["metadata"] = metadata;
        return json;
    }

    Json track (std::size_t reel)
    {
        const auto& edition = timings.edition();
        const auto end = reel + 1 < edition.reels.size() ? edition.reels[reel + 1].firstShot : edition.shots.size();
        const auto start = timings.startCount (reel);
        Json clips = Json::array();
        for (std::size_t i = edition.reels[reel].firstShot; i < end; ++i)
        {
            const auto& shot = edition.shots[i];
            const auto in = timings.times (timings.shotHead (i)).delivered;
            const auto out = i + 1 < end ? timings.times (timings.shotHead (i + 1)).delivered : timings.deliveredLength (reel);
            if (out <= in)
                continue; // no delivered frame shows it
            const Json media{ { "OTIO_SCHEMA", "MissingReference.1" },
                              { "name", "delivered picture" },
                              { "available_range", range (start, timings.deliveredLength (reel)) },
                              { "metadata", Json::object() } };
            clips.push_back (item ("Clip.2", text (shot.name), Json::array(),
                                   { { "source_range", range (start + in, out - in) },
                                     { "media_references", { { "DEFAULT_MEDIA", media } } },
                                     { "active_media_reference_key", "DEFAULT_MEDIA" } },
                                   { { "shutterbeat",
                                       { { "id", shot.id },
                                         { "kind", std::string (film::shotKindName (shot.kind)) },
                                         { "wording", text (shot.wording) } } } }));
        }
        return item ("Track.1", "picture", Json::array(), { { "children", std::move (clips) }, { "kind", "Video" } });
    }

    static Json marker (const std::string& name, const char* colour, Json markedRange, Json metadata)
    {
        return { { "OTIO_SCHEMA", "Marker.2" },
                 { "name", text (name) },
                 { "color", colour },
                 { "marked_range", std::move (markedRange) },
                 { "metadata", { { "shutterbeat", std::move (metadata) } } } };
    }

    [[nodiscard]] Json hitMarker (const spotting::HitTimes& row) const
    {
        const auto& hit = row.hit;
        const std::string kind (spotting::hitKindName (hit.kind));
        return marker (hit.label.empty() ? kind : hit.label, "GREEN", range (row.at->delivered, 0), hitFacts (row));
    }

    [[nodiscard]] Json hitFacts (const spotting::HitTimes& row) const
    {
        const auto& hit = row.hit;
        return { { "hit", hit.id },
                 { "kind", std::string (spotting::hitKindName (hit.kind)) },
                 { "weight", std::string (spotting::weightName (hit.weight)) },
                 { "label", text (hit.label) },
                 { "lead", time::fractionText (hit.lead) },
                 { "cue", hit.cue },
                 { "agreed", hit.agreed },
                 { "note", text (hit.note) },
                 { "place", row.place },
                 { "not_shown", row.at && row.at->notShown } };
    }

    [[nodiscard]] Json cueMarker (const spotting::CueTimes& row) const
    {
        const auto length = row.out && row.out->reel == row.in->reel ? row.out->delivered - row.in->delivered : 0;
        return marker (cueName (row.cue), "BLUE", range (row.in->delivered, length), cueFacts (row.cue));
    }

    static std::string cueName (const spotting::Cue& cue) { return cue.number + (cue.title.empty() ? "" : " " + cue.title); }

    [[nodiscard]] Json cueFacts (const spotting::Cue& cue) const
    {
        return { { "cue", cue.id },
                 { "number", text (cue.number) },
                 { "title", text (cue.title) },
                 { "kind", std::string (spotting::cueKindName (cue.kind)) },
                 { "in_place", timings.placeText (cue.in) },
                 { "out_place", timings.placeText (cue.out) } };
    }

    [[nodiscard]] Json lost() const
    {
        Json list = Json::array();
        for (const auto& row : times.cues)
            if (! row.in)
                list.push_back (cueFacts (row.cue));
        for (const auto& row : times.hits)
            if (! row.at)
                list.push_back (hitFacts (row));
        return list;
    }

    const spotting::BookTimes& times;
    const ListHead& head;
    const film::Timings& timings;
    double rate;
};
} // namespace

Result<Written> writeOtio (const spotting::BookTimes& times, const ListHead& head)
{
    Written written;
    TimelineWriter writer (times, head);
    const auto reels = times.timings.reelCount();
    for (std::size_t reel = 0; reel < reels; ++reel)
    {
        if (times.timings.deliveredLength (reel) < 1)
            return usageError ("OTIO timeline", "reel " + std::to_string (reel + 1) + " has no delivered frame");
        written.parts.push_back ({ reels > 1 ? "-reel" + std::to_string (reel + 1) : "",
                                   writer.timeline (reel).dump (2, ' ', false, Json::error_handler_t::replace) + "\n" });
    }
    return written;
}
} // namespace shutterbeat::exchange
