#include "fuzz/Target.h"

#include "exchange/TimedText.h"

using namespace shutterbeat;

/// WebVTT and SubRip.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    if (const auto texts = exchange::readTimedTexts (fuzz::textOf (data, size)))
        for (const auto& text : texts->texts)
            fuzz::must (text.start.valid() && text.end.valid() && text.start < text.end, "a text begins before it ends");
    return 0;
}
