#include "media/FrameRate.h"

#include <algorithm>
#include <map>
#include <optional>

namespace shutterbeat::media
{
namespace
{
using time::Int128;
using time::Rational;

bool usable (const Rational& rate)
{
    return rate.valid() && rate.sign() > 0 && rate <= Rational (1000);
}

const std::vector<Rational>& usualRates()
{
    static const std::vector<Rational> rates = []
    {
        std::vector<Rational> list;
        for (const int whole : { 24, 25, 30, 50, 60, 48, 120, 100 })
            list.emplace_back (whole);
        for (const int whole : { 24, 30, 60, 48, 120 })
            list.emplace_back (Int128 (whole) * 1000, Int128 (1001));
        for (int whole = 1; whole <= 120; ++whole)
            list.emplace_back (whole);
        list.emplace_back (Int128 (200), Int128 (11)); // SMPTE ST 428-21 archive rates
        list.emplace_back (Int128 (240), Int128 (11));
        list.emplace_back (Int128 (25), Int128 (2));
        return list;
    }();
    return rates;
}

bool isUsual (const Rational& rate)
{
    return std::find (usualRates().begin(), usualRates().end(), rate) != usualRates().end();
}

/// What the timestamps of a film say; frames without one are passed over.
struct Stamps
{
    const std::vector<PresentedFrame>& frames;
    const Rational& timeBase;
    std::size_t first = 0; ///< the first and the last frame that have one
    std::size_t last = 0;

    Stamps (const std::vector<PresentedFrame>& all, const Rational& base)
        : frames (all)
        , timeBase (base)
    {
        while (first < frames.size() && frames[first].pts == noTimestamp)
            ++first;
        last = frames.empty() ? 0 : frames.size() - 1;
        while (last > first && frames[last].pts == noTimestamp)
            --last;
    }

    /// How far any frame k lies from k / rate after the first, at most, in frames.
    [[nodiscard]] Rational stray (const Rational& rate) const
    {
        // |(pts - first) * base * rate - k|, multiplied out so that whole numbers do.
        const Int128 perTick = timeBase.numerator() * rate.numerator();
        const Int128 perFrame = timeBase.denominator() * rate.denominator();
        Int128 most = 0;
        for (auto k = first; k <= last; ++k)
        {
            if (frames[k].pts == noTimestamp)
                continue;
            const Int128 away =
                Int128 (frames[k].pts - frames[first].pts) * perTick - Int128 (static_cast<std::int64_t> (k - first)) * perFrame;
            most = std::max (most, away < 0 ? -away : away);
        }
        return { most, perFrame };
    }

    /// Whether no frame lies further than `tolerance` seconds from where the rate puts it.
    [[nodiscard]] bool fit (const Rational& rate, const Rational& tolerance) const { return stray (rate) <= tolerance * rate; }

    /// Whether a rate comes to the same number of frames over the whole length, give or take two.
    [[nodiscard]] bool near (const Rational& rate) const
    {
        const auto span = Rational (frames[last].pts - frames[first].pts) * timeBase;
        const auto off = Rational (static_cast<std::int64_t> (last - first)) - span * rate;
        return off <= Rational (2) && off >= Rational (-2);
    }

    /// Seconds; zero where no two neighbours have rising timestamps.
    [[nodiscard]] Rational commonestStep() const
    {
        std::map<std::int64_t, std::size_t> steps;
        for (auto k = first + 1; k <= last; ++k)
            if (frames[k].pts != noTimestamp && frames[k - 1].pts != noTimestamp && frames[k].pts > frames[k - 1].pts)
                ++steps[frames[k].pts - frames[k - 1].pts];
        if (steps.empty())
            return {};
        const auto most = std::max_element (steps.begin(), steps.end(), [] (auto& a, auto& b) { return a.second < b.second; });
        return Rational (most->first) * timeBase;
    }
};
} // namespace

Rational frameRateOf (const Rational& r, const Rational& mean)
{
    if (! usable (mean))
        return usable (r) ? r : Rational (0);
    if (! usable (r) || r == mean * Rational (2))
        return mean;
    // A mean taken over a short file strays from the base rate a little; one that strays far was measured.
    const Rational off = r > mean ? r - mean : mean - r;
    return off * Rational (100) < r ? r : mean;
}

MeasuredRate measureRate (const std::vector<PresentedFrame>& frames, const Rational& timeBase, const std::vector<Rational>& told)
{
    std::vector<Rational> candidates;
    const auto offer = [&] (const Rational& rate)
    {
        if (usable (rate) && std::find (candidates.begin(), candidates.end(), rate) == candidates.end())
            candidates.push_back (rate);
    };
    for (const auto& rate : told)
        if (isUsual (rate))
            offer (rate);
    for (const auto& rate : usualRates())
        offer (rate);
    for (const auto& rate : told)
        offer (rate);
    // A mean that libav took over the first few pictures is no usual rate where a base rate beside it is.
    const auto usual = std::find_if (told.begin(), told.end(), [] (const Rational& rate) { return usable (rate) && isUsual (rate); });
    const Rational fallback = usual != told.end()                         ? *usual
                              : ! told.empty() && usable (told.front()) ? told.front()
                                                                        : Rational (25);
    const Stamps stamps (frames, timeBase);
    if (stamps.last <= stamps.first)
        return { fallback, false };

    // A rate far from the mean can't fit; leaving those out makes this quick.
    const Rational tolerance = std::max (timeBase, Rational (Int128 (11), Int128 (10000)));
    for (const auto& rate : candidates)
        if (stamps.near (rate) && stamps.fit (rate, tolerance))
            return { rate, false };
    // An exact even step that is no usual rate.
    const auto step = stamps.commonestStep();
    const auto stepRate = step.sign() > 0 ? Rational (1) / step : Rational (0);
    if (usable (stepRate) && stamps.near (stepRate) && stamps.fit (stepRate, timeBase))
        return { stepRate, false };

    Rational least (Int128 (1), Int128 (2));
    Rational nearest (0);
    for (const auto& rate : candidates)
        if (const auto stray = stamps.near (rate) ? stamps.stray (rate) : least; stray < least)
        {
            least = stray;
            nearest = rate;
        }
    if (nearest.sign() > 0)
        return { nearest, true };
    for (const auto& rate : candidates)
        if (const auto off = Rational (1) / rate - step; step.sign() > 0 && off <= tolerance && off >= -tolerance)
            return { rate, true };
    return { usable (stepRate) ? stepRate : fallback, true };
}
} // namespace shutterbeat::media
