#include "mix/Resampler.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace shutterbeat::mix
{
namespace
{
constexpr double zeros = 64;    ///< zero crossings on either side
constexpr double beta = 11.241; ///< Kaiser window for 110 dB: 0.1102 (A - 8.7)
constexpr std::int64_t mostRows = 1024;

/// Modified Bessel function of the first kind, order 0, by its series.
double bessel (double x)
{
    double sum = 1, term = 1;
    for (int k = 1; k < 60 && term > sum * 1e-18; ++k)
    {
        term *= (x / 2 / k) * (x / 2 / k);
        sum += term;
    }
    return sum;
}
} // namespace

Resampler::Resampler (const time::Rational& step)
    : theStep (step)
{
    // Below the lower of the two half rates, so that little is mirrored about it.
    cutoff = 0.96 / std::max (1.0, time::toDouble (step));
    half = static_cast<std::int64_t> (std::ceil (zeros / cutoff));
    exact = theStep.denominator() <= mostRows;
    rows = exact ? static_cast<std::int64_t> (theStep.denominator()) : mostRows;
    table.resize (static_cast<std::size_t> ((rows + 1) * 2 * half));
    for (std::int64_t r = 0; r <= rows; ++r)
        fillRow (static_cast<double> (r) / static_cast<double> (rows), table.data() + r * 2 * half);
}

void Resampler::fillRow (double phase, float* row) const
{
    std::vector<double> weights (static_cast<std::size_t> (2 * half));
    double sum = 0;
    for (std::int64_t k = 0; k < 2 * half; ++k)
    {
        const double x = static_cast<double> (k - half + 1) - phase;
        const double edge = x / static_cast<double> (half);
        const double angle = std::numbers::pi * cutoff * x;
        const double sinc = std::abs (angle) < 1e-12 ? 1.0 : std::sin (angle) / angle;
        const double window = std::abs (edge) >= 1 ? 0.0 : bessel (beta * std::sqrt (1 - edge * edge)) / bessel (beta);
        sum += weights[static_cast<std::size_t> (k)] = sinc * window;
    }
    // A steady level stays exactly itself, whatever the phase.
    for (std::int64_t k = 0; k < 2 * half; ++k)
        row[k] = static_cast<float> (weights[static_cast<std::size_t> (k)] / sum);
}

std::int64_t Resampler::wholeAt (std::int64_t n) const
{
    return time::floorOf (time::Rational (n) * theStep);
}

void Resampler::render (std::int64_t n, std::span<float> out, std::span<const float> input, std::int64_t inputFirst,
                        int channels) const
{
    const auto wide = static_cast<std::size_t> (channels);
    const std::int64_t held = static_cast<std::int64_t> (input.size() / wide);
    const time::Int128 p = theStep.numerator(), q = theStep.denominator();
    std::vector<float> between (static_cast<std::size_t> (exact ? 0 : 2 * half));
    for (std::size_t i = 0; i * wide < out.size(); ++i, ++n)
    {
        const time::Int128 place = time::Int128 (n) * p;
        time::Int128 whole = place / q, rest = place % q;
        if (rest < 0)
        {
            --whole;
            rest += q;
        }
        const float* row = nullptr;
        if (exact)
            row = table.data() + static_cast<std::int64_t> (rest) * 2 * half;
        else
        {
            const double phase = static_cast<double> (rest) / static_cast<double> (q) * static_cast<double> (rows);
            const auto lower = std::min (static_cast<std::int64_t> (phase), rows - 1);
            const auto part = static_cast<float> (phase - static_cast<double> (lower));
            const float* a = table.data() + lower * 2 * half;
            const float* b = a + 2 * half;
            for (std::int64_t k = 0; k < 2 * half; ++k)
                between[static_cast<std::size_t> (k)] = a[k] + (b[k] - a[k]) * part;
            row = between.data();
        }
        const std::int64_t first = static_cast<std::int64_t> (whole) - half + 1 - inputFirst; // in `input`
        const std::int64_t from = std::max<std::int64_t> (0, -first), to = std::min (2 * half, held - first);
        for (std::size_t c = 0; c < wide; ++c)
        {
            double sum = 0;
            const float* sample = input.data() + (first + from) * static_cast<std::int64_t> (wide) + static_cast<std::int64_t> (c);
            for (std::int64_t k = from; k < to; ++k, sample += wide)
                sum += static_cast<double> (row[k]) * static_cast<double> (*sample);
            out[i * wide + c] = static_cast<float> (sum);
        }
    }
}
} // namespace shutterbeat::mix
