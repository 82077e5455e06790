#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

namespace shutterbeat::lineup
{
/// Magnitudes of the spectrum of real samples under a Hann window, for one length made ready once.
/// Written here because no library of transforms may stand on this floor, and a page does.
class Spectrum
{
public:
    /// `size`: samples looked at together, a power of two from 16 on.
    explicit Spectrum (std::size_t size);

    [[nodiscard]] std::size_t size() const { return window.size(); }
    /// size() / 2 magnitudes from 0 Hz up, bin k at k * rate / size(); a full-scale sine gives about size() / 4.
    /// `samples` holds size() of them. The answer lasts until the next call.
    std::span<const float> of (std::span<const float> samples);

private:
    void transform();

    std::vector<float> window;
    std::vector<float> real, imaginary;           ///< half as many: even samples real, odd ones imaginary
    std::vector<float> realTurns, imaginaryTurns; ///< of every stage of the transform, one after another
    std::vector<std::complex<float>> folded;
    std::vector<std::size_t> order;
    std::vector<float> magnitudes;
};
} // namespace shutterbeat::lineup
