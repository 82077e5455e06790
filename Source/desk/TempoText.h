#pragma once

#include "music/TempoMap.h"
#include "spotting/Times.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// The words a person sets a tempo map with.
struct TempoWords
{
    std::vector<std::string> tempos; ///< "96", "9:120", "9.3:97.3~", "13-0", "1:80/dotted quarter": from a bar and beat on;
                                     ///< ~ goes over to the next evenly in time, ~~ evenly in beats
    std::vector<std::string> meters; ///< "6/8", "9:7/8(2+2+3)"
    std::vector<std::string> holds;  ///< "12.3:4.5s", "12.3:half:4.5s": the beat (or note) there lasts that long
    std::vector<std::string> free;   ///< "20:24:8.5s": from a bar and beat up to before another
    std::vector<std::string> keys;   ///< "1:-3 minor"
    std::string pickup;              ///< quarter notes before bar 1: "1", "1/2"
};

/// A tempo map from words. What is not given is kept from `before`, where there is one. Clicks count frames at `rate`.
/// Error: words that say nothing, each named; or as TempoMap::of.
Result<music::TempoMap> tempoFromWords (const TempoWords& words, const std::optional<music::TempoMap>& before,
                                        const time::Rational& rate);

/// The map as the words that make it, one a line: "tempo 9.3:97.30~".
std::vector<std::string> wordsOfTempo (const music::TempoMap& map);
} // namespace shutterbeat::desk
