#include "Wear.h"

#include "media/FilmFile.h"

#include <cstdio>
#include <memory>

namespace shutterbeat::tests
{
namespace
{
constexpr std::size_t tableSize = 1U << 18U;

struct ClosePipe
{
    void operator() (std::FILE* file) const { pclose (file); }
};
using Pipe = std::unique_ptr<std::FILE, ClosePipe>;

std::string quoted (const std::string& path)
{
    std::string text = "'";
    for (const char c : path)
        text += c == '\'' ? std::string ("'\\''") : std::string (1, c);
    return text + "'";
}

Pipe encoder (const std::string& to, int width, int height, const std::string& rate, int crf)
{
    const std::string size = std::to_string (width) + "x" + std::to_string (height);
    return Pipe (popen (("ffmpeg -nostdin -v error -y -f rawvideo -pix_fmt gray -s " + size + " -r " + rate
                         + " -i - -an -c:v libx264 -preset veryfast -threads 2 -pix_fmt yuv420p -crf " + std::to_string (crf) + " "
                         + quoted (to))
                            .c_str(),
                        "w"));
}
} // namespace

WornPrint::WornPrint (int width, int height, const Wear& wear)
    : w (width)
    , h (height)
    , how (wear)
    , dice (wear.seed)
    , now (static_cast<std::size_t> (width) * static_cast<std::size_t> (height))
{
    for (int i = 0; i < how.scratches; ++i)
        scratches.push_back (w * (0.05 + 0.9 * dice.even()));
    grainTable.resize (tableSize);
    for (double& value : grainTable)
        value = how.grain * dice.bell();
}

void WornPrint::shift (const std::vector<std::uint8_t>& from, double dx, double dy, double gain)
{
    const int wholeX = static_cast<int> (std::floor (dx));
    const int wholeY = static_cast<int> (std::floor (dy));
    const double fx = dx - wholeX;
    const double fy = dy - wholeY;
    // Each line is blended across once and used by the two lines it lies between.
    const auto across = [&] (int row, std::vector<double>& line)
    {
        const auto* pixels = from.data() + static_cast<std::size_t> (std::clamp (row, 0, h - 1)) * static_cast<std::size_t> (w);
        for (int x = 0; x < w; ++x)
            line[static_cast<std::size_t> (x)] =
                pixels[std::clamp (x + wholeX, 0, w - 1)] * (1 - fx) + pixels[std::clamp (x + wholeX + 1, 0, w - 1)] * fx;
    };
    std::vector<double> upper (static_cast<std::size_t> (w));
    std::vector<double> lower (upper.size());
    across (wholeY, lower);
    for (int y = 0; y < h; ++y)
    {
        std::swap (upper, lower);
        across (y + wholeY + 1, lower);
        auto* line = now.data() + static_cast<std::size_t> (y) * upper.size();
        for (std::size_t x = 0; x < upper.size(); ++x)
            line[x] = gain * (upper[x] * (1 - fy) + lower[x] * fy);
    }
}

void WornPrint::spot()
{
    const double level = dice.even() < 0.5 ? 15 : 240;
    const int radius = std::max (1, static_cast<int> ((1 + 4 * dice.even()) * w / 640));
    const int cx = static_cast<int> (dice.even() * w);
    const int cy = static_cast<int> (dice.even() * h);
    for (int y = std::max (0, cy - radius); y <= std::min (h - 1, cy + radius); ++y)
        for (int x = std::max (0, cx - radius); x <= std::min (w - 1, cx + radius); ++x)
            if ((x - cx) * (x - cx) + (y - cy) * (y - cy) <= radius * radius)
                now[static_cast<std::size_t> (y * w + x)] = level;
}

void WornPrint::wear (std::vector<std::uint8_t>& grey)
{
    const double farthest = how.weave * w / 640;
    std::array<double, 2> place{};
    for (std::size_t axis = 0; axis < 2; ++axis)
    {
        drifting[axis] = 0.9 * drifting[axis] + 0.12 * farthest * dice.bell() * 0.3;
        drift[axis] = std::clamp (drift[axis] + drifting[axis], -0.8 * farthest, 0.8 * farthest);
        place[axis] = std::clamp (drift[axis] + 0.2 * farthest * dice.bell(), -farthest, farthest);
    }
    shift (grey, place[0], place[1], 1 + how.flicker * (2 * dice.even() - 1));
    for (double& scratch : scratches)
    {
        scratch = std::clamp (scratch + dice.bell() * w / 640, 0.0, w - 1.0);
        const double lighter = 60 + 60 * dice.even();
        for (int y = 0; y < h; ++y)
            now[static_cast<std::size_t> (y * w + static_cast<int> (scratch))] += lighter;
    }
    for (int i = 0; i < how.spots; ++i)
        spot();
    std::size_t grain = static_cast<std::size_t> (dice.even() * tableSize);
    for (std::size_t i = 0; i < grey.size(); ++i)
    {
        grain = (grain + 1) % tableSize;
        grey[i] = static_cast<std::uint8_t> (std::clamp (now[i] + grainTable[grain] + 0.5, 0.0, 255.0));
    }
}

std::optional<std::string> wearFilm (const std::string& from, const std::string& to, const Wear& wear, int crf, std::int64_t frames)
{
    const auto film = media::openFilm (from);
    if (! film)
        return film.error().message;
    const int width = film->width / 2 * 2;
    const int height = film->height / 2 * 2;
    const Pipe in (popen (("ffmpeg -nostdin -v error -i " + quoted (from) + " -an -fps_mode passthrough -vf scale="
                           + std::to_string (width) + ":" + std::to_string (height) + " -f rawvideo -pix_fmt gray -")
                              .c_str(),
                          "r"));
    const Pipe out = encoder (to, width, height, time::fractionText (film->rate), crf);
    if (! in || ! out)
        return "ffmpeg can't be started";
    WornPrint print (width, height, wear);
    std::vector<std::uint8_t> grey (static_cast<std::size_t> (width) * static_cast<std::size_t> (height));
    std::int64_t count = 0;
    while ((frames == 0 || count < frames) && std::fread (grey.data(), 1, grey.size(), in.get()) == grey.size())
    {
        print.wear (grey);
        if (std::fwrite (grey.data(), 1, grey.size(), out.get()) != grey.size())
            return "ffmpeg did not take the pictures";
        ++count;
    }
    if (frames == 0 && count != film->frames)
        return "ffmpeg gave " + std::to_string (count) + " pictures of " + std::to_string (film->frames);
    return std::nullopt;
}

std::optional<std::string> encodeGrey (const std::string& to, int width, int height, const std::string& rate, int crf,
                                       const std::vector<std::vector<std::uint8_t>>& pictures)
{
    const Pipe out = encoder (to, width, height, rate, crf);
    if (! out)
        return "ffmpeg can't be started";
    for (const auto& picture : pictures)
        if (std::fwrite (picture.data(), 1, picture.size(), out.get()) != picture.size())
            return "ffmpeg did not take the pictures";
    return std::nullopt;
}
} // namespace shutterbeat::tests
