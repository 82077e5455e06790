#include "fuzz/Target.h"

#include "exchange/OtioRead.h"

using namespace shutterbeat;

/// An OpenTimelineIO timeline.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto timeline = exchange::readOtio (fuzz::textOf (data, size));
    if (! timeline)
        return 0;
    for (const auto& clip : timeline->clips)
        fuzz::must (clip.start.valid() && clip.duration.valid() && clip.sourceStart.valid(), "the times of clips are times");
    for (const auto& marker : timeline->markers)
    {
        fuzz::must (marker.start.valid() && marker.duration.valid(), "the times of markers are times");
        (void)timeline->frameOf (marker.start);
    }
    return 0;
}
