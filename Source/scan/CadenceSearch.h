#pragma once

#include "film/Cadence.h"
#include "scan/Measures.h"
#include "scan/ScanResult.h"
#include "time/Rational.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::scan
{
/// The film frames behind a file, and how that is known.
struct CadenceFinding
{
    film::Cadence cadence;
    std::string said;
    bool sure = false;
    std::optional<time::Rational> speed;   ///< film frames a second; only when sure and the same throughout
    std::vector<CadenceStretch> stretches; ///< without gaps over all file frames; none of no frames
};

/// Finds regular repeats. `heads`: first file frames of shots, rising; pictures change there whatever the cadence.
/// `fileRate`: file frames a second; without it a cadence is found but no speed.
/// What is not sure is taken one to one, and said so.
CadenceFinding findCadence (const Measures& measures, const std::vector<std::int64_t>& heads,
                            const std::optional<time::Rational>& fileRate);
} // namespace shutterbeat::scan
