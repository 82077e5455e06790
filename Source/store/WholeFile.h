#pragma once

#include "time/Result.h"

#include <string>
#include <string_view>

namespace shutterbeat::store
{
/// The bytes of a file of at most 1 GiB. Error (unreadable): missing, a folder, no permission, too large.
Result<std::string> readWhole (const std::string& path);

/// Writes whole or not at all: a temporary file in the same folder, flushed to the disk, then renamed over `path`;
/// the folder is flushed too. Follows a symbolic link to what it names. Error (cannotWrite): says why; nothing is left behind.
Result<Done> writeWhole (const std::string& path, std::string_view bytes);

/// Sixty-four bits that tell two contents apart (FNV-1a), with the length: "1234-9f0c...". Not for security.
std::string stampOf (std::string_view bytes);
} // namespace shutterbeat::store
