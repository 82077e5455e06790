#pragma once

#include "lineup/Diagnosis.h"

namespace shutterbeat::lineup
{
/// The judgement and its evidence as sentences. `beat` is the usual length of a beat in seconds.
std::vector<std::string> diagnosisWords (const Diagnosis& diagnosis, const TakeEvidence& evidence, double beat, std::size_t onsets);

/// Why nothing is said about the whole of a sound.
std::vector<std::string> thinWords (const TakeEvidence& evidence, const std::optional<TakeLine>& line);

/// "45 ms late", "0 ms", "12 ms early"; whole milliseconds, for nothing finer can be heard of live players.
std::string lateText (double seconds);

/// A number with so many decimals, a point whatever the locale.
std::string numberText (double value, int decimals);
} // namespace shutterbeat::lineup
