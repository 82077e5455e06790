#pragma once

#include "music/TempoMap.h"

#include <vector>

namespace shutterbeat::music
{
/// A beat of a cue, or a click on or between beats.
struct BeatMoment
{
    time::Rational quarters; ///< from bar 1 beat 1
    time::Rational seconds;  ///< from bar 1 beat 1, exact
    std::int64_t bar = 1;
    int beat = 1;
    int part = 0;      ///< subdivision of the beat: 0 on it
    bool free = false; ///< a free (warning) click before the music, not counted
    bool accent = false;
};

/// Every beat from `from` up to before `to` (seconds from bar 1 beat 1), beats before bar 1 included. At most a million.
std::vector<BeatMoment> beatsBetween (const TempoMap& map, const time::Rational& from, const time::Rational& to);

/// Which clicks sound.
struct ClickLook
{
    int freeBars = 0;    ///< bars of free clicks before the music starts, in bar 1's meter at the opening tempo
    int freeClicks = 4;  ///< or so many clicks, when freeBars is 0; 0 for none
    int parts = 1;       ///< clicks a beat: 2 for eighths in 4/4, 3 for triplets; 1 to 8
    bool accents = true; ///< bar starts sound differently
    std::string pattern; ///< one letter a beat of the bar, repeated within it: X accent, x click, . silent; empty: all
};

/// Whether a look makes sense. Error: counts out of range, or a pattern of other letters.
Result<Done> checkLook (const ClickLook& look);

/// Clicks of a cue whose music begins at map.start() and ends before `end` (seconds from bar 1 beat 1), free clicks first.
/// None sound inside holds (but on their first note) and free passages. Error: as checkLook.
Result<std::vector<BeatMoment>> clicksOf (const TempoMap& map, const time::Rational& end, const ClickLook& look);
} // namespace shutterbeat::music
