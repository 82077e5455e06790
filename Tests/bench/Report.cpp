#include "bench/Report.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <stdlib.h>

namespace shutterbeat::bench
{
void giveUp (const std::string& why)
{
    std::fprintf (stderr, "%s\n", why.c_str());
    std::exit (2);
}

void report (const std::string& what, double figure, double aim, const std::string& how, const std::string& unit)
{
    std::printf ("%s\t%.3f\t%.3f\t%s\t%s\n", what.c_str(), figure, aim, unit.c_str(), how.c_str());
    std::fflush (stdout);
}

double seconds (const std::function<void()>& work)
{
    const auto begin = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double> (std::chrono::steady_clock::now() - begin).count();
}

double best (int rounds, const std::function<void()>& work)
{
    double least = std::numeric_limits<double>::max();
    for (int i = 0; i < rounds; ++i)
        least = std::min (least, seconds (work));
    return least;
}

void shell (const std::string& command)
{
    if (std::system (command.c_str()) != 0)
        giveUp ("this command failed: " + command);
}

std::string scratch()
{
    struct Folder
    {
        std::filesystem::path path;
        Folder()
        {
            auto pattern = (std::filesystem::temp_directory_path() / "shutterbeat-bench-XXXXXX").string();
            if (::mkdtemp (pattern.data()) == nullptr)
                giveUp (pattern + " can't be made");
            path = pattern;
            ::setenv ("XDG_CACHE_HOME", (pattern + "/cache").c_str(), 1);
        }
        ~Folder()
        {
            std::error_code ignored;
            std::filesystem::remove_all (path, ignored);
        }
    };
    static const Folder folder;
    return folder.path.string();
}
} // namespace shutterbeat::bench
