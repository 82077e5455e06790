#pragma once

#include "scan/ScanResult.h"
#include "time/Result.h"

#include <string>

namespace shutterbeat::desk
{
/// Writes the measure that the threshold cuts, a line a file frame: "frame,measure" (RFC 4180), the measure 0 to 1 with three
/// decimals. Error: cannotWrite.
Result<Done> writeScanCurve (const scan::ScanResult& result, const std::string& path);
} // namespace shutterbeat::desk
