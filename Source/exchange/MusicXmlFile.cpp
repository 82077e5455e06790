#include "exchange/MusicXmlFile.h"

#include "exchange/MidiEvents.h"
#include "music/TempoMap.h"
#include "time/Clock.h"

#include <pugixml.hpp>

#include <algorithm>
#include <optional>

namespace shutterbeat::exchange
{
namespace
{
using time::Rational;

/// A quarter note: sevenths, fifths, thirds and sixty-fourths are all whole (CASES B43).
constexpr int divisions = 1680;

pugi::xml_node add (pugi::xml_node parent, const char* name, const std::string& text = "")
{
    auto node = parent.append_child (name);
    if (! text.empty())
        node.append_child (pugi::node_pcdata).set_value (text.c_str());
    return node;
}

struct NoteName
{
    const char* name;
    int dots;
};

std::optional<NoteName> noteName (const Rational& ofWhole)
{
    const std::pair<Rational, const char*> plain[] = { { 1, "whole" },
                                                       { Rational (1, 2), "half" },
                                                       { Rational (1, 4), "quarter" },
                                                       { Rational (1, 8), "eighth" },
                                                       { Rational (1, 16), "16th" },
                                                       { Rational (1, 32), "32nd" },
                                                       { Rational (1, 64), "64th" } };
    for (const auto& [value, name] : plain)
    {
        if (value == ofWhole)
            return NoteName{ name, 0 };
        if (value * Rational (3, 2) == ofWhole)
            return NoteName{ name, 1 };
    }
    return {};
}

std::string letters (std::size_t number)
{
    std::string text;
    for (++number; number > 0; number = (number - 1) / 26)
        text.insert (text.begin(), static_cast<char> ('A' + (number - 1) % 26));
    return text;
}

/// Something written above a bar at a position.
struct Above
{
    Rational at;
    enum class Kind
    {
        tempo,    ///< metronome and sound
        sound,    ///< sound alone, inside a ramp
        words,    ///< text
        rehearsal ///< boxed letter
    } kind = Kind::words;
    std::string text;
    Rational tempo, unit; ///< beats a minute of a note value
};

class Score
{
public:
    Score (const spotting::BookTimes& all, const spotting::CueTimes& cue, const ListHead& listHead)
        : times (all)
        , row (cue)
        , map (*cue.cue.tempo)
        , head (listHead)
    {
        end = row.out && row.out->reel == row.in->reel && row.out->clock > *row.barOne ? map.beatOf (row.out->clock - *row.barOne)
                                                                                       : Rational (0);
        collectTempos();
        collectHits();
        std::stable_sort (above.begin(), above.end(), [] (const Above& a, const Above& b) { return a.at < b.at; });
    }

    std::string bytes()
    {
        pugi::xml_document document;
        auto declaration = document.append_child (pugi::node_declaration);
        declaration.append_attribute ("version") = "1.0";
        declaration.append_attribute ("encoding") = "UTF-8";
        document.append_child (pugi::node_doctype)
            .set_value ("score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
                        "\"http://www.musicxml.org/dtds/partwise.dtd\"");
        auto score = document.append_child ("score-partwise");
        score.append_attribute ("version") = "4.0";
        add (add (score, "work"), "work-title", text (cueName (row.cue)));
        auto encoding = add (add (score, "identification"), "encoding");
        add (encoding, "software", "Shutterbeat");
        if (isDate (head.stamped))
            add (encoding, "encoding-date", head.stamped);
        add (encoding, "encoding-description",
             text (spotting::basisText (times.timings) + ", edition " + times.timings.edition().letter
                   + (head.revision.empty() ? "" : ", revision " + head.revision)));
        auto part = add (add (score, "part-list"), "score-part");
        part.append_attribute ("id") = "P1";
        add (part, "part-name", "Music");
        auto music = score.append_child ("part");
        music.append_attribute ("id") = "P1";
        const auto& plan = map.plan();
        if (plan.pickup.sign() > 0)
            addBar (music, 0, map.start(), 0, true);
        for (std::int64_t bar = 1; bar == 1 || (map.barStart (bar) < end && bar < 10'000); ++bar)
            addBar (music, bar, map.barStart (bar), map.barStart (bar + 1), bar == 1 && plan.pickup.sign() == 0);
        struct Writer : pugi::xml_writer
        {
            std::string all;
            void write (const void* data, std::size_t size) override { all.append (static_cast<const char*> (data), size); }
        } writer;
        document.save (writer, "  ", pugi::format_indent, pugi::encoding_utf8);
        return std::move (writer.all);
    }

private:
    static bool isDate (const std::string& date)
    {
        if (date.size() != 10)
            return false;
        for (std::size_t i = 0; i < 10; ++i)
            if (i == 4 || i == 7 ? date[i] != '-' : date[i] < '0' || date[i] > '9')
                return false;
        return true;
    }

    /// XML has no control characters.
    static std::string text (const std::string& words)
    {
        std::string line = oneLine (fromUtf8OrLatin1 (words));
        std::erase_if (line, [] (char c) { return static_cast<unsigned char> (c) < 0x20; });
        return line;
    }

    void collectTempos()
    {
        const auto& plan = map.plan();
        for (std::size_t i = 0; i < plan.tempos.size(); ++i)
        {
            const auto& change = plan.tempos[i];
            // The first also holds before itself: it stands where the music begins.
            above.push_back ({ i == 0 ? map.start() : change.at, Above::Kind::tempo, "", change.beatsPerMinute, change.unit });
            if (change.course == music::Course::steady)
                continue;
            const auto& following = plan.tempos[i + 1];
            const auto reached = change.reached ? music::quartersPerMinute (*change.reached, change.unit)
                                                : music::quartersPerMinute (following.beatsPerMinute, following.unit);
            const bool faster = reached > music::quartersPerMinute (change.beatsPerMinute, change.unit);
            above.push_back ({ change.at, Above::Kind::words, faster ? "accel." : "rit.", 0, 0 });
            const auto beat = change.unit * Rational (4);
            for (Rational at = change.at + beat; at < following.at; at += beat)
                above.push_back ({ at, Above::Kind::sound, "", map.tempoAt (at), Rational (1, 4) });
        }
        for (const auto& stretch : plan.stretches)
        {
            if (stretch.hold)
                continue;
            above.push_back (
                { stretch.from, Above::Kind::words, "free, " + time::shortDecimalText (stretch.seconds, 2) + " s", 0, 0 });
            above.push_back ({ stretch.from, Above::Kind::sound, "", Rational (60) * (stretch.to - stretch.from) / stretch.seconds,
                               Rational (1, 4) });
            above.push_back ({ stretch.to, Above::Kind::words, "a tempo", 0, 0 });
            above.push_back ({ stretch.to, Above::Kind::sound, "", map.tempoAt (stretch.to), Rational (1, 4) });
        }
    }

    void collectHits()
    {
        std::size_t musts = 0;
        for (const auto index : row.hits)
        {
            const auto& hit = times.hits[index];
            if (! hit.at || hit.at->reel != row.in->reel)
                continue;
            const auto moment = hit.at->clock + hit.hit.lead;
            // To the division, so that a hit on a beat stands on it though its time was rounded.
            auto at = Rational (time::roundOf (map.beatOf (moment - *row.barOne) * Rational (divisions)), divisions);
            at = std::max (at, map.start());
            if (hit.hit.weight == spotting::Weight::must)
                above.push_back ({ at, Above::Kind::rehearsal, letters (musts++), 0, 0 });
            above.push_back ({ at, Above::Kind::words, text (hitName (hit.hit)) + " (" + time::clockText (moment) + ")", 0, 0 });
            end = std::max (end, at + Rational (1, divisions));
        }
    }

    void addAbove (pugi::xml_node measure, const Above& mark, const Rational& from) const
    {
        auto direction = measure.append_child ("direction");
        direction.append_attribute ("placement") = "above";
        auto type = direction.append_child ("direction-type");
        if (mark.kind == Above::Kind::rehearsal)
            add (type, "rehearsal", mark.text);
        else if (mark.kind == Above::Kind::words)
            add (type, "words", mark.text.empty() ? "-" : mark.text);
        else
        {
            auto name = noteName (mark.unit);
            const auto shown = name ? mark.tempo : music::quartersPerMinute (mark.tempo, mark.unit);
            if (! name)
                name = NoteName{ "quarter", 0 };
            auto metronome = type.append_child ("metronome");
            if (mark.kind == Above::Kind::sound)
                metronome.append_attribute ("print-object") = "no";
            add (metronome, "beat-unit", name->name);
            for (int dot = 0; dot < name->dots; ++dot)
                metronome.append_child ("beat-unit-dot");
            add (metronome, "per-minute", time::shortDecimalText (shown, 2));
        }
        if (const auto offset = (mark.at - from) * Rational (divisions); offset.sign() > 0)
            add (direction, "offset", time::shortDecimalText (offset, 3));
        if (mark.kind == Above::Kind::tempo || mark.kind == Above::Kind::sound)
            direction.append_child ("sound").append_attribute ("tempo") =
                time::shortDecimalText (music::quartersPerMinute (mark.tempo, mark.unit), 6).c_str();
    }

    void addAttributes (pugi::xml_node measure, std::int64_t bar, bool first) const
    {
        const auto& plan = map.plan();
        const auto key =
            std::find_if (plan.keys.begin(), plan.keys.end(), [&] (const music::KeyChange& k) { return k.bar == bar; });
        const bool meter = first
                           || std::any_of (plan.meters.begin(), plan.meters.end(),
                                           [&] (const music::MeterChange& m) { return m.bar == bar && bar > 1; });
        const auto firstKey = ! plan.keys.empty() && plan.keys.front().bar == 1 ? plan.keys.front() : music::KeyChange{};
        const bool keyHere = first || (key != plan.keys.end() && bar > 1);
        if (! meter && ! keyHere)
            return;
        auto attributes = measure.append_child ("attributes");
        if (first)
            add (attributes, "divisions", std::to_string (divisions));
        if (keyHere)
        {
            const auto& change = first ? firstKey : *key;
            auto node = attributes.append_child ("key");
            add (node, "fifths", std::to_string (change.fifths));
            add (node, "mode", change.minor ? "minor" : "major");
        }
        if (meter)
        {
            const auto& m = map.meterOf (bar);
            std::string beats;
            for (const int group : m.groups)
                beats += (beats.empty() ? "" : "+") + std::to_string (group);
            auto node = attributes.append_child ("time");
            add (node, "beats", beats.empty() ? std::to_string (m.count) : beats);
            add (node, "beat-type", std::to_string (m.unit));
        }
        if (first)
        {
            auto clef = attributes.append_child ("clef");
            add (clef, "sign", "G");
            add (clef, "line", "2");
        }
    }

    static void addRest (pugi::xml_node measure, const Rational& length, bool whole, bool fermata)
    {
        auto note = measure.append_child ("note");
        auto rest = note.append_child ("rest");
        if (whole)
            rest.append_attribute ("measure") = "yes";
        add (note, "duration", time::shortDecimalText (length * Rational (divisions), 6));
        add (note, "voice", "1");
        if (! whole)
            if (const auto name = noteName (length / Rational (4)))
            {
                add (note, "type", name->name);
                for (int dot = 0; dot < name->dots; ++dot)
                    note.append_child ("dot");
            }
        if (fermata)
            note.append_child ("notations").append_child ("fermata").append_attribute ("type") = "upright";
    }

    void addBar (pugi::xml_node music, std::int64_t bar, const Rational& from, const Rational& to, bool first)
    {
        auto measure = music.append_child ("measure");
        measure.append_attribute ("number") = std::to_string (bar).c_str();
        if (bar == 0)
            measure.append_attribute ("implicit") = "yes";
        addAttributes (measure, bar, first);
        for (; next < above.size() && above[next].at < to; ++next)
            addAbove (measure, above[next], from);
        // Rests, cut where a hold begins and ends.
        Rational at = from;
        for (const auto& stretch : map.plan().stretches)
        {
            if (! stretch.hold || stretch.to <= from || stretch.from >= to)
                continue;
            const auto begin = std::max (stretch.from, from), finish = std::min (stretch.to, to);
            if (begin > at)
                addRest (measure, begin - at, false, false);
            addRest (measure, finish - begin, begin == from && finish == to && bar > 0, true);
            at = finish;
        }
        if (at < to)
            addRest (measure, to - at, at == from && bar > 0, false);
    }

    const spotting::BookTimes& times;
    const spotting::CueTimes& row;
    const music::TempoMap& map;
    const ListHead& head;
    Rational end;
    std::vector<Above> above;
    std::size_t next = 0;
};
} // namespace

Result<Written> writeMusicXml (const spotting::BookTimes& times, const ListHead& head, const std::string& cue)
{
    Written written;
    bool known = cue.empty();
    for (const auto& row : times.cues)
    {
        if (! cue.empty() && row.cue.id != cue)
            continue;
        known = true;
        if (row.cue.kind == spotting::CueKind::tacet || ! row.cue.tempo || ! row.in || ! row.barOne)
        {
            written.notes.push_back ("cue " + cueName (row.cue) + " has no score: "
                                     + (row.cue.kind == spotting::CueKind::tacet ? "it is tacet"
                                        : ! row.cue.tempo                        ? "it has no tempo yet"
                                                                                 : "it has lost its place"));
            continue;
        }
        std::string suffix = "-";
        for (const char c : asciiOnly (row.cue.number.empty() ? row.cue.id : row.cue.number))
            suffix += (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '.' ? c : '-';
        if (std::any_of (written.parts.begin(), written.parts.end(), [&] (const auto& part) { return part.suffix == suffix; }))
            suffix += "-" + row.cue.id;
        written.parts.push_back ({ cue.empty() ? suffix : "", Score (times, row, head).bytes() });
    }
    if (! known)
        return usageError ("cue " + cue, "the book does not have it");
    if (written.parts.empty())
        return usageError ("MusicXML",
                           "no cue has a tempo to write bars for; set one with: shutterbeat tempo BOOK CUE set --tempo 96");
    return written;
}
} // namespace shutterbeat::exchange
