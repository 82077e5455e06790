#pragma once

// Whether a sanitizer watches this program's memory: it then reserves terabytes of addresses, and keeps what was freed for a
// while to catch whoever still reads it, so that limits of memory mean nothing.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SHUTTERBEAT_MEMORY_WATCHED 1
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define SHUTTERBEAT_MEMORY_WATCHED 1
#endif
#endif

namespace shutterbeat::tests
{
#ifdef SHUTTERBEAT_MEMORY_WATCHED
constexpr bool memoryIsWatched = true;
#else
constexpr bool memoryIsWatched = false;
#endif
} // namespace shutterbeat::tests
