#include "exchange/OtioRead.h"

#include "exchange/JsonText.h"
#include "exchange/PlainText.h"
#include "time/Text.h"

#include <cmath>
#include <set>

namespace shutterbeat::exchange
{
namespace
{
using TimelineJson = nlohmann::json;
using time::Rational;
constexpr int deepest = 64;

Rational millionths (double value)
{
    return { static_cast<time::Int128> (std::llround (value * 1e6)), 1000000 };
}

const TimelineJson* memberOf (const TimelineJson& json, const char* member)
{
    const auto found = json.find (member);
    return found != json.end() && ! found->is_null() ? &*found : nullptr;
}

/// "Clip" of "Clip.2".
std::string schemaOf (const TimelineJson& json)
{
    const auto name = textOf (json, "OTIO_SCHEMA");
    return name.substr (0, name.rfind ('.'));
}

/// A range in exact seconds.
struct Range
{
    Rational start, duration;
};

/// Where an item lies: a moment t of its own is seconds (t - zero) + at in the timeline, seen from `from` until `to`.
struct Frame
{
    Rational zero, at;
    Rational from, to; ///< of the timeline
    bool bounded = false;
};

class TimelineReader
{
public:
    explicit TimelineReader (OtioTimeline& result)
        : timeline (result)
    {
    }

    /// Exact seconds; none when it is not a time.
    std::optional<Rational> moment (const TimelineJson* json)
    {
        if (json == nullptr || ! json->is_object())
            return {};
        const auto value = json->find ("value"), rate = json->find ("rate");
        if (value == json->end() || rate == json->end() || ! value->is_number() || ! rate->is_number())
            return {};
        const double number = value->get<double>();
        const auto perSecond = rateFromNumber (rate->get<double>());
        if (! perSecond || ! std::isfinite (number) || std::abs (number) > 1e12)
            return {};
        // A rate of 1 with the value 0 says nothing about the timeline's rate.
        if (! rateKnown && *perSecond > Rational (1))
        {
            rateKnown = true;
            timeline.rate = { *perSecond, false };
        }
        const double whole = std::round (number);
        const Rational frames =
            std::abs (number - whole) < 1e-4 ? Rational (static_cast<std::int64_t> (whole)) : millionths (number);
        return frames / *perSecond;
    }

    std::optional<Range> range (const TimelineJson* json)
    {
        if (json == nullptr || ! json->is_object())
            return {};
        const auto start = moment (memberOf (*json, "start_time")), duration = moment (memberOf (*json, "duration"));
        if (! start || ! duration)
            return {};
        return Range{ *start, *duration };
    }

    /// What is seen of an item in its own time; none when its length is not known.
    std::optional<Range> trimmed (const TimelineJson& item, int depth)
    {
        if (depth > deepest || ! item.is_object())
            return {};
        const auto own = range (memberOf (item, "source_range"));
        const auto schema = schemaOf (item);
        if (schema == "Clip" || schema == "Gap")
        {
            const TimelineJson* media = own ? nullptr : mediaOf (item);
            return own ? own : media != nullptr ? range (memberOf (*media, "available_range")) : std::nullopt;
        }
        if (schema != "Stack" && schema != "Track" && schema != "SerializableCollection")
            return own;
        const auto inside = content (item, schema == "Track", depth);
        // Some programs write where the picture starts in a day as the trim of a whole track, which would hide all of it.
        if (own && inside && inside->sign() > 0 && (own->start >= *inside || own->start + own->duration <= Rational (0)))
        {
            note ("the trim of \"" + textOf (item, "name") + "\" shows nothing of what it holds; it is read without");
            return Range{ Rational (0), *inside };
        }
        return own ? own : inside ? std::optional (Range{ Rational (0), *inside }) : std::nullopt;
    }

    /// How long what a track or stack holds is; none when a part of it has no length.
    std::optional<Rational> content (const TimelineJson& item, bool track, int depth)
    {
        Rational length;
        for (const auto& child : childrenOf (item))
        {
            if (schemaOf (child) == "Transition")
                continue;
            const auto inner = trimmed (child, depth + 1);
            if (! inner)
                return {};
            length = track ? length + inner->duration : std::max (length, inner->duration);
        }
        return length;
    }

    void readItem (const TimelineJson& item, const Frame& place, const std::string& path, bool video, std::size_t track, int depth)
    {
        if (depth > deepest)
            return note ("items lie more than " + std::to_string (deepest) + " deep in each other; the inner ones were left out");
        const auto schema = schemaOf (item);
        readMarkers (item, place);
        if (schema == "Clip")
            return readClip (item, place, path, video, track);
        if (schema == "Gap" || schema == "Transition")
            return;
        if (schema != "Stack" && schema != "Track")
            return note ("\"" + textOf (item, "OTIO_SCHEMA") + "\" is not known here; it and what it holds were left out");
        listEffects (item);
        const auto name = textOf (item, "name");
        const std::string inner = path + (path.empty() ? "" : " / ") + (name.empty() ? schema : name);
        const bool isTrack = schema == "Track";
        const bool innerVideo = isTrack && memberOf (item, "kind") != nullptr ? textOf (item, "kind") == "Video" : video;
        Rational at;
        std::size_t number = 0;
        for (const auto& child : childrenOf (item))
        {
            const auto childTrack = depth == 0 ? number : track;
            ++number;
            if (isTrack && schemaOf (child) == "Transition")
                continue;
            const auto seen = trimmed (child, depth + 1);
            if (! seen)
            {
                note ("\"" + textOf (child, "name") + "\" (" + textOf (child, "OTIO_SCHEMA") + ") has no length"
                      + (isTrack ? "; it and what follows it on \"" + name + "\" were left out" : "; it was left out"));
                if (isTrack)
                    return;
                continue;
            }
            Frame frame;
            frame.zero = seen->start;
            frame.at = place.at + at - place.zero;
            frame.from = place.bounded ? std::max (place.from, frame.at) : frame.at;
            frame.to = place.bounded ? std::min (place.to, frame.at + seen->duration) : frame.at + seen->duration;
            frame.bounded = true;
            readItem (child, frame, inner, innerVideo, childTrack, depth + 1);
            at += isTrack ? seen->duration : Rational (0);
        }
    }

    void note (const std::string& text)
    {
        if (said.insert (text).second)
            timeline.notes.push_back (text);
    }

    bool rateKnown = false;

private:
    static const TimelineJson* mediaOf (const TimelineJson& clip)
    {
        if (const auto* all = memberOf (clip, "media_references"); all != nullptr && all->is_object())
            return memberOf (*all, textOf (clip, "active_media_reference_key").c_str());
        return memberOf (clip, "media_reference");
    }

    static const TimelineJson& childrenOf (const TimelineJson& item)
    {
        static const TimelineJson none = TimelineJson::array();
        const auto* children = memberOf (item, "children");
        return children != nullptr && children->is_array() ? *children : none;
    }

    void listEffects (const TimelineJson& item)
    {
        const auto* effects = memberOf (item, "effects");
        if (effects == nullptr || ! effects->is_array())
            return;
        for (const auto& effect : *effects)
            if (const auto schema = schemaOf (effect); schema != "LinearTimeWarp" && schema != "FreezeFrame")
                note ("effect \"" + textOf (effect, "OTIO_SCHEMA") + "\" on \"" + textOf (item, "name") + "\" is not used here");
    }

    /// Sums of many odd rates leave the room of exact fractions.
    void tooFine (const TimelineJson& item)
    {
        note ("\"" + textOf (item, "name")
              + "\" stands among clips of so many different rates that its time can't be told exactly; it was left out");
    }

    void readClip (const TimelineJson& item, const Frame& place, const std::string& path, bool video, std::size_t track)
    {
        listEffects (item);
        if (! place.from.valid() || ! place.to.valid())
            return tooFine (item);
        if (place.to <= place.from)
            return;
        OtioClip clip;
        clip.name = textOf (item, "name");
        clip.path = path;
        if (const auto* media = mediaOf (item); media != nullptr && media->is_object())
            clip.media = textOf (*media, "target_url").empty() ? textOf (*media, "name") : textOf (*media, "target_url");
        clip.track = track;
        clip.video = video;
        clip.start = place.from;
        clip.duration = place.to - place.from;
        clip.sourceStart = place.zero + (place.from - place.at);
        if (! clip.duration.valid() || ! clip.sourceStart.valid())
            return tooFine (item);
        if (const auto* effects = memberOf (item, "effects"); effects != nullptr && effects->is_array())
            for (const auto& effect : *effects)
            {
                const auto* scalar = memberOf (effect, "time_scalar");
                if (schemaOf (effect) == "FreezeFrame")
                    clip.speed = Rational (0);
                else if (schemaOf (effect) == "LinearTimeWarp" && scalar != nullptr && scalar->is_number()
                         && std::abs (scalar->get<double>()) < 1e6)
                    clip.speed = millionths (scalar->get<double>());
            }
        timeline.clips.push_back (std::move (clip));
    }

    void readMarkers (const TimelineJson& item, const Frame& place)
    {
        const auto* markers = memberOf (item, "markers");
        if (markers == nullptr || ! markers->is_array())
            return;
        for (const auto& json : *markers)
        {
            if (! json.is_object() || schemaOf (json) != "Marker")
            {
                note ("\"" + textOf (json, "OTIO_SCHEMA") + "\" among the markers of \"" + textOf (item, "name")
                      + "\" is not known here");
                continue;
            }
            OtioMarker marker;
            marker.name = textOf (json, "name");
            marker.comment = textOf (json, "comment");
            marker.on = textOf (item, "name");
            marker.colour = textOf (json, "color");
            if (const auto* colour = memberOf (json, "color"); colour != nullptr && colour->is_object())
                marker.colour = textOf (*colour, "name");
            const auto marked = range (memberOf (json, "marked_range"));
            if (! marked)
            {
                note ("marker \"" + marker.name + "\" has no time; it was left out");
                continue;
            }
            marker.start = marked->start - place.zero + place.at;
            marker.duration = marked->duration;
            if (! marker.start.valid() || ! marker.duration.valid())
            {
                tooFine (json);
                continue;
            }
            marker.outside = place.bounded && (marker.start < place.from || marker.start >= place.to);
            const auto* metadata = memberOf (json, "metadata");
            const auto* ours = metadata != nullptr ? memberOf (*metadata, "shutterbeat") : nullptr;
            if (ours != nullptr && ours->is_object())
                for (const auto& [key, value] : ours->items())
                {
                    if (value.is_string())
                        marker.ours[key] = value.get<std::string>();
                    else if (value.is_boolean())
                        marker.ours[key] = value.get<bool>() ? "yes" : "no";
                }
            timeline.markers.push_back (std::move (marker));
        }
    }

    OtioTimeline& timeline;
    std::set<std::string> said;
};
} // namespace

Result<time::Rational> rateFromNumber (double number)
{
    if (! std::isfinite (number) || number <= 0 || number > 1e6)
        return unreadable ("rate", "has to be above zero");
    constexpr double near = 0.005;
    Rational best = millionths (number);
    double apart = near;
    for (const int whole : { 24, 30, 48, 60 })
        if (const double off = std::abs (number - whole * 1000.0 / 1001.0); off < apart)
        {
            apart = off;
            best = Rational (whole * 1000, 1001);
        }
    if (const double whole = std::round (number); whole >= 1 && std::abs (number - whole) < apart)
        best = Rational (static_cast<std::int64_t> (whole));
    if (best.sign() <= 0)
        return unreadable ("rate", "has to be above zero");
    return best;
}

Result<OtioTimeline> readOtio (std::string_view bytes)
{
    if (time::startsWith (bytes, "\xEF\xBB\xBF"))
        bytes.remove_prefix (3);
    const auto json = TimelineJson::parse (bytes.begin(), bytes.end(), nullptr, false);
    if (json.is_discarded())
        return unreadable ("OTIO timeline", "is not JSON; a file written by OpenTimelineIO is needed");
    if (! json.is_object())
        return unreadable ("OTIO timeline", "has no timeline in it");
    OtioTimeline timeline;
    TimelineReader reader (timeline);
    timeline.name = textOf (json, "name");
    timeline.globalStart = reader.moment (memberOf (json, "global_start_time"));
    const auto schema = schemaOf (json);
    const TimelineJson* tracks = schema == "Timeline" ? memberOf (json, "tracks") : &json;
    if (tracks == nullptr || ! tracks->is_object()
        || (schema != "Timeline" && schema != "Stack" && schema != "Track" && schema != "Clip"))
        return unreadable ("OTIO timeline", "has no timeline in it: its first schema is \"" + textOf (json, "OTIO_SCHEMA") + "\"");
    Frame frame;
    if (const auto seen = reader.trimmed (*tracks, 0))
    {
        frame.zero = seen->start;
        frame.to = seen->duration;
        // Markers of the whole timeline may lie before or after its pictures; a trim of the outermost stack is a trim.
        frame.bounded = memberOf (*tracks, "source_range") != nullptr;
    }
    reader.readItem (*tracks, frame, "", true, 0, schema == "Timeline" || schema == "Stack" ? 0 : 1);
    if (! reader.rateKnown)
        return unreadable ("OTIO timeline", "holds no time at all, so that its rate is not known");
    return timeline;
}
} // namespace shutterbeat::exchange
