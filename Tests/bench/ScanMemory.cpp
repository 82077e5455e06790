// Memory of a scan on two hours of film against ten minutes of the same: each in a process of its own, its peak as the
// kernel counted it.

#include "bench/Report.h"
#include "desk/ScanFilm.h"

#include <cstdlib>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace shutterbeat;
using namespace shutterbeat::bench;

namespace
{
struct Took
{
    double megabytes = 0;
    double seconds = 0;
};

Took scanApart (const std::string& film)
{
    Took took;
    took.seconds = seconds (
        [&]
        {
            const pid_t child = ::fork();
            if (child == 0)
            {
                const auto found = desk::scanFilm (film);
                ::_exit (found && ! found->scan.shots.empty() ? 0 : 1);
            }
            int status = 0;
            rusage usage{};
            if (child < 0 || ::wait4 (child, &status, 0, &usage) != child || status != 0)
                giveUp ("the scan of " + film + " failed");
            took.megabytes = static_cast<double> (usage.ru_maxrss) / 1024;
        });
    return took;
}
} // namespace

int main()
{
    const auto folder = scratch();
    ::setenv ("XDG_CACHE_HOME", (folder + "/cache").c_str(), 1); // nothing is known of the films
    const auto shorter = folder + "/ten-minutes.mp4";
    const auto longer = folder + "/two-hours.mp4";
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i mandelbrot=s=320x240:r=24 -frames:v 1440 -pix_fmt yuv420p -c:v libx264 -preset "
           "ultrafast "
           "-g 120 "
           + folder + "/minute.mp4");
    shell ("ffmpeg -nostdin -y -v error -stream_loop 9 -i " + folder + "/minute.mp4 -c copy " + shorter);
    shell ("ffmpeg -nostdin -y -v error -stream_loop 119 -i " + folder + "/minute.mp4 -c copy " + longer);
    const auto few = scanApart (shorter);
    const auto many = scanApart (longer);
    report ("memory of a scan, two hours / ten minutes", many.megabytes / few.megabytes, 1.5,
            std::to_string (static_cast<int> (many.megabytes)) + " MB in " + std::to_string (static_cast<int> (many.seconds))
                + " s, ten minutes " + std::to_string (static_cast<int> (few.megabytes)) + " MB in "
                + std::to_string (static_cast<int> (few.seconds)) + " s");
}
