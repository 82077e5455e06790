#include "scan/MatchRefine.h"

#include "scan/MatchSeries.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t mostSampled = 40;  // frames of a run
constexpr std::int64_t farthestMoved = 8; // film frames a run may be moved by
constexpr float independentFrames = 6;    // errors of a laying go through a whole shot, so that more frames are no more proof
constexpr float softest = 0.008F;         // weave is taken out
constexpr float contest = 8;              // in favour of the best offset; below it steps are looked at too
constexpr std::int64_t stepsAround = 3;   // film frames
constexpr float edgeWorth = 6;            // in favour of a run that begins or ends at a cut of both prints
constexpr float borderWorth = 40;         // in favour of the neighbour: a shot's last pictures say half of that by chance
const float perCell = 1 / std::sqrt (static_cast<float> (Fingerprint::size));
constexpr float samePictureBelow = 0.0012F; // distance below which two frames of a print are one picture

class Refiner
{
public:
    Refiner (const PrintFrames& old, const PrintFrames& now, const std::vector<Question>& all)
        : before (old)
        , after (now)
        , questions (all)
        , oldCuts (plainCuts (old))
        , newCuts (plainCuts (now))
    {
    }

    void refineRun (MatchedRun& run)
    {
        // A still that fades may lie far off at first, and steps are told best from close by.
        constexpr int mostRounds = 8;
        for (int round = 0; round < mostRounds; ++round)
            if (moveRun (run) == 0)
                return;
    }

    /// Where a run and the next lie close to each other in the old print too, a few frames of either may go on as the other
    /// does: somebody cut within a dissolve, and the path took the cut that it saw.
    void settleBorder (MatchedRun& earlier, MatchedRun& later) const
    {
        const auto border = later.newFirst;
        const auto earlierBy = earlier.oldFirst - earlier.newFirst, laterBy = later.oldFirst - later.newFirst;
        if (earlier.newFirst + earlier.frames != border || earlierBy == laterBy || std::abs (earlierBy - laterBy) > closeBy
            || earlier.mirrored != later.mirrored)
            return;
        const auto goesOn = [&] (std::int64_t frames, std::int64_t first, std::int64_t step, std::int64_t by, std::int64_t own)
        {
            float gain = 0, most = 0;
            std::int64_t best = 0;
            for (std::int64_t k = 0; k < std::min (frames - 1, closeBy); ++k)
            {
                gain += frameCost (before, after, questions, first + step * k, own)
                        - frameCost (before, after, questions, first + step * k, by);
                if (gain > most)
                {
                    most = gain;
                    best = k + 1;
                }
            }
            return most > borderWorth ? best : 0;
        };
        const auto on = goesOn (later.frames, border, 1, earlierBy, laterBy);
        const auto back = on > 0 ? 0 : goesOn (earlier.frames, border - 1, -1, laterBy, earlierBy);
        earlier.frames += on - back;
        later.frames -= on - back;
        later.newFirst += on - back;
        later.oldFirst += on - back;
    }

private:
    /// By how many frames it was moved.
    std::int64_t moveRun (MatchedRun& run)
    {
        offsets.assign (2 * farthestMoved + 1, 0);
        float bestDistance = 0;
        int sampled = 0;
        const auto samples = std::min (run.frames, mostSampled);
        const Question* asked = nullptr;
        std::optional<Layer> layer;
        for (std::int64_t i = 0; i < samples; ++i)
        {
            const auto n = sampledFrame (run, i, samples);
            const Question& question = questionAt (questions, n);
            if (&question != asked)
            {
                layer.emplace (question.laying);
                asked = &question;
            }
            SlopedPrint print;
            layer->lay (after.frames[static_cast<std::size_t> (n)], print.laid);
            addSlopes (print);
            const auto o = run.oldFirst + n - run.newFirst;
            float least = 2;
            float mostTold = 0;
            for (std::int64_t e = -farthestMoved; e <= farthestMoved; ++e)
            {
                const auto there = std::clamp<std::int64_t> (o + e, 0, static_cast<std::int64_t> (before.frames.size()) - 1);
                const Fingerprint& old = before.frames[static_cast<std::size_t> (there)];
                const float norm = layer->oldNorm (old);
                const float distance = steadyLaidDistance (print, old, norm);
                const float told = std::min (toldBy (print.laid.texture, after.dark), toldBy (norm * perCell, before.dark));
                offsets[static_cast<std::size_t> (e + farthestMoved)] += costOf (distance, told, softest);
                least = std::min (least, distance);
                mostTold = std::max (mostTold, told);
            }
            if (mostTold > 0.2F)
            {
                bestDistance += least;
                ++sampled;
            }
        }
        if (sampled == 0)
        {
            run.sure = 0.5;
            run.exact = 0.5;
            return 0;
        }
        const float weight = std::min (1.0F, independentFrames / static_cast<float> (samples));
        const auto light = lightCosts (before, after, run, farthestMoved);
        for (std::size_t i = 0; i < offsets.size(); ++i)
            offsets[i] = weight * offsets[i] + light[i];
        weighSteps (run);
        std::vector<std::int64_t> cuts;
        for (auto n = run.newFirst; n <= run.newFirst + run.frames; ++n)
            if (at (newCuts, n))
                cuts.push_back (n);
        for (std::int64_t e = -farthestMoved; e <= farthestMoved; ++e)
        {
            float& cost = offsets[static_cast<std::size_t> (e + farthestMoved)];
            // A still picture is rather kept from its head.
            for (const auto n : cuts)
                if (at (oldCuts, run.oldFirst + e + n - run.newFirst))
                    cost -= n == run.newFirst + run.frames ? edgeWorth - 1 : edgeWorth;
        }
        const auto best =
            static_cast<std::int64_t> (std::min_element (offsets.begin(), offsets.end()) - offsets.begin()) - farthestMoved;
        float all = 0;
        for (std::int64_t e = -farthestMoved; e <= farthestMoved; ++e)
        {
            const float likely = std::exp (offsets[static_cast<std::size_t> (best + farthestMoved)]
                                           - offsets[static_cast<std::size_t> (e + farthestMoved)]);
            if (e == best || ! samePicture (run.oldFirst + run.frames / 2 + e, run.oldFirst + run.frames / 2 + best))
                all += likely;
        }
        run.exact = static_cast<double> (1 / all);
        // From sure at a tenth to lost at the limit of likeness.
        run.sure = static_cast<double> (std::clamp (1.25F - 2.5F * bestDistance / static_cast<float> (sampled), 0.0F, 1.0F));
        run.oldFirst =
            std::clamp<std::int64_t> (run.oldFirst + best, 0, static_cast<std::int64_t> (before.frames.size()) - run.frames);
        return best;
    }

    [[nodiscard]] std::int64_t bestOffset() const
    {
        return static_cast<std::int64_t> (std::min_element (offsets.begin(), offsets.end()) - offsets.begin()) - farthestMoved;
    }

    /// Coding lets what moves lag behind, and weave that drifts is made up for by a camera that moves, a frame early or late:
    /// where the offset is contested, how even the weave is has its say too.
    void weighSteps (const MatchedRun& run)
    {
        const auto best = bestOffset();
        const auto costAt = [&] (std::int64_t e) -> float& { return offsets[static_cast<std::size_t> (e + farthestMoved)]; };
        const auto from = std::max (-farthestMoved, best - stepsAround), to = std::min (farthestMoved, best + stepsAround);
        bool contested = false;
        for (auto e = from; e <= to; ++e)
            contested = contested || (e != best && costAt (e) < costAt (best) + contest);
        if (! contested)
            return;
        auto there = run;
        there.oldFirst += best;
        const auto costs = stepCosts (before, after, questions, there, stepsAround);
        const float own = costs[static_cast<std::size_t> (stepsAround)];
        // What lies farther off than was looked at is no likelier for it.
        for (std::int64_t e = -farthestMoved; e <= farthestMoved; ++e)
        {
            const auto near = std::clamp (e - best, -stepsAround, stepsAround);
            const float step = costs[static_cast<std::size_t> (near + stepsAround)] - own;
            costAt (e) += near == e - best ? step : std::max (0.0F, step);
        }
    }

    static bool at (const std::vector<bool>& marks, std::int64_t frame)
    {
        return frame >= 0 && frame < static_cast<std::int64_t> (marks.size()) && marks[static_cast<std::size_t> (frame)];
    }
    [[nodiscard]] bool samePicture (std::int64_t a, std::int64_t b) const
    {
        const auto last = static_cast<std::int64_t> (before.frames.size()) - 1;
        return distance (before.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (a, 0, last))],
                         before.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (b, 0, last))])
               < samePictureBelow;
    }

    const PrintFrames& before;
    const PrintFrames& after;
    const std::vector<Question>& questions;
    std::vector<bool> oldCuts, newCuts;
    std::vector<float> offsets;
};
} // namespace

float frameCost (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions, std::int64_t frame,
                 std::int64_t by)
{
    const Layer layer (questionAt (questions, frame).laying);
    SlopedPrint print;
    layer.lay (after.frames[static_cast<std::size_t> (frame)], print.laid);
    addSlopes (print);
    const auto last = static_cast<std::int64_t> (before.frames.size()) - 1;
    const Fingerprint& old = before.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (frame + by, 0, last))];
    const float norm = layer.oldNorm (old);
    return costOf (steadyLaidDistance (print, old, norm),
                   std::min (toldBy (print.laid.texture, after.dark), toldBy (norm * perCell, before.dark)), softest);
}

void registerAgain (const PrintFrames& before, const PrintFrames& after, const std::vector<MatchedRun>& runs,
                    std::vector<Question>& questions)
{
    constexpr std::size_t mostPairs = 80;
    constexpr std::int64_t perRun = 5;
    constexpr float alikeEnough = 0.3F;
    std::int64_t turnedFrames = 0;
    for (const auto& question : questions)
        turnedFrames += question.laying.mirrored ? question.piece.frames() : -question.piece.frames();
    const bool usual = turnedFrames > 0;
    struct Pair
    {
        float moves = 0;
        std::int64_t oldFrame = 0, newFrame = 0;
    };
    std::vector<Pair> pairs;
    const auto last = static_cast<std::int64_t> (before.frames.size()) - 1;
    for (const auto& run : runs)
        for (std::int64_t i = 0; i < std::min (perRun, run.frames); ++i)
        {
            const auto k = (2 * i + 1) * run.frames / (2 * std::min (perRun, run.frames));
            const auto o = run.oldFirst + k, n = run.newFirst + k;
            const Question& question = questionAt (questions, n);
            if (question.laying.mirrored != usual)
                continue;
            const Layer layer (question.laying);
            LaidPrint laid;
            layer.lay (after.frames[static_cast<std::size_t> (n)], laid);
            const Fingerprint& old = before.frames[static_cast<std::size_t> (o)];
            if (laidDistance (laid, old, layer.oldNorm (old)) < alikeEnough)
                pairs.push_back ({ distance (old, before.frames[static_cast<std::size_t> (std::min (last, o + 2))]), o, n });
        }
    std::sort (pairs.begin(), pairs.end(), [] (const Pair& a, const Pair& b) { return a.moves < b.moves; });
    pairs.resize (std::min (pairs.size(), mostPairs));
    std::vector<std::pair<Fingerprint, Fingerprint>> pictures;
    for (const auto& pair : pairs)
    {
        const Fingerprint& now = after.frames[static_cast<std::size_t> (pair.newFrame)];
        pictures.emplace_back (before.frames[static_cast<std::size_t> (pair.oldFrame)], usual ? mirrored (now) : now);
    }
    const auto found = registrationOf (pictures);
    if (! found)
        return;
    for (auto& question : questions)
    {
        question.laying.registration = *found;
        if (question.laying.mirrored != usual)
            question.laying.registration.shiftX = -found->shiftX;
    }
}

void refine (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
             std::vector<MatchedRun>& runs)
{
    Refiner refiner (before, after, questions);
    for (auto& run : runs)
    {
        run.mirrored = questionAt (questions, run.newFirst).laying.mirrored;
        refiner.refineRun (run);
    }
    for (std::size_t i = 1; i < runs.size(); ++i)
        refiner.settleBorder (runs[i - 1], runs[i]);
}
} // namespace shutterbeat::scan
