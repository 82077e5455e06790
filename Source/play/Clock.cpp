#include "play/Clock.h"

#include <chrono>

namespace shutterbeat::play
{
std::int64_t SteadyClock::nanoseconds() const
{
    return std::chrono::duration_cast<std::chrono::nanoseconds> (std::chrono::steady_clock::now().time_since_epoch()).count();
}
} // namespace shutterbeat::play
