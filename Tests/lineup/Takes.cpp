#include "Takes.h"

#include "Catch.h"

namespace shutterbeat::tests
{
std::optional<Take> listenTo (const Piece& piece, double playedAs)
{
    const auto samples = render (piece);
    if (samples.empty())
    {
        WARN ("fluidsynth or timgm6mb-soundfont is not installed; skipped");
        return std::nullopt;
    }
    const lineup::Signal signal{ samples, 44100 / playedAs };
    Take take;
    auto& evidence = take.evidence;
    evidence.beats = beatsOf (piece);
    evidence.length = static_cast<double> (samples.size()) / signal.rate;
    evidence.sharp = lineup::sharpOnsets (signal, lineup::fluxOf (signal, lineup::FluxLook::sharp()));
    evidence.slow = lineup::slowOnsets (signal, lineup::fluxOf (signal, lineup::FluxLook::slow()));
    evidence.tuning = lineup::tuningOf (signal);
    take.diagnosis = lineup::diagnose (evidence);
    return take;
}
} // namespace shutterbeat::tests
