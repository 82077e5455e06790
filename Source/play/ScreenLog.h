#pragma once

#include "play/Course.h"

#include <cstdint>
#include <deque>
#include <optional>

namespace shutterbeat::play
{
/// What stood on the screen and since when, for the last few seconds: a key that went down a while ago is answered with the
/// picture that was seen then, however late the key is handled.
class ScreenLog
{
public:
    /// From this moment on (nanoseconds of the machine's steady clock, never running back) this is on screen.
    void put (std::int64_t nanoseconds, const OnScreen& shown);
    /// What was on screen at a moment; the oldest known for one before all, none when nothing was ever shown.
    [[nodiscard]] std::optional<OnScreen> at (std::int64_t nanoseconds) const;
    void clear() { entries.clear(); }

private:
    struct Entry
    {
        std::int64_t since = 0;
        OnScreen shown;
    };
    std::deque<Entry> entries;
};
} // namespace shutterbeat::play
