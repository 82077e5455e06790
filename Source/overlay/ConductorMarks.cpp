#include "overlay/ConductorMarks.h"

#include <algorithm>

namespace shutterbeat::overlay
{
const char* const flashCaution =
    "Flashing light can harm photosensitive viewers: ask everybody who will see this before you show it.";

int punchFrames (const time::Rational& rate)
{
    return 2 * static_cast<int> (std::max<std::int64_t> (1, time::roundOf (rate / time::Rational (30))));
}

namespace
{
Error wrongLength (const char* mark, int length, const char* lengths)
{
    return usageError (mark, std::to_string (length) + " can't be had; choose " + lengths);
}
} // namespace

Result<MarkPlan> planMarks (const std::vector<HitMarks>& hits, const time::Rational& rate, bool cautionRead)
{
    MarkPlan plan;
    std::vector<Flash> flashes;
    const int punch = punchFrames (rate);
    const auto run = [&] (ShownMark::Kind kind, std::size_t i, std::int64_t first, std::int64_t end)
    {
        plan.runs.push_back ({ { kind, i, time::Rational (1), hits[i].weight }, first, end, hits[i].delivered });
        plan.longest = std::max (plan.longest, end - first);
        // Punches all lie on one spot of at most a twelfth of the picture: however many, they stay below the limit.
        if (kind == ShownMark::Kind::flash)
            flashes.push_back ({ first, end, time::Rational (1) });
    };
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        const auto& hit = hits[i];
        if (hit.streamer != 0 && (hit.streamer < 2 || hit.streamer > 5))
            return wrongLength ("streamer", hit.streamer, "2, 3, 4 or 5 seconds");
        if (hit.flutter != 0 && hit.flutter != 3 && hit.flutter != 5 && hit.flutter != 7)
            return wrongLength ("flutter", hit.flutter, "3, 5 or 7 punches");
        if ((hit.punch || hit.flutter > 0 || hit.flash) && ! cautionRead)
            return usageError ("marks for the conductor",
                               std::string ("punches, flutters and flashes are off until the caution was read. ") + flashCaution);
        if (hit.streamer > 0)
        {
            const auto frames = time::roundOf (time::Rational (hit.streamer) * rate);
            run (ShownMark::Kind::streamer, i, hit.delivered - frames, hit.delivered + 1);
        }
        const int step = punch / 2;
        for (int n = 0; n < hit.flutter; ++n)
        {
            const auto first = hit.delivered + std::int64_t (2) * step * (n - hit.flutter / 2);
            run (ShownMark::Kind::punch, i, first, first + step);
        }
        if (hit.punch && hit.flutter == 0)
            run (ShownMark::Kind::punch, i, hit.delivered, hit.delivered + punch);
        if (hit.flash)
            run (ShownMark::Kind::flash, i, hit.delivered, hit.delivered + punch);
    }
    std::stable_sort (plan.runs.begin(), plan.runs.end(), [] (const auto& a, const auto& b) { return a.first < b.first; });
    if (const auto breaches = flashBreaches (std::move (flashes), rate); ! breaches.empty())
        return usageError ("flashes", "the flash on delivered frame " + std::to_string (breaches.front().frame) + " "
                                          + breaches.front().what + "; give fewer hits a flash, or punches ("
                                          + std::to_string (breaches.size()) + " such place(s) in all)");
    return plan;
}

std::vector<ShownMark> MarkPlan::at (std::int64_t frame) const
{
    std::vector<ShownMark> shown;
    const auto from = std::lower_bound (runs.begin(), runs.end(), frame - longest,
                                        [] (const Run& run, std::int64_t first) { return run.first < first; });
    for (auto run = from; run != runs.end() && run->first <= frame; ++run)
        if (frame < run->end)
        {
            auto mark = run->mark;
            if (mark.kind == ShownMark::Kind::streamer)
                mark.progress = time::Rational (time::Int128 (frame - run->first), time::Int128 (run->hit - run->first));
            shown.push_back (mark);
        }
    std::stable_sort (shown.begin(), shown.end(), [] (const auto& a, const auto& b) { return a.kind < b.kind; });
    return shown;
}
} // namespace shutterbeat::overlay
