#include "scan/ChangeTracker.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t slowReach = 9;    // distinct pictures each way for slow changes
constexpr std::int64_t returnReach = 12; // a flash or a dip is over after that many
constexpr std::int64_t laterLook = 8;    // pictures after a return that may show it, when it fades in
constexpr std::size_t keptBack = 2 * slowReach + 4;
constexpr float worthMixing = 0.3F; // pictures on both sides at least this unlike
constexpr float worthFine = 0.10F;  // coarse changes below this are none

/// The change between two sides, each of one or more pictures: per block the smallest distance of any pair (so that one bad
/// picture on either side means nothing), weighted by the texture that persists on a side (dirt does not).
struct Sums
{
    float weights = 0;
    float weighted = 0;
    float blocks = 0;
};

template <class Picture>
Sums compare (const std::vector<const Picture*>& before, const std::vector<const Picture*>& after, float noise)
{
    typename Picture::PerBlock best;
    best.fill (2.0F);
    for (const Picture* a : before)
        for (const Picture* b : after)
        {
            const auto distance = Picture::distance (*a, *b);
            for (std::size_t i = 0; i < best.size(); ++i)
                best[i] = std::min (best[i], distance[i]);
        }
    Sums sums;
    sums.blocks = static_cast<float> (best.size());
    for (std::size_t i = 0; i < best.size(); ++i)
    {
        float textureBefore = before.front()->variance()[i];
        for (const Picture* a : before)
            textureBefore = std::min (textureBefore, a->variance()[i]);
        float textureAfter = after.front()->variance()[i];
        for (const Picture* b : after)
            textureAfter = std::min (textureAfter, b->variance()[i]);
        const float texture = std::max (textureBefore, textureAfter);
        const float weight = texture / (texture + noise * noise);
        sums.weights += weight;
        sums.weighted += weight * best[i];
    }
    return sums;
}

/// A change: little texture makes it weak.
float strengthOf (const Sums& sums, float floor)
{
    return sums.weighted / (sums.weights + floor * sums.blocks);
}

/// How little two sides have in common: too little texture tells nothing, which is not "the same".
float unlikenessOf (const Sums& sums)
{
    return sums.weights < 0.02F * sums.blocks ? 1.0F : sums.weighted / sums.weights;
}

float coarseChange (const std::vector<const CoarsePicture*>& before, const std::vector<const CoarsePicture*>& after)
{
    return strengthOf (compare (before, after, 4.0F), 0.08F);
}
struct Mix
{
    float share = 0;
    bool divided = false;
};
/// How much of what neither picture alone explains both together do: as a sum (a dissolve) or pixel by pixel (a wipe).
/// 0 to 1; 0 where one alone explains nearly all.
Mix mixOf (const CoarsePicture& before, const CoarsePicture& here, const CoarsePicture& after)
{
    const auto& a = before.grey();
    const auto& p = here.grey();
    const auto& b = after.grey();
    const auto n = static_cast<double> (p.size());
    double meanA = 0;
    double meanP = 0;
    double meanB = 0;
    for (std::size_t i = 0; i < p.size(); ++i)
    {
        meanA += a[i] / n;
        meanP += p[i] / n;
        meanB += b[i] / n;
    }
    double aa = 0;
    double ab = 0;
    double bb = 0;
    double pa = 0;
    double pb = 0;
    double pp = 0;
    double apart = 0; // squared distance from the nearer of the two, pixel by pixel
    for (std::size_t i = 0; i < p.size(); ++i)
    {
        const double da = a[i] - meanA;
        const double db = b[i] - meanB;
        const double dp = p[i] - meanP;
        aa += da * da;
        ab += da * db;
        bb += db * db;
        pa += dp * da;
        pb += dp * db;
        pp += dp * dp;
        const double nearer = std::min (std::abs (p[i] - a[i]), std::abs (p[i] - b[i]));
        apart += nearer * nearer;
    }
    const double floor = n; // one grey level squared a pixel
    const double alone = std::min (pp - pa * pa / (aa + floor), pp - pb * pb / (bb + floor));
    if (alone < 0.03 * pp + floor)
        return {};
    const double determinant = (aa + floor) * (bb + floor) - ab * ab;
    const double shareA = (pa * (bb + floor) - pb * ab) / determinant;
    const double shareB = (pb * (aa + floor) - pa * ab) / determinant;
    const double blended = shareA < 0.1 || shareB < 0.1 ? alone : std::max (0.0, pp - shareA * pa - shareB * pb);
    return { static_cast<float> (std::clamp (1 - std::min (blended, apart) / alone, 0.0, 1.0)), apart < 0.6 * blended };
}
} // namespace

const DistinctPicture* ChangeTracker::picture (std::int64_t ordinal) const
{
    const std::int64_t oldest = next - static_cast<std::int64_t> (recent.size());
    return ordinal < oldest || ordinal >= next ? nullptr : &recent[static_cast<std::size_t> (ordinal - oldest)];
}

void ChangeTracker::push (std::int64_t frame, bool blank, const FineGrey& fine, const CoarseGrey& coarse, Measures& out)
{
    recent.push_back ({ frame, blank, fine, CoarsePicture (coarse.data()) });
    ++next;
    if (recent.size() > keptBack)
        recent.pop_front();
    judge (next - 2, out);
    judgeSlow (next - 1 - slowReach, out);
    judgeReturns (next - 1, out);
}

void ChangeTracker::finish (Measures& out)
{
    judge (next - 1, out);
    judgeReturns (next - 1 + laterLook, out);
    *this = {};
}

void ChangeTracker::judge (std::int64_t ordinal, Measures& out)
{
    if (ordinal < 1)
        return;
    std::vector<const CoarsePicture*> before;
    std::vector<const CoarsePicture*> after;
    for (std::int64_t i = ordinal - 2; i < ordinal; ++i)
        if (const auto* p = picture (i))
            before.push_back (&p->coarse);
    for (std::int64_t i = ordinal; i < ordinal + 2; ++i)
        if (const auto* p = picture (i))
            after.push_back (&p->coarse);
    const DistinctPicture& here = *picture (ordinal);
    float score = coarseChange (before, after);
    if (score > worthFine)
    {
        std::vector<FinePicture> fine;
        fine.reserve (4);
        std::vector<const FinePicture*> fineBefore;
        std::vector<const FinePicture*> fineAfter;
        for (std::int64_t i = ordinal - 2; i < ordinal + 2; ++i)
            if (const auto* p = picture (i))
            {
                fine.emplace_back (p->fine.data());
                (i < ordinal ? fineBefore : fineAfter).push_back (&fine.back());
            }
        const float fineScore = strengthOf (compare (fineBefore, fineAfter, 6.0F), 0.2F);
        out.frames[static_cast<std::size_t> (here.frame)].fine = fineScore;
    }
    out.frames[static_cast<std::size_t> (here.frame)].cut = score;

    // Where nothing is to be seen, pictures before it may be dark from a fade: look further back too.
    const bool blankEdge = here.blank != picture (ordinal - 1)->blank;
    if (score > worthFine || blankEdge)
    {
        Leaving leaving;
        leaving.frame = here.frame;
        leaving.ordinal = static_cast<std::uint64_t> (ordinal);
        for (const std::int64_t back : { std::int64_t{ 1 }, std::int64_t{ 2 }, laterLook })
            if (const auto* p = picture (ordinal - back); p != nullptr && ! p->blank)
                leaving.before[leaving.count++] = p->coarse;
        leavings.push_back (std::move (leaving));
        arrivals.push_back (ordinal);
    }
}

void ChangeTracker::judgeSlow (std::int64_t ordinal, Measures& out)
{
    const auto* before = picture (ordinal - slowReach);
    const auto* here = picture (ordinal);
    const auto* after = picture (ordinal + slowReach);
    if (before == nullptr || here == nullptr || after == nullptr || before->blank || after->blank)
        return;
    FrameMeasure& frame = out.frames[static_cast<std::size_t> (here->frame)];
    frame.slow = coarseChange ({ &before->coarse }, { &after->coarse });
    if (frame.slow > worthMixing)
    {
        const Mix mix = mixOf (before->coarse, here->coarse, after->coarse);
        frame.mix = mix.share;
        frame.divided = mix.divided;
    }
}

void ChangeTracker::judgeReturns (std::int64_t newest, Measures& out)
{
    while (! arrivals.empty() && arrivals.front() + laterLook <= newest)
    {
        const std::int64_t arrival = arrivals.front();
        arrivals.erase (arrivals.begin());
        std::vector<const CoarsePicture*> after;
        for (const std::int64_t on : { std::int64_t{ 0 }, std::int64_t{ 1 }, laterLook })
            if (const auto* p = picture (arrival + on); p != nullptr && ! p->blank)
                after.push_back (&p->coarse);
        std::erase_if (leavings, [&] (const Leaving& leaving)
                       { return static_cast<std::int64_t> (leaving.ordinal) + returnReach < arrival; });
        for (const Leaving& leaving : leavings)
        {
            if (static_cast<std::int64_t> (leaving.ordinal) >= arrival || leaving.count == 0 || after.empty())
                continue;
            std::vector<const CoarsePicture*> before;
            for (std::size_t i = 0; i < leaving.count; ++i)
                before.push_back (&leaving.before[i]);
            out.returns.push_back ({ leaving.frame, picture (arrival)->frame, unlikenessOf (compare (before, after, 4.0F)) });
        }
    }
}
} // namespace shutterbeat::scan
