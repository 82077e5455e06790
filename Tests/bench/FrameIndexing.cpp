// Making the index of a film against ffprobe reading its packets, and opening it again from the cache.

#include "bench/Report.h"
#include "media/FilmFile.h"
#include "media/FrameIndex.h"

#include <algorithm>
#include <cstdlib>

using namespace shutterbeat;
using namespace shutterbeat::bench;

int main()
{
    const auto folder = scratch();
    const auto withCache = folder + "/cache";
    // Ten minutes: long enough that starting a program does not count.
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i testsrc2=s=320x240:r=25:d=60 -f lavfi -i sine=d=60 "
           "-c:v libx264 -preset ultrafast -bf 2 -g 250 -c:a aac "
           + folder + "/minute.mp4");
    shell ("ffmpeg -nostdin -y -v error -stream_loop 9 -i " + folder + "/minute.mp4 -c copy " + folder + "/a.mp4");
    for (const char* other : { "a.mkv", "a.ts" })
        shell ("ffmpeg -nostdin -y -v error -i " + folder + "/a.mp4 -c copy " + folder + "/" + other);
    shell ("ffmpeg -nostdin -y -v error -f lavfi -i testsrc2=s=320x240:r=25:d=600 -f lavfi -i sine=d=600 -c:v mpeg2video -q:v 6 -g "
           "12 -bf 2 -c:a mp2 "
           + folder + "/b.mpg");

    for (const char* name : { "a.mp4", "a.mkv", "a.ts", "b.mpg" })
    {
        const auto film = folder + "/" + name;
        double ours = 1e9, theirs = 1e9, again = 1e9;
        for (int round = 0; round < 5; ++round)
        {
            theirs = std::min (theirs,
                               seconds (
                                   [&] {
                                       shell ("ffprobe -v error -select_streams v -show_entries packet=pts,dts,pos,flags -of csv "
                                              + film + " >/dev/null");
                                   }));
            ::setenv ("XDG_CACHE_HOME", "/dev/null", 1);
            ours = std::min (ours, seconds ([&] { must (media::readFrameIndex (film)); }));
            ::setenv ("XDG_CACHE_HOME", withCache.c_str(), 1);
            must (media::openFilm (film));
            again = std::min (again, seconds ([&] { must (media::readFrameIndex (film)); }));
        }
        report (std::string ("index of ") + name + " / ffprobe", ours / theirs, 1.0,
                "15000 packets: " + std::to_string (static_cast<int> (ours * 1000)) + " ms, ffprobe "
                    + std::to_string (static_cast<int> (theirs * 1000)) + " ms, again from the cache "
                    + std::to_string (static_cast<int> (again * 1000)) + " ms");
    }
}
