#pragma once

#include "desk/CueFit.h"

namespace shutterbeat::desk
{
/// Writes the error over tempo with the line that chance alone would give: a drawing for FILE.svg, a table (tempo, error,
/// chance, start; RFC 4180) for FILE.csv. Error: another ending, or cannotWrite.
Result<Done> drawCurve (const TempoAnswer& answer, const TempoWish& wish, const std::string& path);
} // namespace shutterbeat::desk
