#include "music/Beats.h"

#include <algorithm>

namespace shutterbeat::music
{
namespace
{
using time::Rational;

constexpr std::size_t mostBeats = 1'000'000;

BeatMoment momentAt (const TempoMap& map, const Rational& position, std::int64_t bar, int beat)
{
    BeatMoment moment;
    moment.quarters = position;
    moment.seconds = map.timeOf (position);
    moment.bar = bar;
    moment.beat = beat;
    moment.accent = beat == 1;
    return moment;
}

/// Calls `each` with position, bar, beat and length of every beat from `from` on until it says false.
template <class Each>
void walkBeats (const TempoMap& map, const Rational& from, Each each)
{
    const auto first = map.barBeatOf (from);
    for (std::int64_t bar = first.bar;; ++bar)
    {
        Rational position = map.barStart (bar);
        int beat = 0;
        for (const auto& length : beatLengths (map.meterOf (bar)))
        {
            ++beat;
            if (position >= from && ! each (position, bar, beat, length))
                return;
            position += length;
        }
    }
}

/// Free clicks walk back from the start of the music through the bars before it.
std::vector<BeatMoment> freeClicksOf (const TempoMap& map, const ClickLook& look)
{
    const auto beats = beatLengths (map.meterOf (0));
    const auto count =
        static_cast<std::size_t> (look.freeBars > 0 ? look.freeBars * static_cast<int> (beats.size()) : look.freeClicks);
    std::vector<BeatMoment> clicks;
    const auto bars = static_cast<std::int64_t> (count / beats.size() + 2);
    walkBeats (map, map.barStart (1 - bars),
               [&] (const Rational& position, std::int64_t bar, int beat, const Rational&)
               {
                   if (position >= map.start())
                       return false;
                   clicks.push_back (momentAt (map, position, bar, beat));
                   clicks.back().free = true;
                   return true;
               });
    if (clicks.size() > count)
        clicks.erase (clicks.begin(), clicks.end() - static_cast<std::ptrdiff_t> (count));
    return clicks;
}

bool silentAt (const TempoMap& map, const Rational& position)
{
    const auto* stretch = map.stretchAt (position);
    return stretch != nullptr && ! (stretch->hold && position == stretch->from);
}
} // namespace

std::vector<BeatMoment> beatsBetween (const TempoMap& map, const Rational& from, const Rational& to)
{
    std::vector<BeatMoment> beats;
    // One quarter note of play, since the position of a moment in a ramp is rounded.
    walkBeats (map, map.beatOf (from) - Rational (1),
               [&] (const Rational& position, std::int64_t bar, int beat, const Rational&)
               {
                   auto moment = momentAt (map, position, bar, beat);
                   if (moment.seconds >= to || beats.size() >= mostBeats)
                       return false;
                   if (moment.seconds >= from)
                       beats.push_back (std::move (moment));
                   return true;
               });
    return beats;
}

Result<Done> checkLook (const ClickLook& look)
{
    if (look.freeBars < 0 || look.freeBars > 64 || look.freeClicks < 0 || look.freeClicks > 64)
        return usageError ("free clicks", "use 0 to 64 clicks or bars");
    if (look.parts < 1 || look.parts > 8)
        return usageError ("clicks a beat", "use 1 to 8");
    if (look.pattern.find_first_not_of ("Xx.") != std::string::npos || look.pattern.size() > 64)
        return usageError ("click pattern \"" + look.pattern + "\"",
                           "use a letter a beat: X accent, x click, . silent, such as X.x.");
    return Done{};
}

Result<std::vector<BeatMoment>> clicksOf (const TempoMap& map, const Rational& end, const ClickLook& look)
{
    if (auto fit = checkLook (look); ! fit)
        return fit.error();
    auto clicks = freeClicksOf (map, look);
    walkBeats (map, map.start(),
               [&] (const Rational& position, std::int64_t bar, int beat, const Rational& length)
               {
                   const char letter =
                       look.pattern.empty() ? 'x' : look.pattern[static_cast<std::size_t> (beat - 1) % look.pattern.size()];
                   for (int part = 0; part < look.parts; ++part)
                   {
                       const auto here = position + length * Rational (part, look.parts);
                       if (silentAt (map, here))
                           continue;
                       auto moment = momentAt (map, here, bar, beat);
                       if (moment.seconds >= end || clicks.size() >= mostBeats)
                           return false;
                       moment.part = part;
                       moment.accent = part == 0 && (letter == 'X' || (look.pattern.empty() && beat == 1));
                       if (letter != '.')
                           clicks.push_back (std::move (moment));
                   }
                   // Silence alone must not walk on for ever.
                   return map.timeOf (position + length) < end;
               });
    if (! look.accents)
        for (auto& click : clicks)
            click.accent = false;
    return clicks;
}
} // namespace shutterbeat::music
