#pragma once

#include "scan/Measures.h"

#include <optional>
#include <string>
#include <string_view>

namespace shutterbeat::desk
{
/// Measures as bytes, the same on every machine.
std::string measuresBytes (const scan::Measures& measures);
/// Nothing when the bytes are cut off, changed, or of another version of the scan.
std::optional<scan::Measures> measuresFrom (std::string_view bytes);

/// What a film was measured as before: kept beside the indexes of films ($XDG_CACHE_HOME/shutterbeat/scan) under its
/// identity and the time it was last written. Nothing when it was not kept.
std::optional<scan::Measures> readCachedScan (const std::string& path, const std::string& identity);

/// Keeps it. A disk that can't be written is no fault: the film is only measured again. Together no more than 512 MB are
/// kept (several hundred hours of film); what was not asked for longest goes.
void writeCachedScan (const std::string& path, const std::string& identity, const scan::Measures& measures);
} // namespace shutterbeat::desk
