#include "desk/TempoText.h"

#include "music/FrameClick.h"
#include "music/NoteValue.h"
#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

Error wrong (const std::string& what, const std::string& word, const std::string& how)
{
    return usageError (what + " \"" + word + "\"", "cannot be read; write " + how);
}

/// "9.3:97.3" gives "9.3" and "97.3"; without a place the place is bar 1, or before it the pickup.
std::pair<std::string, std::string> placed (const std::string& word)
{
    const auto colon = word.find (':');
    if (colon == std::string::npos)
        return { "", word };
    return { word.substr (0, colon), word.substr (colon + 1) };
}

/// Positions need meters: a map of them alone.
Result<Rational> positionIn (const music::TempoMap& bars, const std::string& word)
{
    const auto at = music::parseBarBeat (word);
    if (! at)
        return at.error();
    return bars.positionOf (*at);
}

std::optional<Rational> seconds (std::string text)
{
    if (time::endsWith (text, "s"))
        text.pop_back();
    const auto read = time::parseRational (time::trimmed (text));
    return read && read->valid() ? std::optional (*read) : std::nullopt;
}

Result<music::TempoChange> tempoOf (const std::string& word, const music::TempoMap& bars, const Rational& rate)
{
    const std::string how = "a tempo as 96, 97.3, 13-0 (click), with its place as 9:120 or 9.3:120, its beat as 80/dotted quarter, "
                            "~ or ~~ at the end for a ramp";
    auto [place, text] = placed (word);
    music::TempoChange change;
    if (place.empty())
        change.at = bars.start();
    else
    {
        const auto at = positionIn (bars, place);
        if (! at)
            return at.error();
        change.at = *at;
    }
    if (time::endsWith (text, "~~"))
        change.course = music::Course::rampInBeat;
    else if (time::endsWith (text, "~"))
        change.course = music::Course::rampInTime;
    while (time::endsWith (text, "~"))
        text.pop_back();
    if (const auto slash = text.find ('/');
        slash != std::string::npos && text.find_first_not_of ("0123456789/.") != std::string::npos)
    {
        const auto unit = music::parseNoteValue (text.substr (slash + 1));
        if (! unit)
            return unit.error();
        change.unit = *unit;
        text = text.substr (0, slash);
    }
    if (text.find ('-') != std::string::npos && text.find ('-') > 0)
    {
        const auto click = music::parseClick (text);
        if (! click)
            return click.error();
        change.beatsPerMinute = music::beatsPerMinute (*click, rate);
        return change;
    }
    const auto tempo = time::parseRational (text);
    if (! tempo || ! tempo->valid())
        return wrong ("tempo", word, how);
    change.beatsPerMinute = *tempo;
    return change;
}

Result<music::Stretch> stretchOf (const std::string& word, bool hold, const music::TempoMap& bars)
{
    const std::string how = hold ? "a hold as 12.3:4.5s or 12.3:half:4.5s" : "a free passage as 20:24:8.5s";
    const auto parts = time::splitAt (word, ':');
    if (parts.size() < (hold ? 2u : 3u) || parts.size() > 3)
        return wrong (hold ? "hold" : "free passage", word, how);
    const auto from = positionIn (bars, std::string (parts[0]));
    const auto lasts = seconds (std::string (parts.back()));
    if (! from)
        return from.error();
    if (! lasts)
        return wrong (hold ? "hold" : "free passage", word, how);
    music::Stretch stretch{ *from, *from, *lasts, hold };
    if (! hold)
    {
        const auto to = positionIn (bars, std::string (parts[1]));
        if (! to)
            return to.error();
        stretch.to = *to;
    }
    else if (parts.size() == 3)
    {
        const auto note = music::parseNoteValue (parts[1]);
        if (! note)
            return note.error();
        stretch.to = *from + *note * Rational (4);
    }
    else
    {
        const auto at = bars.barBeatOf (*from);
        stretch.to = *from + music::beatLengths (bars.meterOf (at.bar))[static_cast<std::size_t> (at.beat - 1)];
    }
    return stretch;
}

template <class Item, class Key>
void inOrder (std::vector<Item>& items, Key key)
{
    std::stable_sort (items.begin(), items.end(), [&] (const Item& a, const Item& b) { return key (a) < key (b); });
}
} // namespace

Result<music::TempoMap> tempoFromWords (const TempoWords& words, const std::optional<music::TempoMap>& before, const Rational& rate)
{
    music::TempoPlan plan = before ? before->plan() : music::TempoPlan{};
    if (! words.meters.empty())
    {
        plan.meters.clear();
        for (const auto& word : words.meters)
        {
            const auto [place, text] = placed (word);
            const auto bar = place.empty() ? std::optional<std::int64_t> (1) : time::parseWhole (place);
            const auto meter = music::parseMeter (text);
            if (! bar)
                return wrong ("meter", word, "4/4, or 9:7/8(2+2+3) from bar 9 on");
            if (! meter)
                return meter.error();
            plan.meters.push_back ({ *bar, *meter });
        }
        inOrder (plan.meters, [] (const music::MeterChange& m) { return m.bar; });
        if (plan.meters.front().bar != 1)
            plan.meters.insert (plan.meters.begin(), music::MeterChange{});
    }
    if (! words.pickup.empty())
    {
        const auto pickup = time::parseRational (words.pickup);
        if (! pickup || ! pickup->valid())
            return wrong ("pickup", words.pickup, "quarter notes as 1 or 1/2");
        plan.pickup = *pickup;
    }
    if (! words.keys.empty())
    {
        plan.keys.clear();
        for (const auto& word : words.keys)
        {
            const auto [place, text] = placed (word);
            const auto bar = place.empty() ? std::optional<std::int64_t> (1) : time::parseWhole (place);
            const auto parts = time::splitAt (text, ' ');
            const auto fifths = time::parseWhole (parts[0]);
            const bool minor = parts.size() == 2 && parts[1] == "minor";
            if (! bar || ! fifths || *fifths < -7 || *fifths > 7 || parts.size() > 2
                || (parts.size() == 2 && ! minor && parts[1] != "major"))
                return wrong ("key", word, "its sharps, below zero flats, as 1:-3 minor");
            plan.keys.push_back ({ *bar, static_cast<int> (*fifths), minor });
        }
        inOrder (plan.keys, [] (const music::KeyChange& k) { return k.bar; });
    }
    music::TempoPlan barsOnly;
    barsOnly.meters = plan.meters;
    barsOnly.pickup = plan.pickup;
    const auto bars = music::TempoMap::of (barsOnly);
    if (! bars)
        return bars.error();
    if (! words.tempos.empty())
    {
        plan.tempos.clear();
        for (const auto& word : words.tempos)
        {
            const auto change = tempoOf (word, *bars, rate);
            if (! change)
                return change.error();
            plan.tempos.push_back (*change);
        }
        inOrder (plan.tempos, [] (const music::TempoChange& c) { return c.at; });
    }
    if (! words.holds.empty() || ! words.free.empty())
    {
        plan.stretches.clear();
        for (const bool hold : { true, false })
            for (const auto& word : hold ? words.holds : words.free)
            {
                const auto stretch = stretchOf (word, hold, *bars);
                if (! stretch)
                    return stretch.error();
                plan.stretches.push_back (*stretch);
            }
        inOrder (plan.stretches, [] (const music::Stretch& s) { return s.from; });
    }
    return music::TempoMap::of (std::move (plan));
}

std::vector<std::string> wordsOfTempo (const music::TempoMap& map)
{
    std::vector<std::string> lines;
    const auto& plan = map.plan();
    const auto place = [&] (const Rational& at)
    {
        const auto bar = map.barBeatOf (at);
        std::string text =
            std::to_string (bar.bar) + (bar.beat == 1 && bar.fraction.sign() == 0 ? "" : "." + std::to_string (bar.beat));
        return text + (bar.fraction.sign() == 0 ? "" : "+" + time::fractionText (bar.fraction));
    };
    if (plan.pickup.sign() > 0)
        lines.push_back ("pickup " + time::fractionText (plan.pickup));
    for (const auto& change : plan.meters)
        lines.push_back ("meter " + std::to_string (change.bar) + ":" + music::meterText (change.meter));
    for (const auto& key : plan.keys)
        lines.push_back ("key " + std::to_string (key.bar) + ":" + std::to_string (key.fifths) + (key.minor ? " minor" : " major"));
    for (const auto& change : plan.tempos)
    {
        std::string line = "tempo " + place (change.at) + ":" + time::fractionText (change.beatsPerMinute);
        if (change.unit != Rational (1, 4))
            line += "/" + music::noteValueName (change.unit);
        line += change.course == music::Course::rampInTime ? "~" : change.course == music::Course::rampInBeat ? "~~" : "";
        if (change.reached)
            line += " (to " + time::fractionText (*change.reached) + ")";
        lines.push_back (line);
    }
    for (const auto& stretch : plan.stretches)
        lines.push_back (
            stretch.hold
                ? "hold " + place (stretch.from) + ":" + music::noteValueName ((stretch.to - stretch.from) / Rational (4)) + ":"
                      + time::fractionText (stretch.seconds) + "s"
                : "free " + place (stretch.from) + ":" + place (stretch.to) + ":" + time::fractionText (stretch.seconds) + "s");
    return lines;
}
} // namespace shutterbeat::desk
