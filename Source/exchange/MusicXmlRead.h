#pragma once

#include "music/TempoMap.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::exchange
{
/// The bars and tempos of a score.
struct ScoreTempo
{
    music::TempoMap map;
    std::vector<std::string> notes; ///< what was odd, and how it was taken
};

/// Tempos, meters, keys and pickup of a MusicXML score (partwise, not compressed) by its first part. A tempo counts wherever
/// it stands: as sound in a direction, as sound bare in a measure, or as a metronome mark alone (CASES B43). Bar 1 is the
/// first that is no pickup. Error: not such a score, or tempos that make no map.
Result<ScoreTempo> readMusicXml (std::string_view bytes);
} // namespace shutterbeat::exchange
