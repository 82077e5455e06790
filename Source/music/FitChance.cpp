#include "music/PhaseFit.h"
#include "music/TempoFit.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace shutterbeat::music
{
namespace
{
/// Numbers that look random and are the same everywhere.
class Strewn
{
public:
    /// 0 up to below 1.
    double next()
    {
        state = state * 6364136223846793005u + 1442695040888963407u;
        return static_cast<double> (state >> 11) / 9007199254740992.0;
    }

private:
    std::uint64_t state = 20250501;
};

std::vector<FitTarget> strewn (const std::vector<FitTarget>& targets, Strewn& chance, bool musts)
{
    double first = targets.front().seconds, last = first;
    for (const auto& target : targets)
    {
        first = std::min (first, target.seconds);
        last = std::max (last, target.seconds);
    }
    auto random = targets;
    for (auto& target : random)
    {
        target.seconds = first + (last - first) * chance.next();
        target.must = musts;
    }
    return random;
}
} // namespace

std::vector<double> chanceLine (const std::vector<FitTarget>& targets, const FitWish& wish, const std::vector<double>& tempos)
{
    if (targets.empty() || tempos.empty())
        return std::vector<double> (tempos.size(), 0.0);
    // The line is smooth: a few knots, evenly apart in the length of a beat, and straight lines between.
    const auto [low, high] = std::minmax_element (tempos.begin(), tempos.end());
    constexpr int knots = 13, draws = 96;
    std::vector<double> steps, means (knots, 0);
    for (int k = 0; k < knots; ++k)
        steps.push_back (60 / *high + (60 / *low - 60 / *high) * k / (knots - 1));
    Strewn chance;
    for (int draw = 0; draw < draws; ++draw)
    {
        PhaseFit phases (strewn (targets, chance, false), wish);
        for (int k = 0; k < knots; ++k)
            means[static_cast<std::size_t> (k)] += phases.at (steps[static_cast<std::size_t> (k)] * wish.grid).value / draws;
    }
    std::vector<double> line;
    for (const double tempo : tempos)
    {
        const double wide = steps.back() - steps.front();
        const double at = wide > 0 ? (60 / tempo - steps.front()) / wide * (knots - 1) : 0;
        const auto k = static_cast<std::size_t> (std::clamp (std::floor (at), 0.0, static_cast<double> (knots - 2)));
        line.push_back (means[k] + (means[k + 1] - means[k]) * (at - static_cast<double> (k)));
    }
    return line;
}

double chanceOfFit (const std::vector<FitTarget>& targets, const FitWish& wish)
{
    if (targets.size() < 2)
        return 1;
    Strewn chance;
    constexpr int draws = 40;
    int fits = 0;
    // Steps as fine as a tenth of the limits over the span can tell apart, so that none is stepped over.
    double span = 0, tight = 1;
    for (const auto& target : targets)
    {
        span = std::max (span, std::abs (target.seconds - targets.front().seconds));
        tight = std::min (tight, std::max (target.early + target.late, 1e-3));
    }
    const double fine = std::clamp (wish.lowest * tight / (4 * std::max (span, 1.0)), .01, 1.0);
    for (int draw = 0; draw < draws; ++draw)
    {
        PhaseFit phases (strewn (targets, chance, true), wish);
        for (double tempo = wish.lowest; tempo <= wish.highest; tempo += fine)
            if (phases.at (60 / tempo * wish.grid).fits())
            {
                ++fits;
                break;
            }
    }
    return static_cast<double> (fits) / draws;
}

namespace
{
/// Whether some whole number of steps, each from `low` to `high`, lasts from `a` to `b`.
bool reaches (double a, double b, double low, double high)
{
    if (a <= 0 && b >= 0)
        return true;
    if (b < 0)
        return reaches (-b, -a, low, high);
    return std::ceil (a / high - 1e-9) <= std::floor (b / low + 1e-9);
}

bool anythingFits (const std::vector<FitTarget>& targets, const FitWish& wish)
{
    PhaseFit phases (targets, wish);
    for (double tempo = wish.lowest; tempo <= wish.highest + 1e-9; tempo += wish.step)
        if (phases.at (60 / tempo * wish.grid).fits())
            return true;
    return false;
}
} // namespace

std::optional<Obstacle> obstacleTo (const std::vector<FitTarget>& targets, const FitWish& wish)
{
    if (anythingFits (targets, wish))
        return {};
    const double low = 60 / wish.highest * wish.grid, high = 60 / wish.lowest * wish.grid;
    for (std::size_t i = 0; wish.start && i < targets.size(); ++i)
    {
        const auto& t = targets[i];
        if (t.must && ! reaches (t.seconds - t.early - *wish.start, t.seconds + t.late - *wish.start, low, high))
            return Obstacle{ { i }, true };
    }
    for (std::size_t i = 0; i < targets.size(); ++i)
        for (std::size_t j = i + 1; j < targets.size(); ++j)
        {
            const auto &a = targets[i], &b = targets[j];
            const double apart = b.seconds - a.seconds;
            if (a.must && b.must && ! reaches (apart - b.early - a.late, apart + b.late + a.early, low, high))
                return Obstacle{ { i, j }, true };
        }
    for (std::size_t i = 0; i < targets.size(); ++i)
        if (targets[i].must)
        {
            auto others = targets;
            others[i].must = false;
            if (anythingFits (others, wish))
                return Obstacle{ { i }, false };
        }
    return Obstacle{};
}
} // namespace shutterbeat::music
