#include "fuzz/Target.h"

#include "exchange/Chapters.h"

using namespace shutterbeat;

/// FFmpeg metadata text.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    if (const auto list = exchange::readChapters (fuzz::textOf (data, size)))
        for (const auto& chapter : list->chapters)
            fuzz::must (chapter.start.valid() && (! chapter.end || chapter.end->valid()), "the times of chapters are times");
    return 0;
}
