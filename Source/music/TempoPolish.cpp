#include "music/TempoPolish.h"

#include "music/PhaseFit.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::music
{
namespace
{
constexpr double infinite = std::numeric_limits<double>::infinity();

/// Targets with their beat numbers kept: the best start and its value for a step.
class KeptBeats
{
public:
    KeptBeats (const std::vector<FitTarget>& targets, const FitWish& wish, const FitPoint& point)
        : hits (targets)
        , wanted (wish)
    {
        const double step = 60 / point.beatsPerMinute * wish.grid;
        for (const auto& landing : landingsOf (targets, wish, point))
            numbers.push_back (std::round (landing.beat / wish.grid));
        low = 60 / wish.highest * wish.grid;
        high = 60 / wish.lowest * wish.grid;
        from = std::max (low, step * (1 - 2 * wish.step / point.beatsPerMinute));
        to = std::min (high, step * (1 + 2 * wish.step / point.beatsPerMinute));
    }

    struct Best
    {
        double value = infinite, start = 0;
    };

    /// What is not allowed is worse than everything that is, the more so the farther it is from it: still convex.
    [[nodiscard]] Best at (double step) const
    {
        double least = -infinite, most = infinite;
        for (std::size_t i = 0; i < hits.size(); ++i)
            if (hits[i].must)
            {
                const double there = hits[i].seconds - numbers[i] * step;
                least = std::max (least, there - hits[i].early);
                most = std::min (most, there + hits[i].late);
            }
        if (wanted.start)
        {
            const double off = std::max ({ 0.0, least - *wanted.start, *wanted.start - most });
            return { off > 1e-12 ? 1e6 * (1 + off) : value (step, *wanted.start), *wanted.start };
        }
        if (least > most + 1e-12)
            return { 1e6 * (1 + least - most), (least + most) / 2 };
        most = std::max (least, most);
        double a = least, b = most;
        if (a == -infinite)
        {
            a = infinite;
            b = -infinite;
            for (std::size_t i = 0; i < hits.size(); ++i)
            {
                a = std::min (a, hits[i].seconds - numbers[i] * step - hits[i].early);
                b = std::max (b, hits[i].seconds - numbers[i] * step + hits[i].late);
            }
        }
        return squeeze ([&] (double start) { return value (step, start); }, a, b);
    }

    /// The best tempo of the neighbourhood.
    [[nodiscard]] FitPoint best() const
    {
        const auto there = squeeze ([&] (double step) { return at (step).value; }, from, to);
        const auto found = at (there.start);
        return { 60 / there.start * wanted.grid, found.start, found.value };
    }

private:
    [[nodiscard]] double value (double step, double start) const
    {
        double sum = 0;
        for (std::size_t i = 0; i < hits.size(); ++i)
        {
            const auto& hit = hits[i];
            const double late = start + numbers[i] * step - hit.seconds;
            if (wanted.measure == FitMeasure::largest)
                sum = std::max (sum, hit.weight * std::abs (late));
            else if (wanted.measure == FitMeasure::squares)
                sum += hit.weight * late * late;
            else if (! hit.must)
                sum += hit.weight * std::max ({ 0.0, late - hit.late, -late - hit.early });
        }
        return sum;
    }

    /// The minimum of a convex function by the golden section, to the last bits that matter.
    template <class Function>
    static Best squeeze (Function function, double a, double b)
    {
        const double golden = (std::sqrt (5.0) - 1) / 2;
        const double left = a, right = b;
        double c = b - golden * (b - a), d = a + golden * (b - a);
        double fc = function (c), fd = function (d);
        while (b - a > 1e-14 * std::max (1.0, std::abs (a)) && c < d)
        {
            if (fc <= fd)
            {
                b = d;
                d = c;
                fd = fc;
                c = b - golden * (b - a);
                fc = function (c);
            }
            else
            {
                a = c;
                c = d;
                fc = fd;
                d = a + golden * (b - a);
                fd = function (d);
            }
        }
        Best best{ fc, c };
        for (const double end : { left, right, d })
            if (const double there = function (end); there < best.value)
                best = { there, end };
        return best;
    }

    const std::vector<FitTarget>& hits;
    const FitWish& wanted;
    std::vector<double> numbers;
    double low = 0, high = 0, from = 0, to = 0;
};
} // namespace

FitPoint polished (const std::vector<FitTarget>& targets, const FitWish& wish, FitPoint point)
{
    if (! point.fits())
        return point;
    PhaseFit phases (targets, wish);
    for (int round = 0; round < 20; ++round)
    {
        // Where strong beats are preferred their dearness does not change while beat numbers are kept.
        const auto there = KeptBeats (targets, wish, point).best();
        auto next = phases.at (60 / there.beatsPerMinute * wish.grid);
        next.beatsPerMinute = there.beatsPerMinute;
        // The start found with kept numbers is as good where the sweep loses a hair to rounding at a must's limit.
        if (wish.dearness.empty() && there.value < std::min (next.value, point.value))
            next = there;
        if (! (next.value < point.value - 1e-15))
            return point;
        point = next;
    }
    return point;
}
} // namespace shutterbeat::music
