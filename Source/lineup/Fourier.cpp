#include "lineup/Fourier.h"

#include <cmath>
#include <numbers>
#include <utility>

namespace shutterbeat::lineup
{
using Complex = std::complex<float>;

Spectrum::Spectrum (std::size_t size)
    : window (size)
    , real (size / 2)
    , imaginary (size / 2)
    , folded (size / 2)
    , order (size / 2)
    , magnitudes (size / 2)
{
    const auto turn = [] (double part)
    {
        const double angle = -2 * std::numbers::pi * part;
        return Complex (static_cast<float> (std::cos (angle)), static_cast<float> (std::sin (angle)));
    };
    const std::size_t half = size / 2;
    for (std::size_t i = 0; i < size; ++i)
        window[i] = static_cast<float> (
            0.5 - 0.5 * std::cos (2 * std::numbers::pi * (static_cast<double> (i) + 0.5) / static_cast<double> (size)));
    for (std::size_t length = 2; length <= half; length *= 2)
        for (std::size_t k = 0; k < length / 2; ++k)
        {
            const auto by = turn (static_cast<double> (k) / static_cast<double> (length));
            realTurns.push_back (by.real());
            imaginaryTurns.push_back (by.imag());
        }
    for (std::size_t i = 0; i < half; ++i)
        folded[i] = turn (static_cast<double> (i) / static_cast<double> (size));
    for (std::size_t i = 1, reversed = 0; i < half; ++i)
    {
        std::size_t bit = half / 2;
        for (; (reversed & bit) != 0; bit /= 2)
            reversed ^= bit;
        reversed |= bit;
        order[i] = reversed;
    }
}

void Spectrum::transform()
{
    const std::size_t count = real.size();
    const float *by = realTurns.data(), *byI = imaginaryTurns.data();
    for (std::size_t length = 2; length <= count; length *= 2)
    {
        const std::size_t half = length / 2;
        for (std::size_t start = 0; start < count; start += length)
        {
            float *low = &real[start], *lowI = &imaginary[start], *high = low + half, *highI = lowI + half;
            for (std::size_t k = 0; k < half; ++k)
            {
                const float turned = high[k] * by[k] - highI[k] * byI[k], turnedI = high[k] * byI[k] + highI[k] * by[k];
                high[k] = low[k] - turned;
                highI[k] = lowI[k] - turnedI;
                low[k] += turned;
                lowI[k] += turnedI;
            }
        }
        by += half;
        byI += half;
    }
}

std::span<const float> Spectrum::of (std::span<const float> samples)
{
    const std::size_t half = real.size();
    for (std::size_t i = 0; i < half; ++i)
    {
        real[order[i]] = samples[2 * i] * window[2 * i];
        imaginary[order[i]] = samples[2 * i + 1] * window[2 * i + 1];
    }
    transform();
    for (std::size_t k = 0; k < half; ++k)
    {
        const std::size_t m = (half - k) % half;
        const float even = 0.5f * (real[k] + real[m]), evenI = 0.5f * (imaginary[k] - imaginary[m]);
        const float odd = 0.5f * (imaginary[k] + imaginary[m]), oddI = -0.5f * (real[k] - real[m]);
        const Complex by = folded[k];
        const float along = even + odd * by.real() - oddI * by.imag(), across = evenI + odd * by.imag() + oddI * by.real();
        magnitudes[k] = std::sqrt (along * along + across * across);
    }
    return magnitudes;
}
} // namespace shutterbeat::lineup
