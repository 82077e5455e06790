#pragma once

// Whether a sanitizer watches this program's memory: it then reserves terabytes of addresses, and keeps what was freed for a
// while to catch whoever still reads it, so that limits of memory mean nothing.
namespace shutterbeat::tests
{
#ifdef SHUTTERBEAT_WATCHED
constexpr bool memoryIsWatched = true;
#else
constexpr bool memoryIsWatched = false;
#endif
} // namespace shutterbeat::tests
