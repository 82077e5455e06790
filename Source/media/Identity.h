#pragma once

#include "time/Result.h"

#include <string>

namespace shutterbeat::media
{
/// The same text for the same file wherever it lies: its size and a SHA-256 over blocks from its head, middle and end.
/// Of numbered picture files (see findSequence): the sizes of all and such a hash over the first, middle and last of them.
/// Quick for files of any size. Error: unreadable.
Result<std::string> fileIdentity (const std::string& path);
} // namespace shutterbeat::media
