#pragma once

#include <cstdint>
#include <string>

namespace shutterbeat::play
{
/// In nanoseconds, as clocks here count.
inline constexpr std::int64_t second = 1'000'000'000;

/// What a transport reads time from. A sound card's sample count is one; a steady clock does where no sound runs.
class Clock
{
public:
    virtual ~Clock() = default;

    /// Nanoseconds since some fixed moment; never runs back. Any thread.
    [[nodiscard]] virtual std::int64_t nanoseconds() const = 0;

    /// What the window calls it: "silent clock".
    [[nodiscard]] virtual std::string name() const = 0;
};

/// The machine's own steady clock.
class SteadyClock final : public Clock
{
public:
    [[nodiscard]] std::int64_t nanoseconds() const override;
    [[nodiscard]] std::string name() const override { return "silent clock"; }
};
} // namespace shutterbeat::play
