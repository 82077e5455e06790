// Memory of a scan on two hours of film against ten minutes of the same: each in a program of its own, started afresh as a user
// starts it, its peak as the kernel counted it.

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

/// The scan of one film by this program started anew with the film as its word. (A child that only forks would share the pages of
/// libraries with us and look smaller than any program is.)
Took scanApart (const char* program, const std::string& film)
{
    Took took;
    took.seconds = seconds (
        [&]
        {
            const pid_t child = ::fork();
            if (child == 0)
            {
                ::execl ("/proc/self/exe", program, film.c_str(), static_cast<char*> (nullptr));
                ::_exit (2);
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

int main (int count, char** words)
{
    if (count == 2)
    {
        const auto found = desk::scanFilm (words[1]);
        return found && ! found->scan.shots.empty() ? 0 : 1;
    }
    const auto folder = scratch();
    ::setenv ("XDG_CACHE_HOME", (folder + "/cache").c_str(), 1); // nothing is known of the films
    const auto shorter = folder + "/ten-minutes.mp4";
    const auto longer = folder + "/two-hours.mp4";
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i mandelbrot=s=320x240:r=24 -frames:v 1440 -pix_fmt yuv420p -c:v libx264 -preset "
           "ultrafast -crf 40 -g 120 "
           + folder + "/minute.mp4");
    shell ("ffmpeg -nostdin -y -v error -stream_loop 9 -i " + folder + "/minute.mp4 -c copy " + shorter);
    shell ("ffmpeg -nostdin -y -v error -stream_loop 119 -i " + folder + "/minute.mp4 -c copy " + longer);
    const auto few = scanApart (words[0], shorter);
    const auto many = scanApart (words[0], longer);
    constexpr double moreFrames = 110 * 60 * 24;
    report ("memory of a scan, two hours / ten minutes", many.megabytes / few.megabytes, 1.5,
            std::to_string (static_cast<int> (many.megabytes)) + " MB in " + std::to_string (static_cast<int> (many.seconds))
                + " s, ten minutes " + std::to_string (static_cast<int> (few.megabytes)) + " MB in "
                + std::to_string (static_cast<int> (few.seconds))
                + " s: " + std::to_string (static_cast<int> ((many.megabytes - few.megabytes) * 1048576 / moreFrames))
                + " bytes for each further frame");
}
