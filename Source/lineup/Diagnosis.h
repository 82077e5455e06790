#pragma once

#include "lineup/RateMistakes.h"
#include "lineup/TakeLine.h"
#include "lineup/Tuning.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::lineup
{
/// What is the matter with a sound as a whole.
enum class TakeKind
{
    thin,        ///< the evidence does not carry a judgement
    inTime,      ///< no constant, drift or rate mistake that could be told from none
    late,        ///< late or early by a constant
    drift,       ///< runs too fast or too slow by a ratio that no usual mistake gives
    rateMistake, ///< made for another rate
    sampleRate,  ///< its samples are played at a wrong rate
    open         ///< something is wrong, and more than one thing would explain it
};

/// "thin", "in time", "late", "drift", "rate mistake", "sample rate", "open".
std::string takeKindName (TakeKind kind);

/// How much a judgement can be trusted.
enum class Sureness
{
    sure,
    likely, ///< as likely as not to be finer than said
    unsure
};

std::string surenessName (Sureness sureness);

/// What a sound is to be told from.
struct TakeEvidence
{
    std::vector<Onset> sharp, slow; ///< sharpOnsets, slowOnsets
    std::vector<double> beats;      ///< as written, seconds from the sound's sample 0
    double length = 0;              ///< seconds
    std::optional<Tuning> tuning;
};

struct Diagnosis
{
    TakeKind kind = TakeKind::thin;
    Sureness sureness = Sureness::unsure;
    std::optional<TakeLine> line;       ///< none: nothing was found at all
    bool bowed = false;                 ///< the line lies through slow onsets
    std::vector<RateMistake> mistakes;  ///< the one, or those it may be (open)
    std::vector<double> mightBe;        ///< seconds late that fit nearly as well, a whole beat or so away; never empty unsaid
    std::vector<std::string> sentences; ///< for people: the judgement, then its evidence

    /// True when the sound's own offset and ratio can be built on: a place in it is then expected where the line says.
    [[nodiscard]] bool trusted() const { return line && kind != TakeKind::thin; }
    /// Length heard to length written as judged: the named ratio, or one where none is told from it.
    [[nodiscard]] double ratio() const;
};

/// Judges a whole sound. `lines` may stop it, which gives TakeKind::thin.
Diagnosis diagnose (const TakeEvidence& evidence, const LineSearch& search = {});

/// How well a sound follows beats at all: the best line's score, 0 to about 1. For comparing a sound with other cues' beats.
double followScore (const TakeEvidence& evidence, const LineSearch& search = {});
} // namespace shutterbeat::lineup
