#include "music/TempoFit.h"

#include "music/PhaseFit.h"
#include "music/TempoPolish.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
std::string number (double x)
{
    return time::decimalText (time::Rational (static_cast<std::int64_t> (std::llround (x * 1000)), 1000), 3);
}

bool isNumber (double x, double least, double most)
{
    return x >= least && x <= most;
}

double squaresAt (const std::vector<FitTarget>& targets, const FitWish& wish, const FitPoint& point)
{
    const auto landings = landingsOf (targets, wish, point);
    double sum = 0;
    for (std::size_t i = 0; i < targets.size(); ++i)
        sum += targets[i].weight * landings[i].late * landings[i].late;
    return sum;
}
} // namespace

Result<Done> checkFit (const std::vector<FitTarget>& targets, const FitWish& wish)
{
    if (targets.empty())
        return usageError ("fit", "there is no hit to fit to");
    if (! isNumber (wish.lowest, 1, 1000) || ! isNumber (wish.highest, wish.lowest, 1000))
        return usageError ("tempo range", "has to run from a lower to a higher tempo, within 1 to 1000 beats a minute");
    if (! isNumber (wish.step, 1e-4, 100) || (wish.highest - wish.lowest) / wish.step > 2'000'000)
        return usageError ("tempo step " + number (wish.step), "is too fine for the range; use 0.01");
    if (! isNumber (wish.grid, 1.0 / 16, 16))
        return usageError ("grid of " + number (wish.grid) + " beats", "has to be from a sixteenth to 16 beats");
    if (wish.start && ! isNumber (*wish.start, -1e6, 1e6))
        return usageError ("start", "is not a time");
    if (! wish.dearness.empty() && wish.measure != FitMeasure::beyond)
        return usageError ("strong beats", "are preferred with the measure \"beyond\" only; leave one of the two out");
    for (const double dear : wish.dearness)
        if (! isNumber (dear, 0, 10) || wish.dearness.size() > 64)
            return usageError ("strong beats", "cost 0 to 10 seconds each, in bars of up to 64 places");
    for (const auto& target : targets)
        if (! isNumber (target.seconds, -1e6, 1e6) || ! isNumber (target.weight, 1e-6, 1e6) || ! isNumber (target.early, 0, 1000)
            || ! isNumber (target.late, 0, 1000))
            return usageError ("hit at " + number (target.seconds) + " s", "has a weight or limits that make no sense");
    return Done{};
}

Result<std::vector<FitPoint>> tempoCurve (const std::vector<FitTarget>& targets, const FitWish& wish)
{
    if (auto fit = checkFit (targets, wish); ! fit)
        return fit.error();
    PhaseFit phases (targets, wish);
    const auto count = static_cast<std::size_t> ((wish.highest - wish.lowest) / wish.step + 1e-6) + 1;
    std::vector<FitPoint> curve;
    curve.reserve (count);
    for (std::size_t i = 0; i < count; ++i)
    {
        const double tempo = wish.lowest + static_cast<double> (i) * wish.step;
        curve.push_back (phases.at (60 / tempo * wish.grid));
        curve.back().beatsPerMinute = tempo;
    }
    return curve;
}

std::vector<FitPoint> bestTempos (const std::vector<FitTarget>& targets, const FitWish& wish, const std::vector<FitPoint>& curve,
                                  std::size_t count)
{
    // Where limits leave room a valley has a level bottom: of its tempos, all as good by the measure, the one whose hits lie
    // nearest in sum of squares stands for it.
    constexpr double hair = 1e-12;
    std::vector<FitPoint> valleys;
    for (std::size_t i = 0; i < curve.size();)
    {
        std::size_t end = i + 1;
        while (end < curve.size() && std::abs (curve[end].value - curve[i].value) <= hair)
            ++end;
        if (curve[i].fits() && (i == 0 || curve[i - 1].value > curve[i].value)
            && (end == curve.size() || curve[end].value > curve[i].value))
        {
            auto chosen = curve[i];
            double least = end == i + 1 ? 0 : squaresAt (targets, wish, chosen);
            for (auto k = i + 1; k < end; ++k)
                if (const double squares = squaresAt (targets, wish, curve[k]); squares < least)
                {
                    least = squares;
                    chosen = curve[k];
                }
            valleys.push_back (chosen);
        }
        i = end;
    }
    const auto better = [] (const FitPoint& a, const FitPoint& b)
    { return a.value != b.value ? a.value < b.value : a.beatsPerMinute < b.beatsPerMinute; };
    std::sort (valleys.begin(), valleys.end(), better);
    // Polishing changes the order: look at more than are wanted.
    valleys.resize (std::min (valleys.size(), 2 * count + 8));
    for (auto& valley : valleys)
        valley = polished (targets, wish, valley);
    std::sort (valleys.begin(), valleys.end(), better);
    std::vector<FitPoint> best;
    for (const auto& valley : valleys)
        if (best.size() < count
            && std::none_of (best.begin(), best.end(),
                             [&] (const FitPoint& known)
                             { return std::abs (known.beatsPerMinute - valley.beatsPerMinute) < wish.step; }))
            best.push_back (valley);
    return best;
}

std::vector<Landing> landingsOf (const std::vector<FitTarget>& targets, const FitWish& wish, const FitPoint& point)
{
    std::vector<Landing> landings;
    const double step = 60 / point.beatsPerMinute * wish.grid;
    const auto places = static_cast<double> (std::max<std::size_t> (1, wish.dearness.size()));
    for (const auto& target : targets)
    {
        const double place = (target.seconds + (target.late - target.early) / 2 - point.start) / step;
        double best = std::round (place);
        if (wish.measure != FitMeasure::beyond)
            best = std::round ((target.seconds - point.start) / step);
        double least = std::numeric_limits<double>::infinity();
        for (double k = std::round (place) - places; ! wish.dearness.empty() && k <= std::round (place) + places; ++k)
        {
            const auto slot = static_cast<std::size_t> (k - places * std::floor (k / places));
            const double late = point.start + k * step - target.seconds;
            const double cost = std::max ({ 0.0, late - target.late, -late - target.early }) + wish.dearness[slot];
            if (cost < least - 1e-12)
            {
                least = cost;
                best = k;
            }
        }
        const double late = point.start + best * step - target.seconds;
        landings.push_back ({ best * wish.grid, late, late <= target.late + 1e-9 && late >= -target.early - 1e-9 });
    }
    return landings;
}
} // namespace shutterbeat::music
