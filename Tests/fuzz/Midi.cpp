#include "fuzz/Target.h"

#include "exchange/MidiRead.h"

using namespace shutterbeat;

/// A Standard MIDI File. Nothing that is read may be more than the bytes hold.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto file = exchange::readMidiFile (fuzz::textOf (data, size));
    if (! file)
        return 0;
    fuzz::must (file->notes.size() + file->markers.size() + file->tempos.size() <= size, "no more events than bytes");
    for (const auto& note : file->notes)
        fuzz::must (note.seconds.valid() && note.tick <= file->lastTick, "the times of notes are times");
    for (const auto& marker : file->markers)
        fuzz::must (marker.seconds.valid(), "the times of markers are times");
    return 0;
}
