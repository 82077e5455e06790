#pragma once

#include "sheets/KeySheet.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
using KeyGroup = sheets::KeyGroup;

/// Writes the keys as a PDF, whole or not at all. Gives notes for the user. Error: cannotWrite.
Result<std::vector<std::string>> writeKeySheet (const std::string& path, const std::vector<KeyGroup>& groups, bool letter);
} // namespace shutterbeat::desk
