#include "fuzz/Target.h"

#include "desk/RecutFiles.h"

using namespace shutterbeat;

/// What somebody decided of doubtful matches.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    if (const auto decisions = desk::parseDecisions (fuzz::textOf (data, size), "fuzz"))
        for (const auto& decision : *decisions)
            fuzz::must (decision.moved >= -1'000'000'000 && decision.moved <= 1'000'000'000, "a shift is a number of film frames");
    return 0;
}
