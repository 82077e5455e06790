#pragma once

#include "desk/OpenBook.h"
#include "mix/Loudness.h"
#include "music/Beats.h"
#include "spotting/Times.h"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// How a sound made for another delivery is brought to this one.
enum class Retime
{
    ask,      ///< not at all: an error that says what is to be chosen
    resample, ///< faster or slower with its pitch, as a tape is
    stretch,  ///< faster or slower at the same pitch
    none      ///< as it is, from its start on
};

/// How the book's sounds become one file.
struct MixdownWish
{
    spotting::Asked asked;
    std::optional<std::size_t> reel;               ///< of the edition; none: the whole film, its reels one after another
    std::optional<std::set<std::string>> soundIds; ///< none: all that are not muted
    Retime retime = Retime::ask;
    std::optional<music::ClickLook> click; ///< the click of every cue that has a tempo map
    int leaderSeconds = 0;                 ///< as of RenderPlan
    bool pop = false;
    time::Rational gain; ///< decibels, of everything but pops
    int samplesPerSecond = 48000;
};

/// A sound as it went into a mixdown.
struct MixedSound
{
    std::string id, name;
    std::string start;     ///< clock from picture start, thousandths
    time::Rational factor; ///< how many times as long it lasts as its file; 1: as it is
};

/// A file that was made.
struct Mixdown
{
    std::string path;
    std::int64_t samples = 0;        ///< of the whole file, per channel
    std::int64_t pictureSample = 0;  ///< of the file, at which the picture starts
    std::int64_t pictureSamples = 0; ///< from there to picture end
    std::int64_t clipped = 0;        ///< samples that were too loud for the file
    std::string start;               ///< label of the first sample's frame; empty at a rate without timecode
    mix::Loudness loudness;          ///< of the picture, without leader and pops
    std::vector<MixedSound> sounds;
    std::vector<std::string> notes; ///< for the user, what was re-timed and how among them
};

/// Mixes sounds, click and pops in place into one stereo WAV file of 24 bits (RF64 when large), exactly as long as the picture with
/// its leader: every border is the grid's nearest sample to its exact time from picture start. Carries a time reference
/// and a point for every cue. Whole or not at all.
/// Error: as RenderPlan::of; a chosen sound that is missing, unreadable or has no place (a mixdown with a hole would pass
/// for whole); nothing chosen; a sound made for another delivery with Retime::ask; cannotWrite; cancelled.
Result<Mixdown> writeMixdown (const OpenBook& open, const std::string& path, const MixdownWish& wish,
                              const Progress& progress = {});
} // namespace shutterbeat::desk
