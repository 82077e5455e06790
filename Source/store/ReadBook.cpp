#include "store/BookFile.h"

#include "store/Cards.h"
#include "store/FilmParts.h"
#include "store/Members.h"
#include "store/Recuts.h"
#include "store/Works.h"
#include "time/Reach.h"
#include "time/Text.h"

#include <algorithm>
#include <set>

namespace shutterbeat::store
{
namespace
{
using spotting::Book;

film::Place readPlace (Members& parent, const char* member)
{
    const auto* json = parent.find (member, true);
    if (json == nullptr)
        return {};
    Members m (*json, (parent.path().empty() ? "" : parent.path() + ".") + member, parent.failure());
    if (m.json().is_object() && m.json().contains ("shot"))
    {
        film::EdgePlace edge;
        edge.shot = m.text ("shot", true);
        const auto side = m.text ("edge", true);
        if (side != "head" && side != "tail")
            m.fail ("edge", "has to be head or tail");
        edge.edge = side == "tail" ? film::Edge::tail : film::Edge::head;
        if (const auto seconds = m.fraction ("seconds"))
            edge.offset = *seconds;
        else
            edge.offset = m.whole ("frames");
        edge.instance = m.small ("instance");
        return edge;
    }
    if (m.json().is_object() && m.json().contains ("outside"))
    {
        film::OutsidePlace outside;
        const auto anchor = m.text ("outside", true);
        if (anchor != "start" && anchor != "end")
            m.fail ("outside", "has to be start or end");
        outside.afterEnd = anchor == "end";
        outside.seconds = m.fraction ("seconds", true).value_or (time::Rational (0));
        return outside;
    }
    film::PicturePlace picture;
    picture.print = m.text ("print", true);
    picture.filmFrame = m.whole ("frame", true);
    picture.instance = m.small ("instance");
    return picture;
}

spotting::HitPoint readHit (Members& m)
{
    spotting::HitPoint hit;
    hit.id = m.text ("id", true);
    hit.place = readPlace (m, "place");
    hit.kind = m.named<spotting::HitKind> ("kind", spotting::parseHitKind, hit.kind);
    hit.weight = m.named<spotting::Weight> ("weight", spotting::parseWeight, hit.weight);
    hit.label = m.text ("label");
    hit.lead = m.fraction ("lead").value_or (time::Rational (0));
    if (! time::withinReach (hit.lead))
        m.fail ("lead", "is too large a number of seconds, or too fine");
    hit.earlyMs = m.small ("early_ms", hit.earlyMs);
    hit.lateMs = m.small ("late_ms", hit.lateMs);
    hit.note = m.text ("note");
    hit.askedBy = m.text ("asked_by");
    hit.agreed = m.flag ("agreed");
    hit.cue = m.text ("cue");
    hit.typed = m.text ("typed");
    hit.fromScan = m.flag ("from_scan");
    hit.unknown = m.unknown();
    return hit;
}

music::TempoPlan readPlan (Members& m)
{
    music::TempoPlan plan;
    plan.pickup = m.fraction ("pickup").value_or (time::Rational (0));
    plan.meters.clear();
    plan.tempos.clear();
    m.array ("meters", true,
             [&] (Members& i) {
                 plan.meters.push_back ({ i.whole ("bar", true), i.named<music::Meter> ("meter", music::parseMeter, {}) });
             });
    m.array ("tempos", true,
             [&] (Members& i)
             {
                 music::TempoChange change;
                 change.at = i.fraction ("at", true).value_or (time::Rational (0));
                 change.beatsPerMinute = i.fraction ("beats_per_minute", true).value_or (time::Rational (120));
                 change.unit = i.fraction ("beat").value_or (change.unit);
                 change.course = i.named<music::Course> ("course", music::parseCourse, change.course);
                 change.reached = i.fraction ("reached");
                 plan.tempos.push_back (change);
             });
    m.array ("stretches", false,
             [&] (Members& i)
             {
                 music::Stretch stretch;
                 const auto kind = i.text ("kind", true);
                 if (kind != "hold" && kind != "free")
                     i.fail ("kind", "has to be hold or free");
                 stretch.hold = kind == "hold";
                 stretch.from = i.fraction ("from", true).value_or (time::Rational (0));
                 stretch.to = i.fraction ("to", true).value_or (time::Rational (0));
                 stretch.seconds = i.fraction ("seconds", true).value_or (time::Rational (0));
                 plan.stretches.push_back (stretch);
             });
    m.array ("keys", false,
             [&] (Members& i)
             {
                 const auto fifths = i.whole ("fifths", true);
                 if (fifths < -7 || fifths > 7)
                     i.fail ("fifths", "has to be a whole number from -7 to 7");
                 plan.keys.push_back ({ i.whole ("bar", true), static_cast<int> (fifths), i.flag ("minor") });
             });
    return plan;
}

/// The tempo map and where bar 1 is pinned; books of before tempo maps have one tempo.
void readTempo (Members& m, spotting::Cue& cue)
{
    const auto take = [&] (const char* member, Members& where, Result<music::TempoMap> map)
    {
        if (map)
            cue.tempo = std::move (*map);
        else
            where.fail (member, map.error().text());
    };
    if (const auto* json = m.find ("tempo_map", false))
    {
        Members inner (*json, m.path() + ".tempo_map", m.failure());
        auto plan = readPlan (inner);
        if (! m.failure())
            take ("", inner, music::TempoMap::of (std::move (plan)));
    }
    else if (const auto tempo = m.fraction ("beats_per_minute"))
        take ("beats_per_minute", m, music::TempoMap::steady (*tempo));
    if (const auto* json = m.find ("bar_one", false))
    {
        Members inner (*json, m.path() + ".bar_one", m.failure());
        cue.barOne.hit = inner.text ("hit");
        if (json->is_object() && json->contains ("place"))
            cue.barOne.place = readPlace (inner, "place");
        cue.barOne.seconds = inner.fraction ("seconds").value_or (time::Rational (0));
    }
}

spotting::Cue readCue (Members& m)
{
    spotting::Cue cue;
    cue.id = m.text ("id", true);
    cue.number = m.text ("number");
    cue.title = m.text ("title");
    cue.in = readPlace (m, "in");
    cue.out = readPlace (m, "out");
    cue.kind = m.named<spotting::CueKind> ("kind", spotting::parseCueKind, cue.kind);
    cue.mood = m.text ("mood");
    cue.status = m.named<spotting::CueStatus> ("status", spotting::parseCueStatus, cue.status);
    cue.version = m.text ("version");
    cue.note = m.text ("note");
    readTempo (m, cue);
    cue.unknown = m.unknown();
    return cue;
}

spotting::Sound readSound (Members& m)
{
    spotting::Sound sound;
    sound.id = m.text ("id", true);
    sound.name = m.text ("name");
    sound.path = m.text ("path", true);
    sound.identity = m.text ("identity");
    sound.rate = m.small ("rate", sound.rate);
    if (sound.rate < 1)
        m.fail ("rate", "has to be above zero");
    sound.channels = m.small ("channels", sound.channels);
    sound.samples = m.whole ("samples");
    if (sound.samples < 0)
        m.fail ("samples", "has to be zero or more");
    if (m.find ("time_reference", false) != nullptr)
        sound.timeReference = m.whole ("time_reference");
    sound.kind = m.named<spotting::SoundKind> ("kind", spotting::parseSoundKind, sound.kind);
    sound.placed = m.named<spotting::PlacedBy> ("placed_by", spotting::parsePlacedBy, sound.placed);
    if (const auto* json = m.find ("place", true))
    {
        Members place (*json, m.path() + ".place", m.failure());
        sound.place.cue = place.text ("cue");
        sound.place.reel = static_cast<std::size_t> (place.small ("reel"));
        sound.place.seconds = place.fraction ("seconds", true).value_or (time::Rational (0));
    }
    sound.gain = m.fraction ("gain_db").value_or (time::Rational (0));
    sound.muted = m.flag ("muted");
    sound.cue = m.text ("cue");
    if (const auto* json = m.find ("made_for", false))
    {
        Members made (*json, m.path() + ".made_for", m.failure());
        spotting::MadeFor madeFor;
        madeFor.edition = made.text ("edition", true);
        if (const auto rate = time::parseRate (made.text ("final_rate", true)))
            madeFor.delivery.rate = rate->value;
        else
            made.fail ("final_rate", rate.error().text());
        if (const auto fill = film::parseFill (made.text ("fill", true)))
            madeFor.delivery.from = *fill;
        else
            made.fail ("fill", fill.error().text());
        sound.madeFor = madeFor;
    }
    sound.note = m.text ("note");
    sound.unknown = m.unknown();
    return sound;
}

spotting::Person readPerson (Members& m)
{
    spotting::Person person;
    person.id = m.text ("id", true);
    person.name = m.text ("name");
    person.role = m.text ("role");
    person.lastNumber = m.whole ("last_number");
    person.unknown = m.unknown();
    return person;
}

/// Counters only rise: a book whose counter lies below an id it holds would give that id out again.
void raiseCounters (std::vector<spotting::Person>& people, const std::vector<std::string>& ids)
{
    for (const auto& id : ids)
    {
        const auto dash = id.rfind ('-');
        const auto number = dash == std::string::npos ? std::nullopt : time::parseWhole (std::string_view (id).substr (dash + 1));
        if (! number)
            continue;
        for (auto& person : people)
            if (id.compare (0, dash, person.id) == 0 && dash == person.id.size())
                person.lastNumber = std::max (person.lastNumber, *number);
    }
}

/// Deeply nested text would be refused by no grammar but exhaust the stack of whoever walks it.
bool tooDeep (std::string_view text)
{
    int depth = 0;
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i)
    {
        const char c = text[i];
        if (quoted)
        {
            if (c == '\\')
                ++i;
            else if (c == '"')
                quoted = false;
        }
        else if (c == '"')
            quoted = true;
        else if (c == '[' || c == '{')
        {
            if (++depth > 64)
                return true;
        }
        else if (c == ']' || c == '}')
            --depth;
    }
    return false;
}
} // namespace

Result<Book> parseBook (std::string_view text, const std::string& where)
{
    const auto first = text.find_first_not_of (" \t\r\n\xEF\xBB\xBF");
    if (first != std::string_view::npos && text[first] != '{' && text[first] != '[')
        return unreadable (where, "it is not a Shutterbeat book, or its beginning is damaged: then open a backup of it");
    if (tooDeep (text))
        return unreadable (where, "the book is damaged: its parts are nested more than 64 deep; open a backup of it");
    Json json;
    try
    {
        json = Json::parse (text);
    }
    catch (const Json::exception& e)
    {
        const auto position = dynamic_cast<const Json::parse_error*> (&e);
        const std::size_t byte =
            position != nullptr && position->byte > 0 ? std::min<std::size_t> (position->byte - 1, text.size()) : 0;
        const auto before = text.substr (0, byte);
        const auto line = static_cast<std::size_t> (std::count (before.begin(), before.end(), '\n')) + 1;
        const auto column = byte - (before.rfind ('\n') == std::string_view::npos ? 0 : before.rfind ('\n') + 1) + 1;
        return unreadable (where, "the book is damaged at line " + std::to_string (line) + ", column " + std::to_string (column)
                                      + "; open a backup of it, this file was left as it is");
    }
    if (! json.is_object() || ! json.contains ("document") || json["document"] != "shutterbeat book")
        return unreadable (where, "it is not a Shutterbeat book; a book begins with \"document\": \"shutterbeat book\"");

    std::optional<Error> failed;
    Members m (json, "", failed);
    m.find ("document", true);
    const auto schema = m.whole ("schema", true);
    if (! failed && schema > schemaVersion)
        return unreadable (where, "the book was saved by a newer Shutterbeat (schema " + std::to_string (schema)
                                      + ", this one reads up to " + std::to_string (schemaVersion)
                                      + "); open it with that version, this file was left as it is");
    if (! failed && schema < 1)
        m.fail ("schema", "has to be 1 or more");
    Book book;
    book.title = m.text ("title");
    book.edition = m.text ("edition", true);
    if (auto rate = time::parseRate (m.text ("final_rate", true)))
        book.delivery.rate = rate->value;
    else
        m.fail ("final_rate", rate.error().text());
    if (auto fill = film::parseFill (m.text ("fill", true)))
        book.delivery.from = *fill;
    else
        m.fail ("fill", fill.error().text());

    std::vector<spotting::Person> people;
    std::vector<film::Print> prints;
    std::vector<film::Edition> editions;
    std::vector<spotting::HitPoint> hits;
    std::vector<spotting::Cue> cues;
    std::vector<spotting::Sound> sounds;
    std::vector<std::string> ids;
    std::set<std::string> taken;
    const auto once = [&] (Members& inner, const std::string& id, const std::string& of)
    {
        if (id.empty())
            inner.fail ("id", "has to be text");
        else if (! taken.insert (of + id).second)
            inner.fail ("id", "is used twice: " + id);
        ids.push_back (id);
    };
    m.array ("people", false,
             [&] (Members& i)
             {
                 people.push_back (readPerson (i));
                 once (i, people.back().id, "person ");
             });
    m.array ("prints", true,
             [&] (Members& i)
             {
                 prints.push_back (readPrint (i));
                 once (i, prints.back().id, "print ");
             });
    m.array ("editions", true,
             [&] (Members& i)
             {
                 editions.push_back (readEdition (i));
                 once (i, editions.back().letter, "edition ");
                 for (const auto& shot : editions.back().shots)
                     ids.push_back (shot.id);
             });
    m.array ("cues", false,
             [&] (Members& i)
             {
                 cues.push_back (readCue (i));
                 once (i, cues.back().id, "");
             });
    m.array ("hits", false,
             [&] (Members& i)
             {
                 hits.push_back (readHit (i));
                 once (i, hits.back().id, "");
             });
    m.array ("sounds", false,
             [&] (Members& i)
             {
                 sounds.push_back (readSound (i));
                 once (i, sounds.back().id, "");
             });
    readCards (m, book.cards);
    readWorks (m, book);
    readRecuts (m, book);
    book.unknown = m.unknown();
    if (failed)
        return unreadable (where, "the book is damaged: " + failed->text() + "; open a backup of it, this file was left as it is");
    for (const auto& work : book.works)
        ids.push_back (work.id);
    raiseCounters (people, ids);
    book.people = std::move (people);
    book.prints = std::move (prints);
    book.editions = std::move (editions);
    book.cues = std::move (cues);
    book.hits = std::move (hits);
    book.sounds = std::move (sounds);
    return book;
}
} // namespace shutterbeat::store
