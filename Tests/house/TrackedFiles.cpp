#include "TrackedFiles.h"

#include <sys/wait.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

namespace shutterbeat::tests
{
namespace fs = std::filesystem;

Ran run (const std::string& command)
{
    Ran ran;
    std::FILE* pipe = popen (command.c_str(), "r");
    if (pipe == nullptr)
        return ran;
    std::array<char, 4096> block{};
    for (std::size_t n = 0; (n = std::fread (block.data(), 1, block.size(), pipe)) > 0;)
        ran.output.append (block.data(), n);
    const int status = pclose (pipe);
    ran.status = WIFEXITED (status) ? WEXITSTATUS (status) : -1;
    return ran;
}

std::vector<std::string> trackedFiles()
{
    const fs::path root = SHUTTERBEAT_SOURCE_DIR;
    std::vector<std::string> files;
    const auto git = run ("git -C '" + root.string() + "' ls-files 2>/dev/null");
    if (git.status == 0 && ! git.output.empty())
    {
        std::istringstream lines (git.output);
        for (std::string line; std::getline (lines, line);)
            if (fs::exists (root / line))
                files.push_back (line);
    }
    else
        for (auto at = fs::recursive_directory_iterator (root); at != fs::recursive_directory_iterator(); ++at)
        {
            const auto name = at->path().filename().string();
            if (at->is_directory() && (name.rfind ("build", 0) == 0 || name == ".git" || name == "out"))
                at.disable_recursion_pending();
            else if (at->is_regular_file())
                files.push_back (fs::relative (at->path(), root).string());
        }
    std::sort (files.begin(), files.end());
    return files;
}

std::string readTracked (const std::string& path)
{
    std::ifstream file (fs::path (SHUTTERBEAT_SOURCE_DIR) / path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), std::istreambuf_iterator<char>() };
}
} // namespace shutterbeat::tests
