#pragma once

#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// SHA-256 (FIPS 180-4) of a file's bytes, 64 hexadecimal digits. Error: unreadable.
Result<std::string> sha256OfFile (const std::string& path);
} // namespace shutterbeat::media
