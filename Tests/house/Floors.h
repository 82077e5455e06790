#pragma once

#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// Breaches of the floors by one file of Source/<folder>/: what it includes and may not, one sentence each.
std::vector<std::string> breachesIn (const std::string& folder, const std::string& file, const std::string& text);

/// True for a folder that has its place on a floor.
bool hasFloor (const std::string& folder);

/// Includes of a text in order, with their quotes or angle brackets: "\"film/Shot.h\"", "<vector>".
std::vector<std::string> includesOf (const std::string& text);
} // namespace shutterbeat::tests
