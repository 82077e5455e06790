#include "scan/MatchRefine.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace shutterbeat::scan
{
namespace
{
/// The new frame in the middle of the i-th of as many equal parts of a run as there are samples.
std::int64_t sampledFrame (const MatchedRun& run, std::int64_t i, std::int64_t samples)
{
    return run.newFirst + (2 * i + 1) * run.frames / (2 * samples);
}

constexpr std::int64_t mostSampled = 40;    // frames of a run
constexpr std::int64_t farthest = 8;        // film frames a run may be moved by
constexpr float independentFrames = 12;     // errors of a laying go through a whole shot, so that more frames are no more proof
constexpr float softest = 0.008F;           // weave is taken out
constexpr float contest = 1;                // in favour of the best offset; below it both are looked at again
constexpr std::int64_t enoughForShift = 16; // frames of a run
constexpr float alikeEnough = 0.4F;         // pictures whose shift means something
constexpr int fewest = 4;                   // of them
constexpr float edgeWorth = 6;              // in favour of a run that begins or ends at a cut of both prints
const float perCell = 1 / std::sqrt (static_cast<float> (Fingerprint::size));
constexpr float onePicture = 0.0012F; // distance below which two frames of a print are one picture

const Question& questionAt (const std::vector<Question>& questions, std::int64_t frame)
{
    return *std::prev (std::upper_bound (questions.begin(), questions.end(), frame,
                                         [] (std::int64_t n, const Question& q) { return n < q.piece.first; }));
}

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
        // A still that fades may lie far off at first.
        constexpr int mostRounds = 8;
        for (int round = 0; round < mostRounds; ++round)
            if (std::abs (moveRun (run)) < farthest)
                return;
    }

private:
    /// By how many frames it was moved.
    std::int64_t moveRun (MatchedRun& run)
    {
        offsets.assign (2 * farthest + 1, 0);
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
            for (std::int64_t e = -farthest; e <= farthest; ++e)
            {
                const auto there = std::clamp<std::int64_t> (o + e, 0, static_cast<std::int64_t> (before.frames.size()) - 1);
                const Fingerprint& old = before.frames[static_cast<std::size_t> (there)];
                const float norm = layer->oldNorm (old);
                const float distance = steadyLaidDistance (print, old, norm);
                const float told = std::min (toldBy (print.laid.texture, after.dark), toldBy (norm * perCell, before.dark));
                offsets[static_cast<std::size_t> (e + farthest)] += costOf (distance, told, softest);
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
        lookAgain (run, samples, weight);
        std::vector<std::int64_t> cuts;
        for (auto n = run.newFirst; n <= run.newFirst + run.frames; ++n)
            if (at (newCuts, n))
                cuts.push_back (n);
        for (std::int64_t e = -farthest; e <= farthest; ++e)
        {
            float& cost = offsets[static_cast<std::size_t> (e + farthest)];
            cost *= weight;
            // A still picture is rather kept from its head.
            for (const auto n : cuts)
                if (at (oldCuts, run.oldFirst + e + n - run.newFirst))
                    cost -= n == run.newFirst + run.frames ? edgeWorth - 1 : edgeWorth;
        }
        const auto best =
            static_cast<std::int64_t> (std::min_element (offsets.begin(), offsets.end()) - offsets.begin()) - farthest;
        float all = 0;
        for (std::int64_t e = -farthest; e <= farthest; ++e)
        {
            const float likely =
                std::exp (offsets[static_cast<std::size_t> (best + farthest)] - offsets[static_cast<std::size_t> (e + farthest)]);
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
        return static_cast<std::int64_t> (std::min_element (offsets.begin(), offsets.end()) - offsets.begin()) - farthest;
    }

    /// Weave that drifts lies to one side for a whole run, and a moving camera makes up for it a frame early or late: where the
    /// best offset is contested, it and its rivals are looked at again, each laid where most of its frames lie.
    void lookAgain (const MatchedRun& run, std::int64_t samples, float weight)
    {
        const auto best = bestOffset();
        const float rival = offsets[static_cast<std::size_t> (best + farthest)] + contest / weight;
        std::vector<std::int64_t> near;
        for (auto e = std::max (-farthest, best - 2); e <= std::min (farthest, best + 2); ++e)
            if (offsets[static_cast<std::size_t> (e + farthest)] < rival)
                near.push_back (e);
        if (near.size() < 2)
            return;
        for (const auto e : near)
            if (const auto shift = lookAt (run, std::min (samples, enoughForShift), e, {}).shift)
                offsets[static_cast<std::size_t> (e + farthest)] = lookAt (run, samples, e, *shift).cost;
    }

    /// The cost of a run at one offset with every picture moved by `moved` cells, and where its pictures lie on the average.
    struct Look
    {
        float cost = 0;
        std::optional<std::array<double, 2>> shift;
    };

    [[nodiscard]] Look lookAt (const MatchedRun& run, std::int64_t samples, std::int64_t e,
                               const std::array<double, 2>& moved) const
    {
        Look look;
        std::array<double, 2> sum{};
        int seen = 0;
        const Question* asked = nullptr;
        std::optional<Layer> layer;
        for (std::int64_t i = 0; i < samples; ++i)
        {
            const auto n = sampledFrame (run, i, samples);
            const Question& question = questionAt (questions, n);
            if (&question != asked)
            {
                auto laying = question.laying;
                laying.registration.shiftX += moved[0];
                laying.registration.shiftY += moved[1];
                layer.emplace (laying);
                asked = &question;
            }
            SlopedPrint print;
            layer->lay (after.frames[static_cast<std::size_t> (n)], print.laid);
            addSlopes (print);
            const auto there = std::clamp<std::int64_t> (run.oldFirst + n - run.newFirst + e, 0,
                                                         static_cast<std::int64_t> (before.frames.size()) - 1);
            const Fingerprint& old = before.frames[static_cast<std::size_t> (there)];
            const float norm = layer->oldNorm (old);
            const float distance = steadyLaidDistance (print, old, norm);
            const float told = std::min (toldBy (print.laid.texture, after.dark), toldBy (norm * perCell, before.dark));
            look.cost += costOf (distance, told, softest);
            if (told < 0.2F || distance > alikeEnough)
                continue;
            if (const auto shift = shiftOf (print, old))
            {
                sum[0] += (*shift)[0];
                sum[1] += (*shift)[1];
                ++seen;
            }
        }
        if (seen >= fewest)
            look.shift = std::array<double, 2>{ sum[0] / seen, sum[1] / seen };
        return look;
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
               < onePicture;
    }

    const PrintFrames& before;
    const PrintFrames& after;
    const std::vector<Question>& questions;
    std::vector<bool> oldCuts, newCuts;
    std::vector<float> offsets;
};
} // namespace

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
}
} // namespace shutterbeat::scan
