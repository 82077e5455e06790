#include "exchange/MusicXmlRead.h"

#include "time/Text.h"

#include <pugixml.hpp>

#include <algorithm>
#include <cstring>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;

/// A number as the format writes them, never by the locale.
std::optional<Rational> numberOf (const char* text)
{
    const auto read = time::parseRational (time::trimmed (text));
    return read && read->valid() ? std::optional (*read) : std::nullopt;
}

std::optional<Rational> noteValue (const std::string& name, int dots)
{
    const std::pair<const char*, Rational> names[] = { { "breve", 2 },
                                                       { "whole", 1 },
                                                       { "half", Rational (1, 2) },
                                                       { "quarter", Rational (1, 4) },
                                                       { "eighth", Rational (1, 8) },
                                                       { "16th", Rational (1, 16) },
                                                       { "32nd", Rational (1, 32) },
                                                       { "64th", Rational (1, 64) } };
    for (const auto& [known, value] : names)
        if (name == known)
            return dots == 0 ? value : dots == 1 ? value * Rational (3, 2) : value * Rational (7, 4);
    return {};
}

/// A tempo mark as a change, without its place; nothing when it says none.
std::optional<music::TempoChange> markOf (const pugi::xml_node& metronome)
{
    music::TempoChange change;
    int dots = 0;
    for (auto node = metronome.child ("beat-unit-dot"); node; node = node.next_sibling ("beat-unit-dot"))
        ++dots;
    const auto unit = noteValue (metronome.child ("beat-unit").text().get(), dots);
    const auto tempo = numberOf (metronome.child ("per-minute").text().get());
    if (! unit || ! tempo || tempo->sign() <= 0 || metronome.child ("beat-unit").next_sibling ("beat-unit"))
        return {};
    change.unit = *unit;
    change.beatsPerMinute = *tempo;
    return change;
}

class Reader
{
public:
    explicit Reader (const pugi::xml_node& of)
        : part (of)
    {
    }

    Result<ScoreTempo> read()
    {
        plan.meters.clear();
        plan.tempos.clear();
        for (const auto& measure : part.children ("measure"))
        {
            if (++measures > 100'000)
                return unreadable ("MusicXML score", "has more than 100000 bars");
            if (auto fine = readMeasure (measure); ! fine)
                return fine.error();
        }
        if (measures == 0)
            return unreadable ("MusicXML score", "has no bars");
        if (plan.meters.empty())
            plan.meters.push_back ({ 1, meter });
        for (auto& change : plan.tempos)
            change.at -= plan.pickup;
        if (plan.tempos.empty())
        {
            notes.push_back ("the score has no tempo; 120 quarter notes a minute are taken");
            plan.tempos.push_back ({ -plan.pickup, 120, Rational (1, 4), music::Course::steady, {} });
        }
        auto map = music::TempoMap::of (plan);
        if (! map)
            return unreadable ("MusicXML score", map.error().text());
        return ScoreTempo{ std::move (*map), std::move (notes) };
    }

private:
    void readAttributes (const pugi::xml_node& attributes)
    {
        if (const auto given = numberOf (attributes.child ("divisions").text().get()); given && given->sign() > 0)
            divisions = *given;
        if (const auto signature = attributes.child ("time"))
        {
            const std::string beats = signature.child ("beats").text().get();
            std::string text = beats + "/" + signature.child ("beat-type").text().get();
            if (beats.find ('+') != std::string::npos)
            {
                // Larger than any meter is too large, and adds up to what no meter has.
                std::int64_t sum = 0;
                for (const auto group : time::splitAt (beats, '+'))
                    sum += std::clamp<std::int64_t> (time::parseWhole (time::trimmed (group)).value_or (0), 0, 1000);
                text = std::to_string (sum) + "/" + signature.child ("beat-type").text().get() + "(" + beats + ")";
            }
            if (const auto read = music::parseMeter (text))
                meter = *read;
            else
                notes.push_back ("a meter that is not understood is left out: " + text);
        }
        if (const auto key = attributes.child ("key"))
            if (const auto fifths = time::parseWhole (time::trimmed (key.child ("fifths").text().get()));
                fifths && *fifths >= -7 && *fifths <= 7)
                keyHere =
                    music::KeyChange{ 1, static_cast<int> (*fifths), key.child ("mode").text().get() == std::string ("minor") };
    }

    void addTempo (music::TempoChange change, const Rational& inBar)
    {
        change.at = quarters + inBar;
        // One place said twice (metronome and sound) is one tempo; the later holds.
        if (! plan.tempos.empty() && plan.tempos.back().at >= change.at)
        {
            change.at = plan.tempos.back().at;
            plan.tempos.back() = change;
        }
        else
            plan.tempos.push_back (change);
    }

    void readDirection (const pugi::xml_node& direction, const Rational& here)
    {
        const auto offset = numberOf (direction.child ("offset").text().get()).value_or (Rational (0)) / divisions;
        const auto at = std::max (Rational (0), here + offset);
        const auto mark = markOf (direction.child ("direction-type").child ("metronome"));
        const auto sound = numberOf (direction.child ("sound").attribute ("tempo").value());
        if (sound && sound->sign() > 0)
        {
            // The mark says the beat, the sound how fast: where they agree the mark is what was written.
            const bool agree = mark && music::quartersPerMinute (mark->beatsPerMinute, mark->unit) == *sound;
            music::TempoChange change;
            change.beatsPerMinute = *sound;
            addTempo (agree ? *mark : change, at);
        }
        else if (mark)
            addTempo (*mark, at);
    }

    Result<Done> readMeasure (const pugi::xml_node& measure)
    {
        Rational here, longest;
        keyHere.reset();
        for (const auto& node : measure.children())
        {
            const std::string name = node.name();
            const auto duration = [&]
            { return numberOf (node.child ("duration").text().get()).value_or (Rational (0)) / divisions; };
            if (name == "attributes")
                readAttributes (node);
            else if (name == "direction")
                readDirection (node, here);
            else if (name == "sound")
            {
                if (const auto tempo = numberOf (node.attribute ("tempo").value()); tempo && tempo->sign() > 0)
                    addTempo ({ 0, *tempo, Rational (1, 4), music::Course::steady, {} }, here);
            }
            else if (name == "note" && ! node.child ("chord") && ! node.child ("grace"))
                here += duration();
            else if (name == "forward")
                here += duration();
            else if (name == "backup")
                here -= duration();
            longest = std::max (longest, here);
        }
        if (! here.valid() || ! longest.valid())
            return unreadable ("MusicXML score", "has durations that cannot be added up");
        const auto full = music::barLength (meter);
        const bool first = quarters.sign() == 0 && bar == 0;
        const bool named0 = measure.attribute ("number").value() == std::string ("0")
                            || measure.attribute ("implicit").value() == std::string ("yes");
        if (longest.sign() == 0)
            longest = full;
        if (first && longest < full && (named0 || longest.sign() > 0))
        {
            plan.pickup = longest;
            quarters += longest;
            addKey (1);
            return Done{};
        }
        ++bar;
        auto length = meter;
        if (longest != full)
            if (const auto own = music::meterOfLength (longest))
            {
                length = *own;
                notes.push_back ("bar " + std::to_string (bar) + " lasts " + music::meterText (*own) + ", not "
                                 + music::meterText (meter));
            }
        if (plan.meters.empty() || ! (plan.meters.back().meter == length))
            plan.meters.push_back ({ bar, length });
        addKey (bar);
        quarters += music::barLength (length);
        return Done{};
    }

    void addKey (std::int64_t at)
    {
        if (! keyHere || (! plan.keys.empty() && plan.keys.back().bar == at))
            return;
        keyHere->bar = at;
        plan.keys.push_back (*keyHere);
    }

    pugi::xml_node part;
    music::TempoPlan plan;
    music::Meter meter;
    std::optional<music::KeyChange> keyHere;
    Rational divisions{ 1 }, quarters; ///< quarters from the first note
    std::int64_t bar = 0;
    int measures = 0;
    std::vector<std::string> notes;
};
} // namespace

Result<ScoreTempo> readMusicXml (std::string_view bytes)
{
    if (bytes.substr (0, 2) == "PK")
        return unreadable ("MusicXML score", "is compressed (.mxl); save it as .musicxml");
    pugi::xml_document document;
    const auto parsed = document.load_buffer (bytes.data(), bytes.size());
    if (! parsed)
        return unreadable ("MusicXML score",
                           std::string ("is not XML: ") + parsed.description() + " at byte " + std::to_string (parsed.offset));
    if (document.child ("score-timewise"))
        return unreadable ("MusicXML score", "is written timewise; save it as score-partwise");
    const auto part = document.child ("score-partwise").child ("part");
    if (! part)
        return unreadable ("MusicXML score", "is not one: it has no score-partwise with a part");
    return Reader (part).read();
}
} // namespace shutterbeat::exchange
