#pragma once

#include "music/BarCosts.h"
#include "music/TempoMap.h"

#include <string>
#include <vector>

namespace shutterbeat::music
{
/// A recut (or another speed) put time in or took it out between two places that written music must still meet.
struct RefitWish
{
    std::int64_t firstBar = 1, endBar = 9; ///< the bars between those places; endBar is the first bar after them
    time::Rational change;                 ///< seconds put in; below zero taken out
    time::Rational frame{ 1, 24 };         ///< seconds of a delivered frame
    int landingFrames = 1;                 ///< frames that the second place may still be missed by
    double mostNudge = .03;                ///< the most that the tempo may be nudged, as a part of it
    std::size_t most = 12;                 ///< ways to tell
    BarCosts costs;
};

/// One way to make written music fit again.
struct RefitWay
{
    int barsIn = 0;                 ///< bars put in; below zero taken out
    int beatsInBar = 0;             ///< beats that one bar gains; below zero loses
    std::vector<std::int64_t> bars; ///< where the bar may stand: equal answers, grouped
    int beats = 0;                  ///< beats gained in all
    double nudge = 0;               ///< faster by this part; below zero slower; 0: no nudge
    int nudgeBeats = 0;             ///< over so many beats, the fewest that cost least
    int leftFrames = 0;             ///< frames the second place is struck late; below zero early
    double barCost = 0, nudgeCost = 0, landingCost = 0;

    [[nodiscard]] double cost() const { return barCost + nudgeCost + landingCost; }
};

/// All ways worth telling, the cheapest first; of ways with the same bars only the cheapest nudge for each frame left over.
/// Error: a span without bars, or one whose tempo is not steady (fit its bars anew instead).
Result<std::vector<RefitWay>> refitWays (const TempoMap& map, const RefitWish& wish);

/// "bar 5 from 4/4 to 3/4 (or one of bars 6 to 8); tempo 0.75 % faster over 18 beats; strikes 1 frame late".
std::string wayText (const RefitWay& way, const TempoMap& map);

/// The map with a way carried out, its bar changed at the first place the way names and the nudge right before the end of
/// the span. Error: as TempoMap::of.
Result<TempoMap> refitted (const TempoMap& map, const RefitWish& wish, const RefitWay& way);
} // namespace shutterbeat::music
