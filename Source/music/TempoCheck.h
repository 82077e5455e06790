#pragma once

#include "music/TempoPlan.h"

namespace shutterbeat::music
{
/// Whether a plan makes sense as it stands; the error names the first place that does not. See TempoMap::of.
Result<Done> checkPlan (const TempoPlan& plan);
} // namespace shutterbeat::music
