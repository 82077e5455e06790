#include "lineup/DiagnosisWords.h"

#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
std::string plain (std::size_t number)
{
    return std::to_string (number);
}

std::string errorText (double seconds)
{
    return numberText (std::max (1.0, 1000 * seconds), 0) + " ms";
}

/// "25/24" for sums, and what it means for the length.
std::string ratioText (const RateMistake& mistake)
{
    const double percent = 100 * (time::toDouble (mistake.ratio) - 1);
    return time::fractionText (mistake.ratio) + ", " + numberText (std::abs (percent), 2) + " % too "
           + (percent > 0 ? "long" : "short");
}

/// "" where the ratio would move the pitch by too little, or by whole semitones.
std::string pitchText (const Diagnosis& diagnosis, const TakeEvidence& evidence)
{
    if (centsApart (movedCents (0, diagnosis.line->ratio), 0) < 20)
        return "";
    if (! evidence.tuning || evidence.tuning->concentration < 0.5)
        return "Its pitch does not tell a wrong sample rate from music played at that tempo.";
    const double cents = evidence.tuning->cents;
    const double expected = movedCents (0, diagnosis.line->ratio);
    const std::string measured = "Its tuning lies " + numberText (std::abs (cents), 0) + " cents " + (cents < 0 ? "below" : "above")
                                 + " the notes at a' = 440 Hz; ";
    if (centsApart (cents, expected) <= 18 && std::abs (centsApart (cents, expected) - centsApart (cents, 0)) >= 20)
        return measured + "a sound played at a wrong speed by this ratio would lie " + numberText (std::abs (expected), 0) + " "
               + (expected < 0 ? "below" : "above") + ": the pitch moved with the tempo.";
    if (centsApart (cents, 0) <= 18)
        return measured + "the pitch did not move with the tempo.";
    return measured + "that fits neither.";
}

std::string beatsText (const Diagnosis& diagnosis, double beat)
{
    std::string list;
    for (std::size_t i = 0; i < diagnosis.mightBe.size() && i < 2; ++i)
        list += (i == 0 ? "" : " or ") + lateText (diagnosis.mightBe[i]);
    return "It may lie a whole beat (" + numberText (beat, 2) + " s) or more off instead: " + list
           + " fits nearly as well, for the music does not tell one beat from the next.";
}
} // namespace

std::string numberText (double value, int decimals)
{
    double scale = 1;
    for (int i = 0; i < decimals; ++i)
        scale *= 10;
    const auto whole = static_cast<std::int64_t> (std::floor (value * scale + 0.5));
    return time::decimalText (time::Rational (static_cast<time::Int128> (whole), static_cast<time::Int128> (std::llround (scale))),
                              decimals);
}

std::string lateText (double seconds)
{
    const auto ms = static_cast<std::int64_t> (std::floor (1000 * seconds + 0.5));
    if (ms == 0)
        return "0 ms";
    return std::to_string (std::abs (ms)) + " ms " + (ms > 0 ? "late" : "early");
}

std::vector<std::string> thinWords (const TakeEvidence& evidence, const std::optional<TakeLine>& line)
{
    if (evidence.beats.size() < 8)
        return { "Nothing is said about the sound as a whole: its cue has " + plain (evidence.beats.size())
                 + " beats to compare it with, and eight are the least. Give the cue a tempo." };
    if (evidence.sharp.size() < 12 && evidence.slow.size() < 12)
        return { "Nothing is said about the sound as a whole: it has "
                 + plain (std::max (evidence.sharp.size(), evidence.slow.size())) + " clear onsets, too few." };
    std::string text = "Nothing is said about the sound as a whole: it does not follow the beats of its cue closely enough";
    if (line)
        text += " (at best " + plain (line->matched) + " onsets on " + plain (line->beats) + " beats, scattered by "
                + numberText (1000 * line->scatter, 0) + " ms; chance would give " + numberText (line->chance * 100, 0) + " %)";
    return { text + ". It is played freely, or it is other music." };
}

std::vector<std::string> diagnosisWords (const Diagnosis& diagnosis, const TakeEvidence& evidence, double beat, std::size_t onsets)
{
    const auto& line = *diagnosis.line;
    const std::string how = " (" + surenessName (diagnosis.sureness) + ").";
    const bool beatOpen = diagnosis.kind == TakeKind::open && line.ratio == 1 && ! diagnosis.mightBe.empty();
    const bool ratio = diagnosis.kind != TakeKind::late && diagnosis.kind != TakeKind::inTime && ! beatOpen;
    std::vector<std::string> words;
    switch (diagnosis.kind)
    {
    case TakeKind::inTime:
        words.push_back ("In time: " + lateText (line.late) + " on the whole, ±" + errorText (line.lateError) + how);
        break;
    case TakeKind::late:
        words.push_back ((line.late > 0 ? "Late" : "Early") + std::string (" by a constant ")
                         + lateText (line.late).substr (0, lateText (line.late).find (" ms") + 3) + ", ±"
                         + errorText (line.lateError) + how);
        break;
    case TakeKind::drift:
        words.push_back ("Drifts: it gets " + numberText (std::abs (line.ratio - 1) * 60000, 0) + " ms a minute "
                         + (line.ratio > 1 ? "later" : "earlier") + " (ratio " + numberText (line.ratio, 5)
                         + "), which no usual rate mistake gives" + how);
        break;
    case TakeKind::rateMistake:
    case TakeKind::sampleRate:
        words.push_back ("Ratio " + ratioText (diagnosis.mistakes.front()) + ": " + diagnosis.mistakes.front().words + how);
        break;
    default:
        if (beatOpen)
            words.push_back ("It lies a whole beat or more off, or it does not: " + lateText (line.late) + " fits best, "
                             + lateText (diagnosis.mightBe.front())
                             + " nearly as well, for the music does not tell one beat from the next" + how);
        else if (diagnosis.mistakes.empty())
            words.push_back ("It does not keep to its beats: ratio " + numberText (line.ratio, 5)
                             + " fits best, but nothing usual gives that, or another fits nearly as well" + how);
        else
        {
            std::string list;
            for (const auto& mistake : diagnosis.mistakes)
                list += (list.empty() ? "" : "; or ratio ") + ratioText (mistake) + ": " + mistake.words;
            words.push_back ("Something is wrong with its speed, and it is open what. It may be ratio " + list + how);
        }
        break;
    }
    if (ratio)
    {
        words.push_back ("Measured: ratio " + numberText (line.ratio, 5) + " ±" + numberText (line.ratioError, 5) + ", "
                         + lateText (line.late) + " at the first beat.");
        if (auto pitch = pitchText (diagnosis, evidence); ! pitch.empty())
            words.push_back (std::move (pitch));
    }
    if (! diagnosis.mightBe.empty() && ! beatOpen)
        words.push_back (beatsText (diagnosis, beat));
    words.push_back ("Of " + plain (line.beats) + " beats and " + plain (onsets) + (diagnosis.bowed ? " soft" : "") + " onsets "
                     + plain (line.matched) + " lie within 40 ms of each other, scattered by " + numberText (1000 * line.scatter, 0)
                     + " ms; chance would give " + numberText (100 * line.chance, 0) + " %.");
    return words;
}
} // namespace shutterbeat::lineup
