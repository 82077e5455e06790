#include "lineup/Pop.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
/// Mean energy of stretches of 2 ms.
std::vector<float> energies (const Signal& signal, std::size_t stretch)
{
    std::vector<float> all (signal.samples.size() / stretch + 1, 0.0f);
    for (std::size_t i = 0; i < signal.samples.size(); ++i)
        all[i / stretch] += signal.samples[i] * signal.samples[i] / static_cast<float> (stretch);
    return all;
}

/// Rising passes through zero a second, of samples from to end.
double pitchOf (const Signal& signal, std::size_t from, std::size_t end)
{
    std::size_t first = 0, last = 0, passes = 0;
    for (std::size_t i = std::max<std::size_t> (1, from); i < std::min (end, signal.samples.size()); ++i)
        if (signal.samples[i - 1] < 0 && signal.samples[i] >= 0)
        {
            first = passes == 0 ? i : first;
            last = i;
            ++passes;
        }
    return passes > 1 ? static_cast<double> (passes - 1) * signal.rate / static_cast<double> (last - first) : 0;
}
} // namespace

std::vector<Pop> popsOf (const Signal& signal)
{
    std::vector<Pop> pops;
    const auto stretch = std::max<std::size_t> (1, static_cast<std::size_t> (0.002 * signal.rate));
    const auto energy = energies (signal, stretch);
    const auto quiet = static_cast<std::size_t> (0.4 / 0.002);
    constexpr float least = 1e-5f; // 50 dB below full scale: nobody sends a pop softer than that
    for (std::size_t i = 0; i < energy.size(); ++i)
    {
        if (energy[i] < least || (i > 0 && energy[i - 1] >= least))
            continue;
        std::size_t end = i;
        float loudest = 0;
        while (end < energy.size() && energy[end] >= least)
            loudest = std::max (loudest, energy[end++]);
        const double length = static_cast<double> (end - i) * 0.002;
        const auto silent = [&] (std::size_t from, std::size_t to)
        {
            return std::all_of (energy.begin() + static_cast<std::ptrdiff_t> (from),
                                energy.begin() + static_cast<std::ptrdiff_t> (to), [&] (float e) { return e < loudest * 1e-3f; });
        };
        const bool alone = silent (i > quiet ? i - quiet : 0, i) && silent (end, std::min (end + quiet, energy.size()));
        const double hertz = pitchOf (signal, i * stretch, end * stretch);
        if (length >= 0.015 && length <= 0.1 && alone && hertz > 800 && hertz < 1200)
        {
            // To the sample: where it first exceeds a hundredth of its height.
            const float threshold = 0.02f * std::sqrt (2 * loudest);
            std::size_t at = i > 0 ? (i - 1) * stretch : 0;
            while (at < end * stretch && std::abs (signal.samples[at]) < threshold)
                ++at;
            pops.push_back ({ static_cast<double> (at) / signal.rate, length });
        }
        i = end;
    }
    return pops;
}

Sounding soundingOf (const Signal& signal)
{
    const auto stretch = std::max<std::size_t> (1, static_cast<std::size_t> (0.010 * signal.rate));
    const auto energy = energies (signal, stretch);
    const float loud = percentile (energy, 0.95), least = std::max (loud * 3.2e-5f, 1e-10f);
    Sounding sounding;
    for (std::size_t i = 0; i < energy.size(); ++i)
        if (energy[i] >= least)
        {
            if (sounding.silent)
                sounding.first = static_cast<double> (i * stretch) / signal.rate;
            sounding.last =
                std::min (static_cast<double> ((i + 1) * stretch), static_cast<double> (signal.samples.size())) / signal.rate;
            sounding.silent = false;
        }
    return sounding;
}
} // namespace shutterbeat::lineup
