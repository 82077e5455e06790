#include "scan/MatchPath.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace shutterbeat::scan
{
namespace
{
constexpr float independentCells = 40; // of the 432: neighbours share most of their light
constexpr float softestWoven = 0.03F;  // weave is not taken out yet
constexpr float foreign = 0.42F;       // pictures this far apart are no longer one
constexpr float mostCost = 3;          // a damaged picture ends no run
constexpr float leapCost = 10;         // from run to run at a cut of the new print
constexpr float newCost = 5;           // from a run to pictures that are new, and back, at a cut of the new print
constexpr float insideCost = 180;      // more for either within a shot
constexpr float offEdgeCost = 4;       // for a run that begins or ends elsewhere than at a cut of both prints
constexpr float crossCost = 10;        // for a run that goes on over a cut that only one print has
constexpr float skipCost = 120;        // a few frames left out within a shot
constexpr std::int32_t farthestSkip = 24;
constexpr std::int32_t none = -1;

struct State
{
    std::int32_t old = none;
    std::int32_t from = -1; ///< index among the states of the frame before
    float cost = 0;
};

/// What is kept of a state once the next frame is reached.
struct Step
{
    std::int32_t old = none;
    std::int32_t from = -1;
};

/// The old frames that new frame n may show, rising.
void statesFor (const std::vector<Band>& bands, std::int64_t n, std::vector<std::int32_t>& olds)
{
    olds.clear();
    for (const auto& band : bands)
        for (auto o = std::max (band.first, n + band.low); o < std::min (band.end, n + band.high + 1); ++o)
            olds.push_back (static_cast<std::int32_t> (o));
    std::sort (olds.begin(), olds.end());
    olds.erase (std::unique (olds.begin(), olds.end()), olds.end());
}

/// Norms of old frames under one laying, worked out when first asked for.
class OldNorms
{
public:
    explicit OldNorms (const PrintFrames& print)
        : frames (print.frames)
        , norms (frames.size())
        , knownFor (frames.size())
    {
    }
    /// Forgets all: another laying.
    void begin (const Layer& next)
    {
        layer = &next;
        ++round;
    }
    float operator() (std::int32_t frame)
    {
        const auto i = static_cast<std::size_t> (frame);
        if (knownFor[i] != round)
        {
            norms[i] = layer->oldNorm (frames[i]);
            knownFor[i] = round;
        }
        return norms[i];
    }

private:
    std::span<const Fingerprint> frames;
    std::vector<float> norms;
    std::vector<std::uint32_t> knownFor;
    std::uint32_t round = 0;
    const Layer* layer = nullptr;
};
} // namespace

std::vector<bool> plainCuts (const PrintFrames& print)
{
    const auto shown = [&] (std::size_t frame)
    { return frame < print.frames.size() && textureOf (print.frames[frame]) > print.dark; };
    std::vector<bool> cuts (print.frames.size() + 1);
    for (const auto& shot : print.shots)
        for (const auto at : { static_cast<std::size_t> (shot.first), static_cast<std::size_t> (shot.end) })
            cuts[at] = shown (at) || (at > 0 && shown (at - 1));
    return cuts;
}

float costOf (float distance, float told, float floor)
{
    return told * std::min (mostCost, independentCells / 2 * std::log ((distance + floor) / foreign));
}

std::vector<std::int32_t> cheapestPath (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions)
{
    const auto oldCuts = plainCuts (before), newCuts = plainCuts (after);
    const float perCell = 1 / std::sqrt (static_cast<float> (Fingerprint::size));
    // The steps of a piece lie in one block, those of its frames one after another: there are millions of them.
    std::vector<std::vector<Step>> all (questions.size());
    std::vector<std::uint32_t> starts (after.frames.size());
    std::vector<Step> steps;
    std::vector<State> states{ State{} }, lastStates;
    std::vector<std::int32_t> olds;
    std::vector<std::size_t> cheap; // states before, so cheap that frames may be left out after them
    LaidPrint laid;
    OldNorms norms (before);
    for (std::size_t q = 0; q < questions.size(); ++q)
    {
        const Question& question = questions[q];
        const Layer layer (question.laying);
        norms.begin (layer);
        steps.clear();
        for (auto n = question.piece.first; n < question.piece.end; ++n)
        {
            statesFor (question.bands, n, olds);
            std::swap (states, lastStates);
            states.clear();
            const auto* last = &lastStates;
            const auto frame = static_cast<std::size_t> (n);
            const float inside = n == after.shots[question.piece.shot].first ? 0 : insideCost;
            const auto leaving = [&] (const State& s)
            { return s.cost + (newCuts[frame] && oldCuts[static_cast<std::size_t> (s.old) + 1] ? 0 : offEdgeCost); };
            // The cheapest way out of any run, and out of new pictures.
            std::int32_t bestRun = -1;
            float bestRunCost = std::numeric_limits<float>::max();
            for (std::size_t i = 1; i < last->size(); ++i)
                if (const float cost = leaving ((*last)[i]); cost < bestRunCost)
                {
                    bestRunCost = cost;
                    bestRun = static_cast<std::int32_t> (i);
                }
            const float noneCost = last->front().cost;
            State unknown{ none, 0, noneCost };
            if (bestRun >= 0 && bestRunCost + newCost + inside / 2 < unknown.cost)
                unknown = { none, bestRun, bestRunCost + newCost + inside / 2 };
            states.push_back (unknown);
            // No state costs more than coming from new pictures or the cheapest run, so that few can be reached by a skip.
            const float mostSkipped =
                std::min (noneCost + newCost + inside / 2, bestRunCost + leapCost + inside) + offEdgeCost - skipCost;
            cheap.clear();
            for (std::size_t i = 1; i < last->size(); ++i)
                if ((*last)[i].cost < mostSkipped)
                    cheap.push_back (i);
            if (! olds.empty())
                layer.lay (after.frames[static_cast<std::size_t> (n)], laid);
            const float newTold = toldBy (laid.texture, after.dark);
            std::size_t at = 1, skippable = 0;
            for (const auto o : olds)
            {
                const float oldNorm = norms (o);
                const float emission = costOf (laidDistance (laid, before.frames[static_cast<std::size_t> (o)], oldNorm),
                                               std::min (newTold, toldBy (oldNorm * perCell, before.dark)), softestWoven);
                const float entering = newCuts[frame] && oldCuts[static_cast<std::size_t> (o)] ? 0 : offEdgeCost;
                State state{ o, 0, noneCost + newCost + inside / 2 + entering };
                if (bestRun >= 0 && bestRunCost + leapCost + inside + entering < state.cost)
                {
                    state.cost = bestRunCost + leapCost + inside + entering;
                    state.from = bestRun;
                }
                while (at < last->size() && (*last)[at].old < o - 1)
                    ++at;
                const float crossing = newCuts[frame] != oldCuts[static_cast<std::size_t> (o)] ? crossCost : 0;
                if (at < last->size() && (*last)[at].old == o - 1 && (*last)[at].cost + crossing <= state.cost)
                {
                    state.cost = (*last)[at].cost + crossing;
                    state.from = static_cast<std::int32_t> (at);
                }
                while (skippable < cheap.size() && (*last)[cheap[skippable]].old < o - 1)
                    ++skippable;
                for (std::size_t c = skippable; c-- > 0 && (*last)[cheap[c]].old >= o - farthestSkip;)
                    if (const State& from = (*last)[cheap[c]];
                        from.cost + skipCost + 0.1F * static_cast<float> (o - from.old) < state.cost)
                    {
                        state.cost = from.cost + skipCost + 0.1F * static_cast<float> (o - from.old);
                        state.from = static_cast<std::int32_t> (cheap[c]);
                    }
                state.cost += emission;
                states.push_back (state);
            }
            starts[frame] = static_cast<std::uint32_t> (steps.size());
            for (const auto& state : states)
                steps.push_back ({ state.old, state.from });
        }
        all[q] = steps;
    }
    std::vector<std::int32_t> path (after.frames.size(), none);
    std::size_t at = 0;
    for (std::size_t i = 1; i < states.size(); ++i)
        if (states[i].cost < states[at].cost)
            at = i;
    for (std::size_t q = questions.size(); q-- > 0;)
        for (auto n = questions[q].piece.end; n-- > questions[q].piece.first;)
        {
            const Step& step = all[q][starts[static_cast<std::size_t> (n)] + at];
            path[static_cast<std::size_t> (n)] = step.old;
            at = static_cast<std::size_t> (step.from);
        }
    return path;
}
} // namespace shutterbeat::scan
