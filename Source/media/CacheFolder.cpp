#include "media/CacheFolder.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <vector>

namespace shutterbeat::media
{
void makeRoomIn (const std::string& folder, const std::string& ending, const std::string& leftover, std::uintmax_t most)
{
    namespace fs = std::filesystem;
    struct Entry
    {
        fs::file_time_type used;
        std::uintmax_t bytes;
        fs::path path;
    };
    std::vector<Entry> entries;
    std::uintmax_t all = 0;
    std::error_code trouble;
    const auto hourAgo = fs::file_time_type::clock::now() - std::chrono::hours (1);
    for (fs::directory_iterator at (folder, trouble), end; ! trouble && at != end; at.increment (trouble))
    {
        std::error_code gone;
        Entry entry{ at->last_write_time (gone), at->file_size (gone), at->path() };
        if (gone)
            continue;
        const auto name = entry.path.filename().string();
        if (name.find (leftover) != std::string::npos && entry.used < hourAgo)
            fs::remove (entry.path, gone);
        else if (name.ends_with (ending))
        {
            all += entry.bytes;
            entries.push_back (std::move (entry));
        }
    }
    std::sort (entries.begin(), entries.end(), [] (const Entry& a, const Entry& b) { return a.used < b.used; });
    for (const auto& entry : entries)
    {
        if (all <= most)
            break;
        std::error_code gone;
        fs::remove (entry.path, gone);
        all -= entry.bytes;
    }
}
} // namespace shutterbeat::media
