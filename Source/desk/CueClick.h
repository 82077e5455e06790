#pragma once

#include "mix/Mixer.h"
#include "music/Beats.h"
#include "spotting/Times.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How a cue's click is written.
struct ClickWish
{
    music::ClickLook look;
    time::Rational level{ -20 }; ///< decibels below full scale, capped at -6
    int samplesPerSecond = 48000;
};

struct WrittenClick
{
    std::size_t clicks = 0, freeClicks = 0;
    std::int64_t firstSample = 0; ///< of the film's grid from picture start; below zero before it
    std::int64_t samples = 0;
    std::vector<std::string> notes; ///< among them the caution for headphones
};

/// What has to be read before a click is heard over headphones.
std::string clickCaution();

/// A cue's clicks, free ones first, in seconds from picture start of its reel. Error: a cue without tempo map or place, a look
/// that makes no sense.
struct CueClicks
{
    std::vector<mix::Click> clicks;
    std::size_t free = 0; ///< how many of them come before the music
};
Result<CueClicks> clicksOfCue (const spotting::CueTimes& cue, const music::ClickLook& look);

/// The clicks of all cues that have a tempo map and a place. `reelStarts`: where each reel begins, in seconds; cues of reels
/// beyond it are left out, and so are those of other reels than `reel` when one is named.
std::vector<mix::Click> clicksOfFilm (const spotting::BookTimes& times, const music::ClickLook& look,
                                      const std::vector<time::Rational>& reelStarts, std::optional<std::size_t> reel = {});

/// Writes a cue's click as a WAV file of 24 bits, one channel, on the film's sample grid: sample n of the file is sample
/// firstSample + n from picture start, and its time stamp says so. Every click lies on the nearest sample to its exact
/// moment. Whole or not at all. Error: a cue without tempo map or place, a look that makes no sense, cannotWrite, more
/// than 2 GB.
Result<WrittenClick> writeClick (const spotting::BookTimes& times, const std::string& cue, const ClickWish& wish,
                                 const std::string& path);
} // namespace shutterbeat::desk
