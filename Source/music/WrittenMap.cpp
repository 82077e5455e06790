#include "music/WrittenMap.h"

#include "music/RampLaw.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
using time::Rational;
using Piece = TempoMap::Piece;

constexpr std::int64_t million = 1'000'000;

/// Steps a quarter note, a divisor of the resolution, that keep a ramp's beats within a millisecond: a step of 1/n quarter
/// at one tempo is off by half of n^-2 times the change of beat length at most (handbook 4.5, differentiated).
int stepsAQuarter (const Piece& ramp, int ticksPerQuarter)
{
    const auto first = static_cast<double> (toLongDouble (ramp.first)), last = static_cast<double> (toLongDouble (ramp.last));
    const double slow = std::min (first, last), quarters = static_cast<double> (toLongDouble (ramp.to - ramp.from));
    const double slope = ramp.course == Course::rampInBeat ? std::abs (last - first) / quarters
                                                           : std::abs (last * last - first * first) / (2 * quarters * slow);
    const double least = std::sqrt (7500 * slope) / slow;
    for (int n = 1; n < ticksPerQuarter; ++n)
        if (ticksPerQuarter % n == 0 && n >= least)
            return n;
    return ticksPerQuarter;
}

struct Cut
{
    Rational position;
    const Piece* piece = nullptr;
};

/// Where a tempo has to be written: at every piece, and inside ramps step by step.
std::vector<Cut> cutsOf (const TempoMap& map, const Rational& from, int ticksPerQuarter)
{
    std::vector<Cut> cuts;
    for (const auto& piece : map.pieces())
    {
        const bool last = &piece == &map.pieces().back();
        if (! last && piece.to <= from)
            continue;
        const auto begin = std::max (piece.from, from);
        if (piece.course == Course::steady)
        {
            cuts.push_back ({ begin, &piece });
            continue;
        }
        const Rational step (1, stepsAQuarter (piece, ticksPerQuarter));
        for (Rational at = piece.from; at < piece.to; at += step)
            if (at + step > begin)
                cuts.push_back ({ std::max (at, begin), &piece });
    }
    // The first tempo also holds before the first piece.
    cuts.front().position = from;
    return cuts;
}

std::int64_t clampedRound (const Rational& micros, std::int64_t low, std::int64_t high)
{
    return std::clamp (time::roundOf (micros), low, high);
}
} // namespace

Result<std::vector<WrittenStep>> writtenSteps (const TempoMap& map, const Rational& from, int ticksPerQuarter)
{
    if (ticksPerQuarter < 1 || ticksPerQuarter > 0x7FFF)
        return usageError ("ticks a quarter " + std::to_string (ticksPerQuarter), "have to be 1 to 32767");
    const auto cuts = cutsOf (map, from, ticksPerQuarter);
    const auto begin = map.timeOf (from);
    const auto tickOf = [&] (const Rational& position) { return time::roundOf ((position - from) * Rational (ticksPerQuarter)); };
    const auto positionOf = [&] (std::int64_t tick) { return from + Rational (tick, ticksPerQuarter); };
    std::vector<WrittenStep> steps;
    std::int64_t written = 0; // microseconds times ticks a quarter, up to the step at hand
    for (std::size_t i = 0; i < cuts.size(); ++i)
    {
        const auto& piece = *cuts[i].piece;
        const auto tick = tickOf (cuts[i].position);
        const bool last = i + 1 == cuts.size();
        const auto next = last ? tick : tickOf (cuts[i + 1].position);
        if (! last && next == tick)
            continue; // shorter than a tick
        const auto here = [&]
        { return barBeatText (map.barBeatOf (cuts[i].position)) + (piece.stretch ? ", a hold or free passage" : ""); };
        const auto nominal = writtenTempo (piece.first);
        if (! nominal && piece.course == Course::steady)
            return usageError (here(), nominal.error().message + (piece.stretch ? "; let it hold a longer note, or split it" : ""));
        WrittenTempo tempo;
        if (last)
            tempo = *nominal;
        else
        {
            const auto ends = (map.timeOf (positionOf (next)) - begin) * Rational (million * ticksPerQuarter);
            const auto micros = (ends - Rational (written)) / Rational (next - tick);
            if (piece.course == Course::steady)
                tempo.microsPerQuarter =
                    std::max<std::int64_t> (1, clampedRound (micros, nominal->microsPerQuarter - 1,
                                                             std::min<std::int64_t> (nominal->microsPerQuarter + 1, 0xFFFFFF)));
            else
                tempo.microsPerQuarter = time::roundOf (micros);
            if (tempo.microsPerQuarter < 1 || tempo.microsPerQuarter > 0xFFFFFF)
                return usageError (here(), "the ramp is slower or faster there than a MIDI file can say");
        }
        written += (next - tick) * tempo.microsPerQuarter;
        if (steps.empty() || ! (steps.back().tempo == tempo))
            steps.push_back ({ tick, positionOf (tick), tempo });
    }
    return steps;
}
} // namespace shutterbeat::music
