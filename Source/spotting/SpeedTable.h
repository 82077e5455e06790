#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// A running speed in every way it is spoken of, and how long the film is at it.
struct SpeedRow
{
    time::Rational speed;       ///< film frames a second
    time::Rational feetAMinute; ///< of 35 mm, 16 frames a foot
    time::Rational minutes;     ///< that 1000 feet of 35 mm last
    time::Rational seconds;     ///< of the whole edition at this one speed; made cards keep theirs
    bool archive = false;       ///< a rate of archive cinema packages (SMPTE ST 428-21:2011)
    bool chosen = false;        ///< the edition's own
};

/// The archive rates 16, 200/11, 20 and 240/11 and the usual 18, 22, 24, 25 and 80 feet a minute (64/3), with the edition's
/// own where it is none of them; rising. The length is what the edition lasts as film, before any final rate.
std::vector<SpeedRow> speedTable (const film::Edition& edition);

/// A run of shots that follow each other at one speed.
struct SpeedRun
{
    std::size_t first = 0, end = 0; ///< shots of the edition, end exclusive
    time::Rational speed;
    std::int64_t frames = 0; ///< photographed
    time::Rational seconds;
};

/// The running speeds along an edition: neighbours at one speed together. Made ones go with what is before them.
std::vector<SpeedRun> speedRuns (const film::Edition& edition);

/// The running speed of shots from `first` to `last` of an edition, both included and in its order; none: the edition's again.
/// Error: as setShots; a last that is before the first.
Result<Book> setSceneSpeed (const Book& book, const std::string& edition, const std::string& first, const std::string& last,
                            const std::optional<time::Rational>& speed);

/// One speed for the whole edition: shots lose speeds of their own. Error: as setRunningSpeed.
Result<Book> setWholeSpeed (const Book& book, const std::string& edition, const time::Rational& speed);

/// What a change of speed, final rate or fill does, told before it is made.
struct SpeedEffect
{
    time::Rational before, after; ///< delivered seconds of the whole edition
    time::Rational factor;        ///< after / before
    /// How much faster sound made for the old length has to run to fit: before / after. Above 1 the pitch rises.
    time::Rational soundSpeed;
    double cents = 0; ///< pitch of that sound when it is run so, not stretched: 1200 log2 (soundSpeed)
    struct Moved
    {
        std::string id, label;
        time::Rational before, after; ///< clock seconds from picture start of its reel
        std::string timecodeBefore, timecodeAfter;
    };
    std::vector<Moved> hits; ///< in time order, those with a place in both
    std::size_t moved = 0;   ///< hits whose clock or timecode changes
};

/// Compares a book with the same book changed. Error: as timingsOf for either.
Result<SpeedEffect> speedEffect (const Book& before, const Book& after);
} // namespace shutterbeat::spotting
