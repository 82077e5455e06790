#pragma once

#include "spotting/RecutEdit.h"

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::desk
{
/// Reads {"decisions": [{"match": "B-1", "answer": "same" or "other", "moved": 3}]}; "moved" may be left out.
/// Error: unreadable, with the file and what is wrong in it.
Result<std::vector<spotting::Decision>> readDecisions (const std::string& path);
/// The same of text; `path` names it in errors.
Result<std::vector<spotting::Decision>> parseDecisions (std::string_view text, const std::string& path);
} // namespace shutterbeat::desk
