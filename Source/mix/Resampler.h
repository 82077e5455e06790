#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <span>
#include <vector>

namespace shutterbeat::mix
{
/// Samples of a sound between its samples: a windowed sinc (Kaiser window, 110 dB), flat to 0.9 of the lower of the two rates'
/// half. Each output sample is a sum over the input around its exact place and of nothing else, so the same sample comes
/// out whatever was asked before and in whatever blocks; the libraries at hand carry a state and can't promise that.
class Resampler
{
public:
    /// `step` is how far the input moves for one output sample, in input samples: input rate / output rate. From 1/64 to 64.
    explicit Resampler (const time::Rational& step);

    [[nodiscard]] const time::Rational& step() const { return theStep; }
    /// Input samples needed on either side of a place.
    [[nodiscard]] std::int64_t reach() const { return half; }
    /// The whole input sample at or before the place of output sample n (from the sound's sample 0).
    [[nodiscard]] std::int64_t wholeAt (std::int64_t n) const;
    /// Output samples n to n + out.size() / channels - 1, interleaved. `input` holds interleaved samples from input sample
    /// `inputFirst` on; what lies outside it counts as silence.
    void render (std::int64_t n, std::span<float> out, std::span<const float> input, std::int64_t inputFirst, int channels) const;

private:
    void fillRow (double phase, float* row) const;

    time::Rational theStep;
    double cutoff = 1; ///< as a part of the input's half rate
    std::int64_t half = 0;
    std::int64_t rows = 0;    ///< steps between two input samples in the table
    bool exact = false;       ///< every place falls on a row; else weights are taken between two
    std::vector<float> table; ///< rows + 1 rows of 2 * half weights
};
} // namespace shutterbeat::mix
