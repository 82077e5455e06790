#pragma once

#include "Screenplay.h"

#include <optional>
#include <string>

namespace shutterbeat::demo
{

/// For a film frame of an edition: 0 no splice flash, 1 its bright frame, 2 the frame after.
int flashAt (const EditionPlan& plan, int filmFrame);

/// Writes what is really in both editions, for tests. Gives back a sentence when it cannot.
std::optional<std::string> writeTruth (const std::string& path, const EditionPlan& a, const EditionPlan& b);

} // namespace shutterbeat::demo
