#pragma once

#include <string>
#include <vector>

namespace shutterbeat::sheets
{
/// The families a sheet is set in: Inter, JetBrains Mono, EB Garamond 12 (its text cut).
std::vector<std::string> sheetFamilies();

/// One sentence for each of them that is not installed, naming the family that is set in its place.
std::vector<std::string> missingFamilies();
} // namespace shutterbeat::sheets
