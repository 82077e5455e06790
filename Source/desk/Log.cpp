#include "desk/Log.h"

#include "desk/StateFolder.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;
constexpr off_t largest = 256 * 1024;
constexpr std::size_t longestLine = 2048;

/// Renames where another program may do the same: whoever comes second finds the new log small and leaves it.
void rotate (const std::string& path)
{
    std::error_code ignored;
    fs::rename (path + ".1", path + ".2", ignored);
    fs::rename (path, path + ".1", ignored);
}
} // namespace

void log (std::string_view event)
{
    const auto folder = stateFolder();
    std::error_code failed;
    if (folder.empty() || (fs::create_directories (folder, failed), failed))
        return;
    const auto path = folder + "/log";
    struct stat now
    {
    };
    if (::stat (path.c_str(), &now) == 0 && now.st_size > largest)
        rotate (path);
    std::time_t moment = std::time (nullptr);
    std::tm parts{};
    ::gmtime_r (&moment, &parts);
    char stamp[64];
    const auto length = std::strftime (stamp, sizeof stamp, "%Y-%m-%dT%H:%M:%SZ ", &parts);
    auto line = std::string (stamp, length) + std::to_string (::getpid()) + " " + std::string (event);
    std::replace (line.begin(), line.end(), '\n', ' ');
    line.resize (std::min (line.size(), longestLine));
    line += '\n';
    // One write to a file opened for appending: lines of several programs stay whole.
    const int file = ::open (path.c_str(), O_WRONLY | O_APPEND | O_CREAT | O_CLOEXEC, 0600);
    if (file < 0)
        return;
    [[maybe_unused]] const auto put = ::write (file, line.data(), line.size());
    ::close (file);
}

std::string loggedCommand (const std::vector<std::string>& words, int status, double seconds)
{
    // Commands are lower-case words; anything else in their place was typed by mistake, and may be a path.
    const auto plain = [] (const std::string& word)
    {
        return ! word.empty() && word.size() < 16
               && std::all_of (word.begin(), word.end(), [] (char c) { return c >= 'a' && c <= 'z'; });
    };
    std::string text = words.empty() ? "(nothing)" : plain (words[0]) ? words[0] : "(no command)";
    const char* asked = std::getenv ("SHUTTERBEAT_LOG_WORDS");
    if (asked != nullptr && std::string_view (asked) == "1")
        for (std::size_t i = 1; i < words.size(); ++i)
            text += " " + words[i];
    char end[64];
    std::snprintf (end, sizeof end, ", status %d, %ld ms", status, static_cast<long> (seconds * 1000));
    return text + end;
}
} // namespace shutterbeat::desk
