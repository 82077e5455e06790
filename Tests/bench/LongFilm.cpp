// Memory on a film of two hours: a reader goes forward, backward and about at random, and takes no more than its budget
// and the index.

#include "bench/Report.h"
#include "media/FrameReader.h"

#include <fstream>
#include <random>
#include <string>

using namespace shutterbeat;
using namespace shutterbeat::bench;

namespace
{
/// Megabytes from /proc/self/status: VmRSS now, or VmHWM at most.
double memory (const std::string& field)
{
    std::ifstream status ("/proc/self/status");
    std::string name;
    long kilobytes = 0;
    while (status >> name)
        if (name == field + ":" && status >> kilobytes)
            return static_cast<double> (kilobytes) / 1024.0;
    giveUp ("no " + field);
}
} // namespace

int main()
{
    const auto folder = scratch();
    const auto film = folder + "/two-hours.mp4";
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i testsrc2=s=320x240:r=24 -frames:v 1440 -c:v libx264 -preset ultrafast -g 250 "
           "-pix_fmt yuv420p "
           + folder + "/minute.mp4");
    shell ("ffmpeg -nostdin -y -v error -stream_loop 119 -i " + folder + "/minute.mp4 -c copy " + film);
    constexpr double budget = 64;
    const double before = memory ("VmRSS");
    const double opening = seconds ([&] { must (media::FrameReader::open (film, 0)); });
    auto reader = must (media::FrameReader::open (film, static_cast<std::size_t> (budget) << 20));
    const auto& index = reader->index();
    const double indexed = memory ("VmRSS") - before;
    const auto frames = reader->info().frames;
    if (frames != 172800)
        giveUp ("has " + std::to_string (frames) + " frames");
    std::mt19937 random (2);
    const double took = seconds (
        [&]
        {
            for (std::int64_t k = 0; k < 6000; ++k)
                must (reader->greyFrame (k, 16, 12));
            for (std::int64_t k = frames - 1; k > frames - 3000; --k)
                must (reader->greyFrame (k, 16, 12));
            for (int i = 0; i < 300; ++i)
                must (reader->greyFrame (static_cast<std::int64_t> (random() % static_cast<std::uint64_t> (frames)), 16, 12));
        });
    const double grown = memory ("VmHWM") - before - indexed;
    report ("memory on two hours / budget", grown / budget, 1.25,
            std::to_string (static_cast<int> (grown)) + " MB beside the index (" + std::to_string (static_cast<int> (indexed))
                + " MB, " + std::to_string (index.packets.size()) + " packets), budget 64 MB; 9300 frames in "
                + std::to_string (static_cast<int> (took)) + " s");
    const double again = seconds ([&] { must (media::FrameReader::open (film, 0)); });
    report ("opening two hours from the cache / anew", again / opening, 0.5,
            std::to_string (static_cast<int> (again * 1000)) + " ms, anew " + std::to_string (static_cast<int> (opening * 1000))
                + " ms");
}
