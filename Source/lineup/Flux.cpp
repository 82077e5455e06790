#include "lineup/Flux.h"

#include "lineup/Fourier.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace shutterbeat::lineup
{
namespace
{
/// A band as triangle weights on bins of the spectrum.
struct Band
{
    std::size_t first = 0;
    std::vector<float> weights;
};

std::vector<Band> bandsOf (std::size_t size, double rate, int anOctave)
{
    std::vector<std::size_t> centres;
    const double highest = std::min (16000.0, 0.45 * rate);
    for (double hertz = 27.5; hertz < highest; hertz *= std::exp2 (1.0 / anOctave))
    {
        const auto bin = static_cast<std::size_t> (std::lround (hertz * static_cast<double> (size) / rate));
        if (bin >= 1 && bin < size / 2 && (centres.empty() || bin > centres.back()))
            centres.push_back (bin);
    }
    std::vector<Band> bands;
    for (std::size_t i = 1; i + 1 < centres.size(); ++i)
    {
        Band band{ centres[i - 1] + 1, {} };
        for (auto bin = centres[i - 1] + 1; bin < centres[i + 1]; ++bin)
            band.weights.push_back (
                bin <= centres[i] ? static_cast<float> (bin - centres[i - 1]) / static_cast<float> (centres[i] - centres[i - 1])
                                  : static_cast<float> (centres[i + 1] - bin) / static_cast<float> (centres[i + 1] - centres[i]));
        float sum = 0;
        for (const float w : band.weights)
            sum += w;
        for (float& w : band.weights)
            w /= sum;
        bands.push_back (std::move (band));
    }
    return bands;
}

/// What full loudness is taken to be: the 99.9th percentile of a sound's samples, whatever gain it was sent with.
double loudnessOf (const Signal& signal)
{
    std::vector<float> heights;
    const std::size_t step = std::max<std::size_t> (1, signal.samples.size() / 2000000);
    for (std::size_t i = 0; i < signal.samples.size(); i += step)
        if (const float height = std::abs (signal.samples[i]); height > 1e-6f)
            heights.push_back (height);
    return heights.empty() ? 1 : std::max (1e-5, static_cast<double> (percentile (std::move (heights), 0.999)));
}
} // namespace

float percentile (std::vector<float> values, double part)
{
    if (values.empty())
        return 0;
    const auto at = static_cast<std::size_t> (std::clamp (part, 0.0, 1.0) * static_cast<double> (values.size() - 1));
    std::nth_element (values.begin(), values.begin() + static_cast<std::ptrdiff_t> (at), values.end());
    return values[at];
}

float Curve::at (double seconds) const
{
    const double place = seconds / hop;
    if (! (place >= 0) || values.empty() || place > static_cast<double> (values.size() - 1))
        return 0;
    const auto before = static_cast<std::size_t> (place);
    const auto after = std::min (before + 1, values.size() - 1);
    const auto part = static_cast<float> (place - static_cast<double> (before));
    return values[before] * (1 - part) + values[after] * part;
}

Curve fluxOf (const Signal& signal, const FluxLook& look, const std::function<bool (double)>& goOn)
{
    Curve curve{ look.hop, {} };
    const auto wanted = static_cast<std::size_t> (std::max (16.0, look.window * signal.rate * std::sqrt (0.5)));
    const std::size_t size = std::bit_ceil (wanted);
    Spectrum spectrum (size);
    const auto bands = bandsOf (size, signal.rate, look.bandsAnOctave);
    const auto back = static_cast<std::size_t> (std::max (1L, std::lround (look.lag / look.hop)));
    const auto count = static_cast<std::size_t> (static_cast<double> (signal.samples.size()) / signal.rate / look.hop) + 1;
    const auto louder = static_cast<float> (1 / loudnessOf (signal));
    std::vector<std::vector<float>> past (back + 1, std::vector<float> (bands.size()));
    std::vector<float> frame (size);
    curve.values.resize (count);
    for (std::size_t n = 0; n < count; ++n)
    {
        if (goOn && n % 512 == 0 && ! goOn (static_cast<double> (n) / static_cast<double> (count)))
            return { look.hop, {} };
        // The look's middle lies at its moment, so that what it sees is neither early nor late.
        const auto middle = std::llround (static_cast<double> (n) * look.hop * signal.rate);
        const auto first = middle - static_cast<long long> (size / 2);
        for (std::size_t i = 0; i < size; ++i)
        {
            const auto at = first + static_cast<long long> (i);
            frame[i] = at >= 0 && at < static_cast<long long> (signal.samples.size())
                           ? signal.samples[static_cast<std::size_t> (at)] * louder
                           : 0.0f;
        }
        const auto magnitudes = spectrum.of (frame);
        auto& now = past[n % (back + 1)];
        for (std::size_t b = 0; b < bands.size(); ++b)
        {
            float sum = 0;
            for (std::size_t i = 0; i < bands[b].weights.size(); ++i)
                sum += bands[b].weights[i] * magnitudes[bands[b].first + i];
            // On a scale that no window's length changes: a full sine is about 256.
            now[b] = std::log10 (1 + sum * 1024 / static_cast<float> (size));
        }
        if (n < back)
            continue;
        const auto& before = past[(n - back) % (back + 1)];
        float rise = 0;
        for (std::size_t b = 0; b < bands.size(); ++b)
        {
            const float loudest = std::max ({ before[b], b > 0 ? before[b - 1] : 0, b + 1 < bands.size() ? before[b + 1] : 0 });
            rise += std::max (0.0f, now[b] - loudest);
        }
        curve.values[n] = rise / static_cast<float> (bands.size());
    }
    return curve;
}
} // namespace shutterbeat::lineup
