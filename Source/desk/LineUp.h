#pragma once

#include "desk/LineUpSound.h"
#include "desk/OpenBook.h"
#include "lineup/Diagnosis.h"
#include "lineup/SyncLimits.h"
#include "spotting/Times.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Whether music lands on a hit.
enum class HitVerdict
{
    within,   ///< the hit's own limits
    early,    ///< before them
    late,     ///< after them
    noAccent, ///< nothing there has a clear beginning; no number is given
    outside   ///< the sound does not reach so far
};

/// "within", "early", "late", "no clear accent", "outside the sound".
std::string hitVerdictName (HitVerdict verdict);

/// A hit against a sound. Seconds count from the sound's sample 0; add SoundLineUp::start for those from picture start.
struct HitLineUp
{
    std::size_t row = 0;         ///< index into BookTimes::hits
    double wanted = 0;           ///< picture + lead
    double expected = 0;         ///< where the whole sound puts it: `wanted`, moved by the diagnosis where that can be trusted
    std::optional<double> heard; ///< where the accent begins; none: noAccent, outside
    double lateMs = 0;           ///< heard - wanted, in milliseconds; above zero late. Only with `heard`
    double frames = 0;           ///< the same in delivered frames
    HitVerdict verdict = HitVerdict::noAccent;
    bool alone = true;               ///< false: another accent lies about as near, and may be the one that was meant
    std::vector<std::string> broken; ///< names of published limits that it breaks
};

/// A sound against the picture, everything that a report, a table or a screen shows of it.
struct SoundLineUp
{
    spotting::Sound sound;
    std::string cue; ///< number of the cue it is judged by; "" when it lies under several or none
    std::size_t reel = 0;
    time::Rational start;               ///< of sample 0, exact seconds from picture start of the reel
    double frameRate = 24;              ///< delivered frames a second
    lineup::Diagnosis diagnosis;        ///< of the whole sound; its beats are those of the cue's tempo map
    std::vector<std::string> sentences; ///< what is the matter with the whole sound, the gravest first; then what is well
    std::size_t faults = 0;             ///< how many of them, from the first on, tell of a fault
    std::vector<HitLineUp> hits;        ///< by `wanted`
    HeardSound heard;                   ///< onsets, pops, outline
    std::string wrongCue;               ///< number of another cue whose beats it follows instead
    bool found = false;                 ///< something is the matter: with the whole or with a hit
    std::vector<std::string> notes;     ///< for the user: hits that are lost, samples that could not be read
};

struct LineUpWish
{
    /// Milliseconds by which the players' accents are known to begin late (a slow attack); taken off every onset.
    double biasMs = 0;
};

/// Compares one sound of the book with the picture. Error: no such place any more, a file that can't be read, cancelled.
Result<SoundLineUp> lineUp (const OpenBook& open, const spotting::BookTimes& times, const spotting::Sound& sound,
                            const LineUpWish& wish = {}, const Progress& progress = {});

/// The sounds that a word means: a sound by its id or name, else the sounds of a cue by its id or number. Error: none.
Result<std::vector<spotting::Sound>> soundsMeant (const spotting::Book& book, const std::string& word);

/// Hits within their limits, outside them, and without a clear accent.
struct LineUpCounts
{
    std::size_t within = 0, beyond = 0, noAccent = 0, outside = 0;
};
LineUpCounts countsOf (const SoundLineUp& lined);
} // namespace shutterbeat::desk
