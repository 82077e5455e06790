#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace shutterbeat::play
{
/// How late (above zero) or early somebody taps along with even beats: what their taps on hits are corrected by.
class TapCalibration
{
public:
    /// Beats every `interval` nanoseconds from `start` on, on the machine's steady clock.
    TapCalibration (std::int64_t startNanoseconds, std::int64_t intervalNanoseconds)
        : start (startNanoseconds)
        , interval (intervalNanoseconds)
    {
    }

    /// A tap at a moment, told against the beat nearest to it. False when it does not count: the first few, with which one
    /// finds the beat, a second one on the same beat, and one before the first beat.
    bool tap (std::int64_t nanoseconds);
    /// Taps that count so far.
    [[nodiscard]] std::size_t count() const { return errors.size(); }
    [[nodiscard]] bool enough() const { return errors.size() >= needed; }
    /// Each tap from its beat, in nanoseconds, in the order they came.
    [[nodiscard]] const std::vector<std::int64_t>& all() const { return errors; }
    /// The middle one; none before the first.
    [[nodiscard]] std::optional<std::int64_t> median() const;
    /// Half of all taps lie within this much around the median (half the distance of the quartiles); none before the fourth.
    [[nodiscard]] std::optional<std::int64_t> spread() const;

    static constexpr std::size_t finding = 3; ///< first taps that do not count
    static constexpr std::size_t needed = 10; ///< taps for a figure that may be kept

private:
    std::int64_t start, interval;
    std::size_t taps = 0;
    std::int64_t lastBeat = -1;
    std::vector<std::int64_t> errors;
};
} // namespace shutterbeat::play
