#pragma once

#include <cstdint>
#include <span>

namespace shutterbeat::mix
{
/// A sound as a mix sees it: numbered samples, whatever they come from. The same sample is the same number each time.
/// Used by one thread at a time.
class SampleSource
{
public:
    virtual ~SampleSource() = default;

    [[nodiscard]] virtual int rate() const = 0;             ///< samples a second, above zero
    [[nodiscard]] virtual int channels() const = 0;         ///< 1 or more
    [[nodiscard]] virtual std::int64_t samples() const = 0; ///< per channel
    /// Samples first to first + out.size() / channels() - 1, interleaved; silence outside the sound. False when the sound can't
    /// be read any more; `out` is then silence.
    virtual bool read (std::int64_t first, std::span<float> out) = 0;
};
} // namespace shutterbeat::mix
