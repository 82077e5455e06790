#include "store/BookFile.h"

#include "store/Cards.h"
#include "store/OrderedJson.h"
#include "store/Recuts.h"
#include "store/Works.h"

namespace shutterbeat::store
{
void addUnknown (OrderedJson& object, const film::Unknown& unknown)
{
    for (const auto& [name, text] : unknown)
    {
        auto value = OrderedJson::parse (text, nullptr, false);
        if (! value.is_discarded() && ! object.contains (name))
            object[name] = std::move (value);
    }
}

namespace
{
using spotting::Book;

OrderedJson fraction (const time::Rational& x)
{
    return time::fractionText (x);
}

OrderedJson placeJson (const film::Place& place)
{
    if (const auto* picture = std::get_if<film::PicturePlace> (&place))
    {
        OrderedJson json{ { "print", picture->print }, { "frame", picture->filmFrame } };
        if (picture->instance != 0)
            json["instance"] = picture->instance;
        return json;
    }
    if (const auto* edge = std::get_if<film::EdgePlace> (&place))
    {
        OrderedJson json{ { "shot", edge->shot }, { "edge", edge->edge == film::Edge::head ? "head" : "tail" } };
        if (const auto* frames = std::get_if<std::int64_t> (&edge->offset))
            json["frames"] = *frames;
        else
            json["seconds"] = fraction (std::get<time::Rational> (edge->offset));
        if (edge->instance != 0)
            json["instance"] = edge->instance;
        return json;
    }
    const auto& outside = std::get<film::OutsidePlace> (place);
    return { { "outside", outside.afterEnd ? "end" : "start" }, { "seconds", fraction (outside.seconds) } };
}

OrderedJson reelJson (const film::ReelFile& reel)
{
    OrderedJson runs = OrderedJson::array();
    for (const auto& run : reel.cadence.runs())
        runs.push_back ({ { "cycle", run.cycle }, { "film_frames", run.filmFrames } });
    OrderedJson json{ { "path", reel.path },
                      { "identity", reel.identity },
                      { "rate", fraction (reel.rate) },
                      { "start_timecode", reel.startLabel },
                      { "width", reel.width },
                      { "height", reel.height },
                      { "cadence", std::move (runs) },
                      { "cadence_said", reel.cadenceSaid } };
    if (! reel.workingCopy.empty())
    {
        json["working_copy"] = reel.workingCopy;
        json["working_copy_identity"] = reel.workingIdentity;
    }
    addUnknown (json, reel.unknown);
    return json;
}

/// Thousandths are all that a strength means; they print the same everywhere.
int permille (double strength)
{
    return static_cast<int> (strength * 1000 + 0.5);
}

OrderedJson printJson (const film::Print& print)
{
    OrderedJson reels = OrderedJson::array();
    for (const auto& reel : print.reels)
        reels.push_back (reelJson (reel));
    OrderedJson json{ { "id", print.id }, { "name", print.name }, { "gauge", print.gauge.name }, { "reels", std::move (reels) } };
    for (const auto& shot : print.scanned)
        json["scanned"].push_back ({ { "first", shot.first },
                                     { "end", shot.end },
                                     { "kind", std::string (film::shotKindName (shot.kind)) },
                                     { "strength_permille", permille (shot.strength) } });
    addUnknown (json, print.unknown);
    return json;
}

OrderedJson shotJson (const film::Shot& shot)
{
    OrderedJson json{ { "id", shot.id }, { "name", shot.name }, { "kind", std::string (film::shotKindName (shot.kind)) } };
    if (shot.made)
        json["made_seconds"] = fraction (*shot.made);
    else
    {
        json["print"] = shot.print;
        json["first"] = shot.first;
        json["end"] = shot.end;
    }
    if (shot.speed)
        json["running_speed"] = fraction (*shot.speed);
    if (! shot.wording.empty())
        json["wording"] = shot.wording;
    if (shot.remade)
        json["remade"] = true;
    if (! shot.reason.empty())
        json["reason"] = shot.reason;
    json["strength_permille"] = permille (shot.strength);
    if (shot.locked)
        json["locked"] = true;
    addUnknown (json, shot.unknown);
    return json;
}

OrderedJson editionJson (const film::Edition& edition)
{
    OrderedJson reels = OrderedJson::array();
    for (const auto& reel : edition.reels)
        reels.push_back ({ { "first_shot", reel.firstShot }, { "start_timecode", reel.startLabel } });
    OrderedJson shots = OrderedJson::array();
    for (const auto& shot : edition.shots)
        shots.push_back (shotJson (shot));
    OrderedJson json{ { "letter", edition.letter },
                      { "parent", edition.parent },
                      { "running_speed", fraction (edition.speed) },
                      { "reels", std::move (reels) },
                      { "shots", std::move (shots) } };
    addUnknown (json, edition.unknown);
    return json;
}

OrderedJson hitJson (const spotting::HitPoint& hit)
{
    OrderedJson json{ { "id", hit.id },
                      { "place", placeJson (hit.place) },
                      { "kind", std::string (spotting::hitKindName (hit.kind)) },
                      { "weight", std::string (spotting::weightName (hit.weight)) },
                      { "label", hit.label },
                      { "lead", fraction (hit.lead) },
                      { "early_ms", hit.earlyMs },
                      { "late_ms", hit.lateMs },
                      { "note", hit.note },
                      { "asked_by", hit.askedBy },
                      { "agreed", hit.agreed },
                      { "cue", hit.cue } };
    if (! hit.typed.empty())
        json["typed"] = hit.typed;
    if (hit.fromScan)
        json["from_scan"] = true;
    addUnknown (json, hit.unknown);
    return json;
}

OrderedJson tempoJson (const music::TempoPlan& plan)
{
    OrderedJson meters = OrderedJson::array(), tempos = OrderedJson::array(), stretches = OrderedJson::array(),
                keys = OrderedJson::array();
    for (const auto& change : plan.meters)
        meters.push_back ({ { "bar", change.bar }, { "meter", music::meterText (change.meter) } });
    for (const auto& change : plan.tempos)
    {
        OrderedJson json{ { "at", fraction (change.at) },
                          { "beats_per_minute", fraction (change.beatsPerMinute) },
                          { "beat", fraction (change.unit) },
                          { "course", std::string (music::courseName (change.course)) } };
        if (change.reached)
            json["reached"] = fraction (*change.reached);
        tempos.push_back (std::move (json));
    }
    for (const auto& stretch : plan.stretches)
        stretches.push_back ({ { "kind", stretch.hold ? "hold" : "free" },
                               { "from", fraction (stretch.from) },
                               { "to", fraction (stretch.to) },
                               { "seconds", fraction (stretch.seconds) } });
    for (const auto& key : plan.keys)
        keys.push_back ({ { "bar", key.bar }, { "fifths", key.fifths }, { "minor", key.minor } });
    OrderedJson json{ { "pickup", fraction (plan.pickup) }, { "meters", std::move (meters) }, { "tempos", std::move (tempos) } };
    if (! stretches.empty())
        json["stretches"] = std::move (stretches);
    if (! keys.empty())
        json["keys"] = std::move (keys);
    return json;
}

OrderedJson barOneJson (const spotting::BarOne& pin)
{
    OrderedJson json = OrderedJson::object();
    if (! pin.hit.empty())
        json["hit"] = pin.hit;
    if (pin.place)
        json["place"] = placeJson (*pin.place);
    json["seconds"] = fraction (pin.seconds);
    return json;
}

OrderedJson cueJson (const spotting::Cue& cue)
{
    OrderedJson json{ { "id", cue.id },
                      { "number", cue.number },
                      { "title", cue.title },
                      { "in", placeJson (cue.in) },
                      { "out", placeJson (cue.out) },
                      { "kind", std::string (spotting::cueKindName (cue.kind)) },
                      { "mood", cue.mood },
                      { "status", std::string (spotting::cueStatusName (cue.status)) },
                      { "version", cue.version },
                      { "note", cue.note } };
    if (cue.tempo)
        json["tempo_map"] = tempoJson (cue.tempo->plan());
    if (! (cue.barOne == spotting::BarOne{}))
        json["bar_one"] = barOneJson (cue.barOne);
    addUnknown (json, cue.unknown);
    return json;
}

OrderedJson soundJson (const spotting::Sound& sound)
{
    OrderedJson place = OrderedJson::object();
    if (! sound.place.cue.empty())
        place["cue"] = sound.place.cue;
    else if (sound.place.reel != 0)
        place["reel"] = sound.place.reel;
    place["seconds"] = fraction (sound.place.seconds);
    OrderedJson json{ { "id", sound.id },          { "name", sound.name },
                      { "path", sound.path },      { "identity", sound.identity },
                      { "rate", sound.rate },      { "channels", sound.channels },
                      { "samples", sound.samples } };
    if (sound.timeReference)
        json["time_reference"] = *sound.timeReference;
    json["kind"] = std::string (spotting::soundKindName (sound.kind));
    json["placed_by"] = std::string (spotting::placedByName (sound.placed));
    json["place"] = std::move (place);
    json["gain_db"] = fraction (sound.gain);
    json["muted"] = sound.muted;
    json["cue"] = sound.cue;
    if (sound.madeFor)
        json["made_for"] = { { "edition", sound.madeFor->edition },
                             { "final_rate", time::rateName (sound.madeFor->delivery.rate) },
                             { "fill", film::fillName (sound.madeFor->delivery.from) } };
    json["note"] = sound.note;
    addUnknown (json, sound.unknown);
    return json;
}

OrderedJson personJson (const spotting::Person& person)
{
    OrderedJson json{ { "id", person.id }, { "name", person.name }, { "role", person.role }, { "last_number", person.lastNumber } };
    addUnknown (json, person.unknown);
    return json;
}

template <class T, class Write>
OrderedJson arrayOf (const spotting::Section<T>& section, Write write)
{
    OrderedJson array = OrderedJson::array();
    for (const auto& item : section)
        array.push_back (write (item));
    return array;
}
} // namespace

std::string bookText (const Book& book)
{
    OrderedJson json{ { "document", "shutterbeat book" },
                      { "schema", schemaVersion },
                      { "title", book.title },
                      { "edition", book.edition },
                      { "final_rate", time::rateName (book.delivery.rate) },
                      { "fill", film::fillName (book.delivery.from) },
                      { "people", arrayOf (book.people, personJson) },
                      { "prints", arrayOf (book.prints, printJson) },
                      { "editions", arrayOf (book.editions, editionJson) },
                      { "cues", arrayOf (book.cues, cueJson) },
                      { "hits", arrayOf (book.hits, hitJson) } };
    if (! book.sounds.empty())
        json["sounds"] = arrayOf (book.sounds, soundJson);
    if (! book.cards.empty())
        json["cards"] = cardsJson (book.cards);
    addWorks (json, book);
    addRecuts (json, book);
    addUnknown (json, book.unknown);
    // Replace, never throw: text from outside is checked when it comes in.
    return json.dump (2, ' ', false, OrderedJson::error_handler_t::replace) + "\n";
}
} // namespace shutterbeat::store
