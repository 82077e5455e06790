#include "fuzz/Target.h"

#include "exchange/MusicXmlRead.h"

using namespace shutterbeat;

/// A MusicXML score.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto score = exchange::readMusicXml (fuzz::textOf (data, size));
    if (score)
        fuzz::must (score->map.start().valid(), "a score that is taken begins somewhere");
    return 0;
}
