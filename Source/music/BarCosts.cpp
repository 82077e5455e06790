#include "music/BarCosts.h"

#include "time/Rational.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace shutterbeat::music
{
namespace
{
struct Named
{
    std::string_view name;
    double BarCosts::*member;
    bool scale; ///< something is divided by it
};

constexpr std::array<Named, 10> names{ { { "deviation", &BarCosts::deviation, true },
                                         { "step", &BarCosts::step, true },
                                         { "ramp", &BarCosts::ramp, true },
                                         { "shorter", &BarCosts::shorter, false },
                                         { "shorter2", &BarCosts::shorter2, false },
                                         { "longer", &BarCosts::longer, false },
                                         { "meter-change", &BarCosts::meterChange, false },
                                         { "landing", &BarCosts::landing, false },
                                         { "miss-cap", &BarCosts::missCap, false },
                                         { "bar-in-out", &BarCosts::barInOut, false } } };

double squared (double x)
{
    return x * x;
}
} // namespace

std::vector<std::string> costNames()
{
    std::vector<std::string> list;
    for (const auto& named : names)
        list.emplace_back (named.name);
    return list;
}

Result<Done> setCost (BarCosts& costs, std::string_view name, double value)
{
    std::string all;
    for (const auto& named : names)
    {
        all += (all.empty() ? "" : ", ") + std::string (named.name);
        if (named.name != name)
            continue;
        if (! (value >= 0 && value <= 1e6) || (named.scale && value < 1e-6))
            return usageError ("cost " + std::string (name), named.scale ? "has to be above zero" : "has to be zero or above");
        costs.*named.member = value;
        return Done{};
    }
    return usageError ("cost \"" + std::string (name) + "\"", "is none of: " + all);
}

std::string costsText (const BarCosts& costs)
{
    std::string text;
    for (const auto& named : names)
        text += (text.empty() ? "" : ", ") + std::string (named.name) + " "
                + time::decimalText (time::Rational (std::llround (costs.*named.member * 1000), 1000), 3);
    return text;
}

double stepCost (const BarCosts& costs, double from, double to)
{
    const double r = std::abs (std::log (to / from)) / costs.step;
    return r <= 1 ? r * r : 2 * r - 1;
}

double deviationCost (const BarCosts& costs, double tempo, double preferred)
{
    return squared (std::log (tempo / preferred) / costs.deviation);
}

double rampCost (const BarCosts& costs, double from, double to, double beats)
{
    return .5 * squared (std::log (to / from) / costs.ramp) * 4 / beats;
}

double missCost (const BarCosts& costs, double late, double weight, double early, double lateLimit)
{
    // A limit of nothing still has a scale: a millisecond.
    const double limit = std::max (late > 0 ? lateLimit : early, 1e-3);
    return weight * std::min (costs.missCap, squared (std::max (0.0, std::abs (late) - limit) / limit));
}

double landingCost (const BarCosts& costs, double late, double early, double lateLimit)
{
    return late == 0 ? 0 : costs.landing * squared (late / std::max (late > 0 ? lateLimit : early, 1e-3));
}

std::vector<BarFill> cheapestBars (const BarCosts& costs, int beatsPerBar, int most)
{
    constexpr double infinite = std::numeric_limits<double>::infinity();
    std::vector<std::pair<int, double>> kinds{ { beatsPerBar, 0 } };
    if (beatsPerBar > 1)
        kinds.push_back ({ beatsPerBar - 1, costs.shorter });
    if (beatsPerBar > 2)
        kinds.push_back ({ beatsPerBar - 2, costs.shorter2 });
    kinds.push_back ({ beatsPerBar + 1, costs.longer });
    struct Best
    {
        double cost;
        std::size_t before;
    };
    const auto n = static_cast<std::size_t> (most) + 1;
    // By beats filled and kind of the last bar; before the first bar the usual one is thought to be.
    std::vector<std::vector<Best>> table (n, std::vector<Best> (kinds.size(), { infinite, 0 }));
    table[0][0].cost = 0;
    for (std::size_t beats = 1; beats < n; ++beats)
        for (std::size_t kind = 0; kind < kinds.size(); ++kind)
        {
            if (static_cast<std::size_t> (kinds[kind].first) > beats)
                continue;
            const auto& from = table[beats - static_cast<std::size_t> (kinds[kind].first)];
            for (std::size_t before = 0; before < kinds.size(); ++before)
                if (const double cost = from[before].cost + kinds[kind].second + (before == kind ? 0 : costs.meterChange);
                    cost < table[beats][kind].cost)
                    table[beats][kind] = { cost, before };
        }
    std::vector<BarFill> fills (n);
    for (std::size_t beats = 1; beats < n; ++beats)
    {
        std::size_t last = 0;
        double least = infinite;
        // Odd bars stand last, right before the must, where two orders cost the same.
        for (std::size_t kind = kinds.size(); kind-- > 0;)
            if (const double cost = table[beats][kind].cost + (kind == 0 ? 0 : costs.meterChange); cost < least)
            {
                least = cost;
                last = kind;
            }
        if (least == infinite)
            continue;
        fills[beats].cost = least;
        for (std::size_t rest = beats; rest > 0;)
        {
            fills[beats].bars.insert (fills[beats].bars.begin(), kinds[last].first);
            const auto before = table[rest][last].before;
            rest -= static_cast<std::size_t> (kinds[last].first);
            last = before;
        }
    }
    return fills;
}
} // namespace shutterbeat::music
