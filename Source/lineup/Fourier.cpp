#include "lineup/Fourier.h"

#include <cmath>
#include <numbers>
#include <utility>

namespace shutterbeat::lineup
{
using Complex = std::complex<float>;

Spectrum::Spectrum (std::size_t size)
    : window (size)
    , turns (size / 4)
    , folded (size / 2)
    , values (size / 2)
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
    for (std::size_t i = 0; i < turns.size(); ++i)
        turns[i] = turn (static_cast<double> (i) / static_cast<double> (half));
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
    const std::size_t count = values.size();
    for (std::size_t length = 2; length <= count; length *= 2)
        for (std::size_t start = 0; start < count; start += length)
            for (std::size_t k = 0, step = count / length; k < length / 2; ++k)
            {
                auto& low = values[start + k];
                auto& high = values[start + k + length / 2];
                const Complex by = turns[k * step];
                const Complex turned (high.real() * by.real() - high.imag() * by.imag(),
                                      high.real() * by.imag() + high.imag() * by.real());
                high = low - turned;
                low += turned;
            }
}

std::span<const float> Spectrum::of (std::span<const float> samples)
{
    const std::size_t half = values.size();
    for (std::size_t i = 0; i < half; ++i)
        values[order[i]] = { samples[2 * i] * window[2 * i], samples[2 * i + 1] * window[2 * i + 1] };
    transform();
    for (std::size_t k = 0; k < half; ++k)
    {
        const Complex mirror = std::conj (values[(half - k) % half]);
        const Complex even = 0.5f * (values[k] + mirror), twice = values[k] - mirror;
        const Complex odd (0.5f * twice.imag(), -0.5f * twice.real());
        const Complex by = folded[k];
        const float real = even.real() + odd.real() * by.real() - odd.imag() * by.imag();
        const float imaginary = even.imag() + odd.real() * by.imag() + odd.imag() * by.real();
        magnitudes[k] = std::sqrt (real * real + imaginary * imaginary);
    }
    return magnitudes;
}
} // namespace shutterbeat::lineup
