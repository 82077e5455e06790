#include "lineup/Diagnosis.h"

#include "lineup/DiagnosisWords.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
// What a judgement asks for; found with rendered piano, mixed players and strings, played tightly, humanly, loosely and freely.
constexpr double leastScore = 0.40, leastGain = 0.35, mostScatter = 0.020, rivalShare = 0.75;
constexpr double meantScatter = 2.5; // deviations of the players from their own line
/// Errors that exclude: six blocks of a jackknife are few, so more than the usual three or four.
constexpr double excludes = 5, includes = 4, tellsApart = 6;

struct Found
{
    std::vector<TakeLine> lines;
    bool bowed = false;
};

Found bestLines (const TakeEvidence& evidence, const LineSearch& search)
{
    Found sharp{ linesOf (evidence.sharp, evidence.beats, evidence.length, search), false };
    // What bows and breath play has hardly an attack; where attacks tell little, the slow rise may tell more.
    if (! sharp.lines.empty() && sharp.lines.front().score > 0.7)
        return sharp;
    Found slow{ linesOf (evidence.slow, evidence.beats, evidence.length, search), true };
    const auto score = [] (const Found& found) { return found.lines.empty() ? -1 : found.lines.front().score; };
    return score (slow) > score (sharp) + 0.15 ? slow : sharp;
}

bool carries (const TakeLine& line, std::size_t onsets)
{
    // Of few beats many agree by chance, with all the lines there are to choose from.
    const double few = static_cast<double> (std::max<std::size_t> (8, line.matched));
    const double gain = std::max (leastGain, 2.2 / std::sqrt (few));
    return onsets >= 12 && line.matched >= 12 && line.score >= leastScore && line.share - line.chance >= gain;
}

double beatAt (const std::vector<double>& beats)
{
    std::vector<double> gaps;
    for (std::size_t i = 1; i < beats.size(); ++i)
        gaps.push_back (beats[i] - beats[i - 1]);
    std::nth_element (gaps.begin(), gaps.begin() + static_cast<std::ptrdiff_t> (gaps.size() / 2), gaps.end());
    return gaps[gaps.size() / 2];
}

/// True where the pitch of a sound says that its samples are played at another rate by this ratio, false where it says that they
/// are not; nothing where it does not tell.
std::optional<bool> pitchMoved (const std::optional<Tuning>& tuning, double ratio)
{
    if (! tuning || tuning->concentration < 0.5)
        return std::nullopt;
    const double moved = centsApart (tuning->cents, movedCents (0, ratio)), unmoved = centsApart (tuning->cents, 0);
    if (std::abs (moved - unmoved) < 20 || std::min (moved, unmoved) > 18)
        return std::nullopt;
    return moved < unmoved;
}

void nameRatio (Diagnosis& diagnosis, const TakeEvidence& evidence)
{
    const auto& line = *diagnosis.line;
    const double error = std::max (line.ratioError, 0.00002);
    auto near = mistakesNear (line.ratio, includes * error + 0.00004);
    const auto around = mistakesNear (line.ratio, tellsApart * error);
    const auto moved = pitchMoved (evidence.tuning, line.ratio);
    // The pitch tells a wrong sample rate from music that was played at that tempo.
    const auto against = [&] (const RateMistake& m) { return moved && m.sampleRate != *moved && (m.sampleRate || *moved); };
    if (around.size() > 1 && near.size() < around.size())
        near = around;
    if (near.size() > 1)
        near.erase (std::remove_if (near.begin(), near.end(), against), near.end());
    if (near.empty())
    {
        const bool clean = line.scatter < 0.012 && line.bend < 0.008 && std::abs (line.ratio - 1) < 0.02;
        diagnosis.kind = clean ? TakeKind::drift : TakeKind::open;
        return;
    }
    diagnosis.mistakes = near;
    const bool sampleUnproved = near.front().sampleRate && moved != std::optional (true);
    diagnosis.kind = near.size() > 1 || sampleUnproved || line.scatter > mostScatter || line.bend > 0.015 ? TakeKind::open
                     : near.front().sampleRate                                                            ? TakeKind::sampleRate
                                                                                                          : TakeKind::rateMistake;
}

/// Lines that fit nearly as well: a beat away, or at another ratio altogether.
void weighRivals (Diagnosis& diagnosis, const std::vector<TakeLine>& lines, const std::vector<double>& beats)
{
    const auto& best = lines.front();
    for (std::size_t i = 1; i < lines.size(); ++i)
    {
        const auto& rival = lines[i];
        if (rival.score < rivalShare * best.score)
            break;
        const double span = beats.back() - beats.front();
        const bool sameRatio =
            std::abs (rival.ratio - best.ratio) * span < 0.1 + 4 * std::hypot (rival.ratioError, best.ratioError) * span;
        if (! sameRatio)
            diagnosis.kind = TakeKind::open;
        else if (std::abs (rival.late - best.late) > 0.1)
            diagnosis.mightBe.push_back (rival.late);
        else
            continue;
        if (diagnosis.sureness == Sureness::sure)
            diagnosis.sureness = Sureness::likely;
    }
    std::sort (diagnosis.mightBe.begin(), diagnosis.mightBe.end(), [] (double a, double b) { return std::abs (a) < std::abs (b); });
}
} // namespace

std::string takeKindName (TakeKind kind)
{
    switch (kind)
    {
    case TakeKind::thin:
        return "thin";
    case TakeKind::inTime:
        return "in time";
    case TakeKind::late:
        return "late";
    case TakeKind::drift:
        return "drift";
    case TakeKind::rateMistake:
        return "rate mistake";
    case TakeKind::sampleRate:
        return "sample rate";
    case TakeKind::open:
        break;
    }
    return "open";
}

std::string surenessName (Sureness sureness)
{
    return sureness == Sureness::sure ? "sure" : sureness == Sureness::likely ? "likely" : "not sure";
}

double Diagnosis::ratio() const
{
    if ((kind == TakeKind::rateMistake || kind == TakeKind::sampleRate) && mistakes.size() == 1)
        return time::toDouble (mistakes.front().ratio);
    return (kind == TakeKind::drift || kind == TakeKind::open) && line ? line->ratio : 1;
}

double followScore (const TakeEvidence& evidence, const LineSearch& search)
{
    const auto found = bestLines (evidence, search);
    return found.lines.empty() ? 0 : std::max (0.0, found.lines.front().score);
}

Diagnosis diagnose (const TakeEvidence& evidence, const LineSearch& search)
{
    Diagnosis diagnosis;
    const auto found = bestLines (evidence, search);
    const auto& onsets = found.bowed ? evidence.slow : evidence.sharp;
    if (found.lines.empty() || ! carries (found.lines.front(), onsets.size()) || found.lines.front().scatter > 0.024)
    {
        if (! found.lines.empty())
            diagnosis.line = found.lines.front();
        diagnosis.sentences = thinWords (evidence, diagnosis.line);
        return diagnosis;
    }
    diagnosis.line = found.lines.front();
    diagnosis.bowed = found.bowed;
    auto& line = *diagnosis.line;
    diagnosis.sureness = line.score >= 0.6 && line.scatter < 0.012 ? Sureness::sure : Sureness::likely;
    // Less than a thousandth of the length can't be told from none by so few or so uneven onsets: then only an offset is judged.
    const bool tellsRatio = std::abs (line.ratio - 1) > excludes * line.ratioError
                            && line.bend < 0.5 * std::abs (line.ratio - 1) * (evidence.beats.back() - evidence.beats.front());
    if (tellsRatio)
        nameRatio (diagnosis, evidence);
    else
    {
        if (line.ratioError > 0.004)
        {
            diagnosis.sureness = Sureness::unsure;
            diagnosis.sentences = thinWords (evidence, diagnosis.line);
            return diagnosis;
        }
        line = offsetNear (onsets, evidence.beats, evidence.length,
                           line.late + (line.ratio - 1) * 0.5 * (evidence.beats.back() - evidence.beats.front()));
        if (line.score < leastScore)
        {
            diagnosis.sureness = Sureness::unsure;
            diagnosis.sentences = thinWords (evidence, diagnosis.line);
            return diagnosis;
        }
        // Players who are loose among themselves are late by less than that all the time, and nobody calls it late.
        const bool meant = std::abs (line.late) > std::max ({ 0.010, includes * line.lateError, meantScatter * line.scatter });
        diagnosis.kind = meant ? TakeKind::late : TakeKind::inTime;
    }
    weighRivals (diagnosis, found.lines, evidence.beats);
    // Sounds are a whole beat off far more seldom than they seem to be: with a nearer place that fits nearly as well, none is
    // named.
    const auto nearer = [&] (double other) { return std::abs (other) < std::abs (line.late) - 0.5 * beatAt (evidence.beats); };
    if (diagnosis.kind == TakeKind::late && std::any_of (diagnosis.mightBe.begin(), diagnosis.mightBe.end(), nearer))
        diagnosis.kind = TakeKind::open;
    if (diagnosis.kind == TakeKind::open)
        diagnosis.sureness = Sureness::unsure;
    diagnosis.sentences = diagnosisWords (diagnosis, evidence, beatAt (evidence.beats), onsets.size());
    return diagnosis;
}
} // namespace shutterbeat::lineup
