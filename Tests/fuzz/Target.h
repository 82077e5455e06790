#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

/// The one function of every fuzz target: reads `size` bytes that anybody may have made up. It must come back, whatever they
/// are, without a crash, without more memory than the bytes warrant, and soon. Replay.cpp runs it over files, and libFuzzer
/// where clang is at hand (Tests/long/run).
extern "C" int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size);

namespace shutterbeat::fuzz
{
inline std::string_view textOf (const std::uint8_t* data, std::size_t size)
{
    return { reinterpret_cast<const char*> (data), size };
}

/// What has to hold for any input; a breach is a finding like a crash.
inline void must (bool holds, const char* what)
{
    if (holds)
        return;
    std::fprintf (stderr, "broken: %s\n", what);
    std::abort();
}
} // namespace shutterbeat::fuzz
