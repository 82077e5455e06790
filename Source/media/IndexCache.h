#pragma once

#include "media/IndexCode.h"

#include <optional>
#include <string>

namespace shutterbeat::media
{
/// Where indexes are kept: $XDG_CACHE_HOME/shutterbeat/index, else ~/.cache/shutterbeat/index. Empty when there is no
/// such folder to be had; then every film is read through each time.
std::string indexCacheFolder();

/// What was found out about the file at `path` when it was last read through: kept under its identity (fileIdentity) and
/// the time it was last written, so that a file that was changed is not taken for what it was. Nothing when it was not
/// kept, or what was kept is no longer whole.
std::optional<KnownFilm> readCachedIndex (const std::string& path, const std::string& identity);

/// Keeps it, whole or not at all. A disk that is full or can't be written is no fault: the cache only saves time. Of many
/// films those not asked for longest are dropped, so that all together take no more than 256 MB.
void writeCachedIndex (const std::string& path, const KnownFilm& film);
} // namespace shutterbeat::media
