#include "scan/CadenceSearch.h"

#include "scan/CadenceFit.h"
#include "scan/CadencePatterns.h"

#include "time/Rate.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t shortestPlain = 24; // file frames; twice that say that nothing is repeated
constexpr double jumpCost = 12;            // the phase breaks somewhere
constexpr double jumpAtHeadCost = 6;       // it breaks where a shot begins
constexpr double leaveCost = 25;           // repeats stop, or begin

double normal (double x, double mean, double deviation)
{
    const double z = (x - mean) / deviation;
    return -0.5 * z * z - std::log (deviation);
}

/// The most likely first file frames of film frames: a path through the phases of the patterns found and "one to one".
std::vector<std::int64_t> mostLikelyStarts (const Movement& movement, const std::vector<Stretch>& stretches,
                                            const std::vector<CadencePattern>& patterns, const std::vector<int>& found)
{
    struct State
    {
        std::uint16_t follows = 0; // the state of the next frame
        bool isNew = true;
        int pattern = -1;
    };
    std::vector<State> states{ {} }; // 0: one to one
    for (const int p : found)
    {
        const auto base = states.size();
        const auto& bits = patterns[static_cast<std::size_t> (p)].isNew;
        for (std::size_t i = 0; i < bits.size(); ++i)
            states.push_back ({ static_cast<std::uint16_t> (base + (i + 1) % bits.size()), bits[i], p });
    }
    // Pooled levels of the stretches that answered.
    double newMean = 0;
    double repeatMean = 0;
    double deviation = 0;
    double weight = 0;
    for (const auto& stretch : stretches)
        if (stretch.answer >= 0)
        {
            const auto n = static_cast<double> (stretch.end - stretch.first);
            newMean += n * stretch.newMean;
            repeatMean += n * stretch.repeatMean;
            deviation += n * stretch.deviation;
            weight += n;
        }
    newMean /= weight;
    repeatMean /= weight;
    deviation = std::max (0.15, deviation / weight);

    const auto frames = static_cast<std::int64_t> (movement.relative.size());
    const std::size_t count = states.size();
    constexpr double never = -1e18;
    std::vector<double> score (count, 0.0);
    score[0] = -leaveCost;
    std::vector<std::uint16_t> from (static_cast<std::size_t> (frames) * count);
    std::size_t at = 0;
    for (std::int64_t n = 1; n < frames; ++n)
    {
        while (at + 1 < stretches.size() && n >= stretches[at].end)
            ++at;
        const Stretch& stretch = stretches[at];
        const bool head = movement.isHead[static_cast<std::size_t> (n)];
        const auto judgedBy = static_cast<std::size_t> (stretch.answer >= 0 ? stretch.answer : found.front());
        const double value = movement.along (patterns[judgedBy], stretch)[static_cast<std::size_t> (n)];
        // Levels of the stretch itself where it answered, else of the film; no single frame decides.
        const bool own = stretch.answer >= 0;
        const double asNew = normal (value, own ? stretch.newMean : newMean, own ? std::max (0.15, stretch.deviation) : deviation);
        const double asRepeat =
            normal (value, own ? stretch.repeatMean : repeatMean, own ? std::max (0.15, stretch.deviation) : deviation);
        const double gain = head ? 6.0 : std::clamp (asNew - asRepeat, -4.0, 4.0); // for "new" over "repeat"

        const auto bestBefore = static_cast<std::size_t> (std::max_element (score.begin(), score.end()) - score.begin());
        const double jumped = score[bestBefore] - (head ? jumpAtHeadCost : jumpCost);
        std::vector<double> next (count, never);
        auto* back = from.data() + static_cast<std::size_t> (n) * count;
        for (std::size_t s = 0; s < count; ++s)
        {
            const std::size_t to = states[s].follows;
            if (score[s] > next[to])
            {
                next[to] = score[s];
                back[to] = static_cast<std::uint16_t> (s);
            }
        }
        for (std::size_t s = 0; s < count; ++s)
        {
            const bool leaves = (states[s].pattern < 0) != (states[bestBefore].pattern < 0);
            const double candidate = leaves ? score[bestBefore] - leaveCost : jumped;
            if (candidate > next[s])
            {
                next[s] = candidate;
                back[s] = static_cast<std::uint16_t> (bestBefore);
            }
            double likely = 0;
            if (states[s].pattern < 0)
                likely = stretch.plain ? std::max (0.0, gain) * 0.5 : -0.5;
            else if (! states[s].isNew)
                likely = -gain;
            next[s] += likely;
        }
        score = std::move (next);
    }
    std::vector<std::int64_t> starts;
    auto state = static_cast<std::size_t> (std::max_element (score.begin(), score.end()) - score.begin());
    for (std::int64_t n = frames - 1; n >= 1; --n)
    {
        if (states[state].isNew)
            starts.push_back (n);
        state = from[static_cast<std::size_t> (n) * count + state];
    }
    starts.push_back (0);
    std::reverse (starts.begin(), starts.end());
    return starts;
}

std::string patternSaid (const CadencePattern& pattern, const std::optional<time::Rational>& fileRate)
{
    std::string text = cycleText (pattern.cycle);
    if (fileRate)
        text += ", " + time::speedText (*fileRate * pattern.share) + " film frames a second at " + time::speedText (*fileRate);
    return text;
}

CadenceKind kindOf (const Stretch& stretch, double usualMovement)
{
    constexpr double hardlyMoves = 0.2; // of what is usual in the film
    if (stretch.answer >= 0)
        return CadenceKind::regular;
    if (stretch.blended)
        return CadenceKind::blended;
    if (stretch.plain)
        return CadenceKind::plain;
    if (stretch.movement < std::max (0.3, hardlyMoves * usualMovement))
        return CadenceKind::still;
    return stretch.stray ? CadenceKind::irregular : CadenceKind::unsure;
}

std::vector<CadenceStretch> mergedStretches (const std::vector<Stretch>& stretches, const std::vector<CadencePattern>& patterns,
                                             const std::optional<time::Rational>& fileRate, std::int64_t frames)
{
    std::vector<double> movements;
    for (const auto& stretch : stretches)
        movements.push_back (stretch.movement);
    const double usual = medianOf (movements);
    std::vector<CadenceStretch> merged;
    for (const auto& stretch : stretches)
    {
        CadenceStretch one;
        one.firstFile = merged.empty() ? 0 : stretch.first;
        one.endFile = stretch.end;
        one.kind = kindOf (stretch, usual);
        if (stretch.answer >= 0)
        {
            const CadencePattern& pattern = patterns[static_cast<std::size_t> (stretch.answer)];
            one.cycle = pattern.cycle;
            if (fileRate)
                one.speed = *fileRate * pattern.share;
        }
        if (! merged.empty() && merged.back().kind == one.kind && merged.back().cycle == one.cycle)
            merged.back().endFile = one.endFile;
        else
            merged.push_back (std::move (one));
    }
    if (merged.empty())
        merged.push_back ({ 0, frames, CadenceKind::unsure, {}, {} });
    merged.back().endFile = frames;
    return merged;
}
} // namespace

CadenceFinding findCadence (const Measures& measures, const std::vector<std::int64_t>& heads,
                            const std::optional<time::Rational>& fileRate)
{
    CadenceFinding finding;
    const auto frames = static_cast<std::int64_t> (measures.frames.size());
    finding.cadence = film::Cadence::oneToOne (frames);
    finding.said = frames == 0 ? "no frames" : "no repeats found: one to one";
    if (frames == 0)
        return finding;
    const auto movement = movementOf (measures, heads);
    const auto patterns = cadencePatterns (fileRate);
    auto stretches = judgedStretches (measures, movement, heads, patterns);

    std::vector<std::int64_t> answered (patterns.size());
    std::vector<double> movements;
    for (const auto& stretch : stretches)
        if (stretch.answer >= 0)
        {
            answered[static_cast<std::size_t> (stretch.answer)] += stretch.end - stretch.first;
            movements.push_back (stretch.movement);
        }
    std::vector<int> found;
    for (std::size_t p = 0; p < patterns.size(); ++p)
        if (answered[p] > 0)
            found.push_back (static_cast<int> (p));
    const double usual = medianOf (movements);
    for (auto& stretch : stretches)
        stretch.plain = stretch.answer < 0 && ! stretch.blended && ! stretch.stray
                        && stretch.end - stretch.first >= 2 * shortestPlain && stretch.best < 8
                        && stretch.movement > std::max (1.0, 0.5 * usual);
    finding.stretches = mergedStretches (stretches, patterns, fileRate, frames);
    const auto any = [&] (CadenceKind kind)
    {
        return std::any_of (finding.stretches.begin(), finding.stretches.end(),
                            [kind] (const CadenceStretch& stretch) { return stretch.kind == kind; });
    };
    if (found.empty())
    {
        if (any (CadenceKind::blended))
            finding.said = "film frames blended with their neighbours: taken one to one";
        else if (any (CadenceKind::irregular))
            finding.said = "repeats without a regular cadence: taken one to one";
        else if (! any (CadenceKind::plain))
            finding.said = "not sure whether anything is repeated: taken one to one";
        return finding;
    }
    auto cadence = film::Cadence::fromStarts (mostLikelyStarts (movement, stretches, patterns, found), frames);
    if (! cadence)
        return finding;
    finding.cadence = *cadence;
    finding.sure = true;
    finding.said = "measured ";
    for (std::size_t i = 0; i < found.size(); ++i)
        finding.said += (i > 0 ? "; elsewhere " : "") + patternSaid (patterns[static_cast<std::size_t> (found[i])], fileRate);
    finding.said += ", sure";
    if (found.size() == 1 && fileRate)
        finding.speed = *fileRate * patterns[static_cast<std::size_t> (found[0])].share;
    for (const auto& [kind, words] :
         { std::pair{ CadenceKind::plain, "repeat nothing" }, std::pair{ CadenceKind::blended, "are blended" },
           std::pair{ CadenceKind::irregular, "repeat without a cadence" } })
        if (any (kind))
        {
            finding.said += std::string ("; some stretches ") + words;
            finding.speed.reset();
        }
    return finding;
}
} // namespace shutterbeat::scan
