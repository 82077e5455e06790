#pragma once

#include "time/Rational.h"
#include "time/Result.h"

#include <cstdint>
#include <functional>
#include <memory>
#include <span>

namespace shutterbeat::mix
{
/// Stereo that lasts longer or shorter at the same pitch (Rubber Band, its finer engine, in two passes). What lies at sample s of
/// the original lies at s * factor afterwards, within a few milliseconds: the library keeps strokes whole by moving them.
class Stretch
{
public:
    /// Fills stereo with samples of the original from `first` on; false when they can't be read. Asked twice over the whole.
    using Source = std::function<bool (std::int64_t first, std::span<float> stereo)>;
    /// Told how far the first pass is, 0 to 1; false stops it.
    using Watch = std::function<bool (double fraction)>;

    /// Samples first to first + count - 1 of the original are stretched. `factor` from 1/4 to 4.
    /// Error: a factor outside that, a source that can't be read, stopped.
    static Result<Stretch> of (Source source, std::int64_t first, std::int64_t count, const time::Rational& factor,
                               int samplesPerSecond, const Watch& watch = {});
    ~Stretch();
    Stretch (Stretch&&) noexcept;
    Stretch& operator= (Stretch&&) noexcept;

    /// The next samples of the stretched sound, in order from round (first * factor); silence past its end. False when
    /// the source can't be read any more.
    bool read (std::span<float> stereo);

private:
    struct State;
    explicit Stretch (std::unique_ptr<State> made);
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::mix
