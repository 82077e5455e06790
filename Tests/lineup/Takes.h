#pragma once

#include "RenderedMusic.h"
#include "lineup/Diagnosis.h"

#include <optional>

namespace shutterbeat::tests
{
/// A rendered piece, listened to.
struct Take
{
    lineup::TakeEvidence evidence;
    lineup::Diagnosis diagnosis;
};

/// Renders a piece and listens to it; `playedAs` is the ratio of a wrong sample rate (above one: played too slowly). Nothing, with
/// a warning, where fluidsynth or its soundfont is not installed.
std::optional<Take> listenTo (const Piece& piece, double playedAs = 1);
} // namespace shutterbeat::tests
