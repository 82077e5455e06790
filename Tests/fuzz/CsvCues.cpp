#include "fuzz/Target.h"

#include "exchange/CsvList.h"

using namespace shutterbeat;

/// A table of cues.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    if (const auto list = exchange::readCueList (fuzz::textOf (data, size)))
        for (const auto& cue : list->cues)
            fuzz::must ((! cue.bpm || cue.bpm->valid()) && (! cue.length || cue.length->valid()),
                        "numbers that are taken are numbers");
    return 0;
}
