#include "fuzz/Target.h"

#include "exchange/MidiTempo.h"

using namespace shutterbeat;

/// A Standard MIDI File, and its tempos as those of a cue. Nothing that is read may be more than the bytes hold.
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
    if (file->smpteOffset)
        fuzz::must (exchange::offsetSeconds (*file->smpteOffset).valid(), "an offset is a time");
    for (const auto bar : { std::optional<std::int64_t>(), std::optional<std::int64_t> (3) })
        if (const auto tempo = exchange::tempoMapOf (*file, "1M1", "", bar))
            fuzz::must (tempo->map.start().valid() && ! tempo->map.plan().tempos.empty(), "a map that is taken has its tempo");
    return 0;
}
