#pragma once

#include "time/Result.h"

#include <functional>
#include <string>
#include <vector>

namespace shutterbeat::store
{
/// A file that goes into a zip, and its name there.
struct ZipEntry
{
    std::string name; ///< UTF-8, with / between folders
    std::string path;
};

/// Told how far it is, 0 to 1; false stops it.
using ZipWatch = std::function<bool (double fraction)>;

/// Writes a zip, whole or not at all. Entries are stored as they are (movies, sounds and PDFs don't get smaller), in the order
/// given, all of one date: the same files are the same bytes. Larger than 4 GiB is written as Zip64 (libzip). Error: cannotWrite,
/// among them a file of that name; unreadable; cancelled.
Result<Done> writeZip (const std::string& path, const std::vector<ZipEntry>& entries, const ZipWatch& watch = {});
} // namespace shutterbeat::store
