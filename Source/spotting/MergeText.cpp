#include "spotting/MergeText.h"

#include "spotting/Times.h"

namespace shutterbeat::spotting
{
std::string valueText (const std::string& value)
{
    return value.empty() ? "(none)" : "\"" + value + "\"";
}

std::string valueText (bool value)
{
    return value ? "yes" : "no";
}

std::string valueText (int value)
{
    return std::to_string (value);
}

std::string valueText (std::int64_t value)
{
    return std::to_string (value);
}

std::string valueText (double value)
{
    return std::to_string (static_cast<int> (value * 1000 + 0.5)) + "/1000";
}

std::string valueText (const time::Rational& value)
{
    return time::fractionText (value);
}

std::string valueText (const film::Place& value)
{
    const auto use = [] (int instance) { return instance == 0 ? "" : ", use " + std::to_string (instance + 1); };
    if (const auto* picture = std::get_if<film::PicturePlace> (&value))
        return "film frame " + std::to_string (picture->filmFrame) + " of print " + picture->print + use (picture->instance);
    if (const auto* edge = std::get_if<film::EdgePlace> (&value))
        return std::string (edge->edge == film::Edge::head ? "head" : "tail") + " of shot " + edge->shot
               + film::offsetText (edge->offset) + use (edge->instance);
    const auto& outside = std::get<film::OutsidePlace> (value);
    return time::fractionText (outside.seconds) + " s from picture " + (outside.afterEnd ? "end" : "start");
}

std::string valueText (const film::Delivery& value)
{
    return time::rateName (value.rate) + ", " + film::fillName (value.from);
}

std::string valueText (const time::Gauge& value)
{
    return value.name;
}

std::string valueText (const BarOne& value)
{
    const auto away = value.seconds.sign() == 0 ? "" : " and " + time::fractionText (value.seconds) + " s";
    if (! value.hit.empty())
        return "hit " + value.hit + away;
    return (value.place ? valueText (*value.place) : std::string ("the cue's in")) + away;
}

std::string valueText (const SoundPlace& value)
{
    return time::fractionText (value.seconds) + " s from "
           + (value.cue.empty() ? "picture start of reel " + std::to_string (value.reel + 1) : "the in of cue " + value.cue);
}

std::string valueText (const MadeFor& value)
{
    return "edition " + value.edition + " at " + valueText (value.delivery);
}

std::string valueText (const music::TempoMap& value)
{
    const auto& plan = value.plan();
    Cue cue;
    cue.tempo = value;
    return tempoText (cue) + ", " + std::to_string (plan.tempos.size()) + " tempo(s), " + std::to_string (plan.meters.size())
           + " meter(s), " + std::to_string (plan.stretches.size()) + " hold(s)";
}

std::string valueText (const std::vector<Interest>& value)
{
    std::string text;
    for (const auto& interest : value)
        text += (text.empty() ? "" : "; ") + interest.name + " " + interest.role + " " + time::fractionText (interest.share);
    return text.empty() ? "(none)" : text;
}

std::string valueText (const std::vector<film::ScannedShot>& value)
{
    return std::to_string (value.size()) + " shots of the scan";
}

std::string valueText (const film::ReelFile& value)
{
    return "a file of " + std::to_string (value.cadence.fileFrames()) + " frames, " + value.cadenceSaid;
}

std::string valueText (const std::vector<film::ReelFile>& value)
{
    return std::to_string (value.size()) + " file(s)";
}

std::string valueText (HitKind value)
{
    return std::string (hitKindName (value));
}

std::string valueText (Weight value)
{
    return std::string (weightName (value));
}

std::string valueText (CueKind value)
{
    return std::string (cueKindName (value));
}

std::string valueText (CueStatus value)
{
    return std::string (cueStatusName (value));
}

std::string valueText (SoundKind value)
{
    return std::string (soundKindName (value));
}

std::string valueText (PlacedBy value)
{
    return std::string (placedByName (value));
}

std::string valueText (ShareSum value)
{
    return value == ShareSum::apart ? "writers 100 and publishers 100" : "all of them 100";
}

std::string valueText (Answer value)
{
    return std::string (answerName (value));
}

std::string valueText (film::ShotKind value)
{
    return std::string (film::shotKindName (value));
}
} // namespace shutterbeat::spotting
