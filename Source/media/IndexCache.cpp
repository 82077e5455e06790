#include "media/IndexCache.h"

#include "media/CacheFolder.h"
#include "media/Libav.h"

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdlib.h>
#include <unistd.h>
#include <utility>
#include <vector>

namespace shutterbeat::media
{
namespace
{
namespace fs = std::filesystem;
constexpr std::uintmax_t mostBytes = std::uintmax_t (256) << 20;
constexpr const char* ending = ".index";

/// What a film holds can be found out differently by another libav, so that its version is part of the name.
std::string entryPath (const std::string& path, const std::string& identity)
{
    const auto folder = indexCacheFolder();
    std::error_code trouble;
    const auto written = fs::last_write_time (path, trouble);
    if (folder.empty() || identity.empty() || trouble)
        return {};
    return folder + "/" + identity + "-" + std::to_string (written.time_since_epoch().count()) + "-"
           + std::to_string (avformat_version()) + "-" + std::to_string (avcodec_version()) + ending;
}

bool writeAll (int file, const std::string& bytes)
{
    for (std::size_t done = 0; done < bytes.size();)
    {
        const auto written = ::write (file, bytes.data() + done, bytes.size() - done);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        done += static_cast<std::size_t> (written);
    }
    return true;
}
} // namespace

std::string indexCacheFolder()
{
    // A relative XDG_CACHE_HOME is to be ignored (XDG Base Directory Specification).
    const char* cache = std::getenv ("XDG_CACHE_HOME");
    if (cache != nullptr && cache[0] == '/')
        return std::string (cache) + "/shutterbeat/index";
    const char* home = std::getenv ("HOME");
    return home != nullptr && home[0] == '/' ? std::string (home) + "/.cache/shutterbeat/index" : std::string();
}

std::optional<KnownFilm> readCachedIndex (const std::string& path, const std::string& identity)
{
    const auto entry = entryPath (path, identity);
    if (entry.empty())
        return {};
    std::ifstream file (entry, std::ios::binary);
    if (! file)
        return {};
    const std::string bytes{ std::istreambuf_iterator<char> (file), std::istreambuf_iterator<char>() };
    auto film = decodeIndex (bytes);
    std::error_code ignored;
    if (! film || film->info.identity != identity)
    {
        fs::remove (entry, ignored);
        return {};
    }
    fs::last_write_time (entry, fs::file_time_type::clock::now(), ignored);
    film->info.path = path;
    return film;
}

void writeCachedIndex (const std::string& path, const KnownFilm& film)
{
    const auto entry = entryPath (path, film.info.identity);
    const auto folder = indexCacheFolder();
    std::error_code trouble;
    if (entry.empty())
        return;
    fs::create_directories (folder, trouble);
    if (trouble)
        return;
    std::string temporary = folder + "/.index-XXXXXX";
    const int file = ::mkostemp (temporary.data(), O_CLOEXEC);
    if (file < 0)
        return;
    // Not flushed to the disk: after a loss of power the checksum tells.
    const bool whole = writeAll (file, encodeIndex (film));
    if (::close (file) != 0 || ! whole || ::rename (temporary.c_str(), entry.c_str()) != 0)
        ::unlink (temporary.c_str());
    makeRoomIn (folder, ending, ".index-", mostBytes);
}
} // namespace shutterbeat::media
