// A whole scan (decoding, shots, cards, cadence, fingerprints) against ffmpeg only decoding the same file with as many
// threads as there are cores: runs in turn, the best of several.

#include "bench/Report.h"
#include "media/GreyPass.h"
#include "scan/Fingerprint.h"
#include "scan/Scanner.h"
#include "scan/Shots.h"

#include <algorithm>
#include <fstream>
#include <thread>

using namespace shutterbeat;
using namespace shutterbeat::bench;

namespace
{
/// Frames, so that nothing is left out, and the sum of all fingerprints, so that none is left out either.
std::pair<std::size_t, long> scanWhole (const std::string& film)
{
    scan::Scanner scanner;
    long sum = 0;
    must (media::forEachGrey (film, scan::scanWidth, scan::scanHeight,
                              [&] (std::int64_t, const film::GreyPicture& picture)
                              {
                                  must (scanner.add (picture));
                                  const auto fingerprint = scan::fingerprintOf (picture);
                                  sum += fingerprint.cells[0] + fingerprint.cells[200];
                                  return true;
                              }));
    scan::Options options;
    options.fileRate = time::Rational (25);
    return { scan::shots (scanner.finish(), options).cadence.runs().size() > 0 ? 1U : 0U, sum };
}

void compare (const std::string& name, const std::string& film, double aim)
{
    const auto threads = std::to_string (std::max (1U, std::thread::hardware_concurrency()));
    double ours = 1e9;
    double theirs = 1e9;
    for (int round = 0; round < 3; ++round)
    {
        theirs = std::min (
            theirs, seconds ([&] { shell ("ffmpeg -nostdin -v error -threads " + threads + " -i '" + film + "' -an -f null -"); }));
        ours = std::min (ours, seconds ([&] { scanWhole (film); }));
    }
    report ("scan of " + name + " / ffmpeg -f null", ours / theirs, aim,
            std::to_string (static_cast<int> (ours * 1000)) + " ms, ffmpeg " + std::to_string (static_cast<int> (theirs * 1000))
                + " ms, " + threads + " threads");
}
} // namespace

int main()
{
    const auto folder = scratch();
    // A real silent film of 390 kbit a second where there is one, else a drawn one of about that.
    std::string film = std::string (SHUTTERBEAT_TEST_DATA) + "/data/video/nosferatu_1922_letters_excerpt.mp4";
    if (! std::ifstream (film))
    {
        film = folder + "/drawn.mp4";
        shell (
            "ffmpeg -nostdin -y -v error -f lavfi -i mandelbrot=s=640x480:r=25 -frames:v 1200 -vf noise=alls=12:allf=t,format=gray,"
            "format=yuv420p -c:v libx264 -b:v 400k "
            + film);
    }
    const auto sd = folder + "/sd.mp4";
    const auto hd = folder + "/hd.mp4";
    shell ("ffmpeg -nostdin -y -v error -stream_loop 1 -i '" + film + "' -an -c copy " + sd);
    shell ("ffmpeg -nostdin -y -v error -i '" + film
           + "' -an -frames:v 600 -vf scale=1440:1080,noise=alls=6:allf=t -c:v libx264 -preset veryfast -crf 21 " + hd);
    compare ("SD of low bitrate", sd, 1.3);
    compare ("HD", hd, 1.15);
}
