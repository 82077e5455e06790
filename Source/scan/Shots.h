#pragma once

#include "scan/CadenceSearch.h"
#include "scan/Changes.h"
#include "scan/Measures.h"
#include "scan/ScanResult.h"
#include "time/Rational.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace shutterbeat::scan
{
/// What may be changed without another pass.
struct Options
{
    double threshold = defaultThreshold;    ///< 0 to 1: changes at least this strong end a shot
    double cardThreshold = 0.5;             ///< 0 to 1: shots that look at least this much like one are cards
    std::int64_t shortestBlack = 24;        ///< file frames: shorter black between fades is a gap, not a shot of its own
    std::optional<time::Rational> fileRate; ///< file frames a second; names the speed behind a cadence

    static constexpr double defaultThreshold = 0.25;
};

/// What does not hang on the threshold, worked out once: curve, light, cadence, possible joins and gradual changes.
struct Groundwork
{
    std::vector<float> curve;           ///< see changeCurve
    std::vector<Span> light;            ///< see lightSpans
    std::vector<GradualChange> gradual; ///< see gradualChanges
    std::vector<Span> fades;            ///< see fadesOf
    std::vector<FoundJoin> joins;       ///< see joinsOf
    std::vector<Span> titles;           ///< see flashTitles
    CadenceFinding cadence;
};
/// `fileRate` as in Options.
Groundwork groundwork (const Measures& measures, const std::optional<time::Rational>& fileRate);

/// Shots and spans for one threshold. Pure, and quick enough to follow a slider: tens of milliseconds for hours of film.
ScanResult shots (const Measures& measures, const Groundwork& ground, const Options& options = {});

/// Both in one.
ScanResult shots (const Measures& measures, const Options& options = {});
} // namespace shutterbeat::scan
