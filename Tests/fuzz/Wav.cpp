#include "fuzz/Target.h"

#include "exchange/WavRead.h"

using namespace shutterbeat;

/// The chunks of a WAV file.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto info = exchange::readWavInfo (fuzz::textOf (data, size));
    if (! info)
        return 0;
    fuzz::must (info->samplesPerSecond > 0 && info->channels > 0 && info->samples >= 0, "a sound has a rate, channels, a length");
    fuzz::must (static_cast<std::uint64_t> (info->samples) <= size, "no more samples than bytes");
    for (const auto& cue : info->cues)
        fuzz::must (cue.sample >= 0, "cue points lie in time");
    return 0;
}
