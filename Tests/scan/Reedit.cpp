#include "Reedit.h"

#include "Wear.h"

#include "media/GreyPass.h"
#include "scan/Scanner.h"
#include "scan/Shots.h"

#include <array>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>
#include <unistd.h>

namespace shutterbeat::tests
{
namespace
{
constexpr int width = 320;
constexpr int height = 240;
using Grey = std::vector<std::uint8_t>;

struct ClosePipe
{
    void operator() (std::FILE* file) const { pclose (file); }
};

std::vector<Grey> decoded (const std::string& path)
{
    std::vector<Grey> pictures;
    const std::unique_ptr<std::FILE, ClosePipe> in (
        popen (("ffmpeg -nostdin -v error -i '" + path + "' -an -fps_mode passthrough -vf scale=" + std::to_string (width) + ":"
                + std::to_string (height) + " -f rawvideo -pix_fmt gray -")
                   .c_str(),
               "r"));
    Grey grey (static_cast<std::size_t> (width) * height);
    while (in && std::fread (grey.data(), 1, grey.size(), in.get()) == grey.size())
        pictures.push_back (grey);
    return pictures;
}

/// Grey levels raised to a power: the nearest level to 255 (level / 255)^gamma, found among the places where it changes, since a
/// power of every pixel takes longer than all the rest; where to begin looking is known by sixteenths of a level.
class Grading
{
public:
    explicit Grading (double gamma)
    {
        for (std::size_t level = 0; level < changes.size(); ++level)
            changes[level] = 255 * std::pow ((static_cast<double> (level) + 0.5) / 255, 1 / gamma);
        for (std::size_t part = 0; part < first.size(); ++part)
            while (first[part] < 255 && changes[first[part]] <= static_cast<double> (part) / 16)
                ++first[part];
    }
    std::uint8_t operator() (double level) const
    {
        auto graded = first[static_cast<std::size_t> (16 * level)];
        while (graded < 255 && changes[graded] <= level)
            ++graded;
        return graded;
    }

private:
    std::array<double, 255> changes{};              ///< from changes[n] on it is n + 1
    std::array<std::uint8_t, 16 * 255 + 1> first{}; ///< what levels become, by sixteenths
};

/// Cropped by a share, seven tenths of it on the left and four tenths at the top, and regraded.
void cropAndGrade (Grey& grey, const OtherPrint& other, const Grading& graded)
{
    const Grey from = grey;
    std::array<std::array<double, width>, 2> lines{}; // two lines blended across, and which they are
    std::array<int, 2> rows{ -1, -1 };
    const auto across = [&] (int row) -> const std::array<double, width>&
    {
        const auto slot = static_cast<std::size_t> (row % 2);
        if (rows[slot] == row)
            return lines[slot];
        rows[slot] = row;
        const auto* pixels = from.data() + static_cast<std::size_t> (std::min (row, height - 1) * width);
        for (int x = 0; x < width; ++x)
        {
            const int column = other.mirrored ? width - 1 - x : x;
            const double sx = width * other.crop * 0.7 + column * (1 - other.crop);
            const int left = static_cast<int> (sx);
            const double fx = sx - left;
            lines[slot][static_cast<std::size_t> (x)] =
                pixels[std::min (left, width - 1)] * (1 - fx) + pixels[std::min (left + 1, width - 1)] * fx;
        }
        return lines[slot];
    };
    for (int y = 0; y < height; ++y)
    {
        const double sy = height * other.crop * 0.4 + y * (1 - other.crop);
        const int top = static_cast<int> (sy);
        const double fy = sy - top;
        const auto& upper = across (top);
        const auto& lower = across (top + 1);
        for (int x = 0; x < width; ++x)
        {
            const auto at = static_cast<std::size_t> (x);
            grey[at + static_cast<std::size_t> (y * width)] = graded (upper[at] * (1 - fy) + lower[at] * fy);
        }
    }
}

/// Encodes the pictures, decodes them as the program does, and looks at them.
bool scanned (Reedited::Film& film, const std::vector<Grey>& pictures, const OtherPrint& other, const std::string& path)
{
    // File frame j of a padded file shows film frame j * speed / 25.
    std::vector<std::int64_t> filmFrame;
    std::vector<Grey> padded;
    const auto count = static_cast<std::int64_t> (pictures.size());
    for (std::int64_t j = 0;; ++j)
    {
        const std::int64_t n = other.speed > 0 ? j * other.speed / 25 : j;
        if (n >= count)
            break;
        filmFrame.push_back (n);
        if (other.speed > 0)
            padded.push_back (pictures[static_cast<std::size_t> (n)]);
    }
    if (encodeGrey (path, width, height, "25/1", other.crf, other.speed > 0 ? padded : pictures))
        return false;
    scan::Scanner scanner;
    film.frames.resize (pictures.size());
    bool whole = true;
    const auto looked = media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                                            [&] (std::int64_t frame, const film::GreyPicture& picture)
                                            {
                                                const auto file = static_cast<std::size_t> (frame);
                                                if (! scanner.add (picture) || file >= filmFrame.size())
                                                    return whole = false;
                                                if (file == 0 || filmFrame[file] != filmFrame[file - 1])
                                                    film.frames[static_cast<std::size_t> (filmFrame[file])] =
                                                        scan::fingerprintOf (picture);
                                                return true;
                                            });
    std::error_code ignored;
    std::filesystem::remove (path, ignored);
    if (! looked || ! whole)
        return false;
    const auto measures = scanner.finish();
    if (measures.frames.size() != filmFrame.size())
        return false;
    film.repeat.resize (pictures.size());
    film.contrast.resize (pictures.size());
    for (std::size_t file = filmFrame.size(); file-- > 0;)
    {
        film.repeat[static_cast<std::size_t> (filmFrame[file])] = measures.frames[file].repeat;
        film.contrast[static_cast<std::size_t> (filmFrame[file])] = measures.frames[file].contrast;
    }
    for (const auto& shot : scan::shots (measures).shots)
    {
        const auto end = shot.endFile < static_cast<std::int64_t> (filmFrame.size())
                             ? filmFrame[static_cast<std::size_t> (shot.endFile)]
                             : count;
        if (const auto first = filmFrame[static_cast<std::size_t> (shot.firstFile)]; end > first)
            film.shots.push_back ({ first, end, shot.kind, shot.strength });
    }
    return true;
}

/// First pictures of the shots of clips that stand one after another, and the end.
std::vector<std::int64_t> headsOf (const std::vector<Grey>& pool, std::int64_t first, std::int64_t end)
{
    scan::Scanner scanner;
    for (auto n = first; n < end; ++n)
    {
        film::GreyPicture picture{ scan::scanWidth, scan::scanHeight, {}, false };
        for (int y = 0; y < picture.height; ++y)
            for (int x = 0; x < picture.width; ++x)
                picture.pixels.push_back (pool[static_cast<std::size_t> (n)][static_cast<std::size_t> (
                    y * height / picture.height * width + x * width / picture.width)]);
        if (! scanner.add (picture))
            return {};
    }
    std::vector<std::int64_t> heads;
    for (const auto& shot : scan::shots (scanner.finish()).shots)
        heads.push_back (first + shot.firstFile);
    heads.push_back (end);
    return heads;
}

std::string fileOfItsOwn()
{
    static std::atomic<int> number{ 0 };
    return std::filesystem::temp_directory_path()
           / ("shutterbeat-reedit-" + std::to_string (::getpid()) + "-" + std::to_string (++number) + ".mp4");
}
} // namespace

std::optional<Clips> readClips (const std::vector<std::string>& names, const std::vector<std::string>& foreign, std::string& why)
{
    Clips clips;
    clips.own = names.size();
    for (const auto* list : { &names, &foreign })
        for (const auto& name : *list)
        {
            const std::string path = std::string (SHUTTERBEAT_TEST_DATA) + "/data/video/" + name;
            if (! std::filesystem::exists (path))
            {
                why = path + " is not there";
                return std::nullopt;
            }
            const auto first = static_cast<std::int64_t> (clips.pictures.size());
            auto pictures = decoded (path);
            std::move (pictures.begin(), pictures.end(), std::back_inserter (clips.pictures));
            clips.heads.push_back (headsOf (clips.pictures, first, static_cast<std::int64_t> (clips.pictures.size())));
        }
    std::vector<Grey> pictures;
    for (std::size_t clip = 0; clip < clips.own; ++clip)
        for (auto n = clips.heads[clip].front(); n < clips.heads[clip].back(); ++n)
        {
            clips.film.pool.push_back (n);
            pictures.push_back (clips.pictures[static_cast<std::size_t> (n)]);
        }
    if (! scanned (clips.film, pictures, {}, fileOfItsOwn()))
    {
        why = "the film can't be encoded and decoded";
        return std::nullopt;
    }
    return clips;
}

std::optional<Reedited> reedit (const Clips& clips, const OtherPrint& other, std::uint64_t seed)
{
    const auto& heads = clips.heads;
    Reedited film;
    using Segment = std::pair<std::int64_t, std::int64_t>;
    std::vector<Segment> kept;
    std::vector<Segment> added;
    Dice dice (seed);
    for (std::size_t clip = 0; clip < heads.size(); ++clip)
        for (std::size_t i = 0; i + 1 < heads[clip].size(); ++i)
        {
            const Segment shot{ heads[clip][i], heads[clip][i + 1] };
            if (clip >= clips.own)
            {
                added.push_back (shot);
                continue;
            }
            // Long shots are used in two parts now and then.
            if (shot.second - shot.first > 160 && dice.even() < 0.6)
            {
                const auto middle =
                    shot.first + 60
                    + static_cast<std::int64_t> (dice.even() * static_cast<double> (shot.second - shot.first - 120));
                kept.emplace_back (shot.first, middle);
                kept.emplace_back (middle + (dice.even() < 0.5 ? 0 : 9), shot.second);
            }
            else
                kept.push_back (shot);
        }
    std::vector<Segment> order;
    for (std::size_t i = 0; i < kept.size(); ++i)
    {
        auto shot = kept[i];
        const double chance = dice.even();
        const auto frames = shot.second - shot.first;
        if (chance < 0.1)
            continue;
        if (chance < 0.35 && frames > 30)
            shot.first += 3 + static_cast<std::int64_t> (dice.even() * 14);
        if (chance > 0.25 && chance < 0.5 && frames > 40)
            shot.second -= 3 + static_cast<std::int64_t> (dice.even() * 14);
        order.push_back (shot);
        if (chance > 0.95)
            order.push_back (shot);
    }
    for (int moves = static_cast<int> (order.size() / 6); moves > 0; --moves)
    {
        const auto from = static_cast<std::size_t> (dice.even() * static_cast<double> (order.size()));
        const auto shot = order[from];
        order.erase (order.begin() + static_cast<std::ptrdiff_t> (from));
        order.insert (order.begin() + static_cast<std::ptrdiff_t> (dice.even() * static_cast<double> (order.size())), shot);
    }
    for (const auto& shot : added)
        order.insert (order.begin() + static_cast<std::ptrdiff_t> (dice.even() * static_cast<double> (order.size())), shot);
    for (const auto& shot : order)
        for (auto n = shot.first; n < shot.second; ++n)
            film.after.pool.push_back (n);

    film.before = clips.film;
    std::vector<Grey> pictures;
    const Grading graded (other.gamma);
    WornPrint print (width, height, { other.flicker, other.weave, other.dirt / 4, other.dirt, other.grain, seed + 7 });
    for (const auto n : film.after.pool)
    {
        pictures.push_back (clips.pictures[static_cast<std::size_t> (n)]);
        cropAndGrade (pictures.back(), other, graded);
        print.wear (pictures.back());
    }
    if (! scanned (film.after, pictures, other, fileOfItsOwn()))
        return std::nullopt;
    return film;
}

MatchScore scoreOf (const Reedited& film, const scan::PrintMatch& match)
{
    constexpr float seen = 8; // grey levels of deviation
    constexpr float onePicture = 0.0015F;
    MatchScore score;
    std::map<std::int64_t, std::int64_t> where;
    for (std::size_t k = 0; k < film.before.pool.size(); ++k)
        where[film.before.pool[k]] = static_cast<std::int64_t> (k);
    const auto last = static_cast<std::int64_t> (film.before.frames.size()) - 1;
    const auto one = [&] (std::int64_t a, std::int64_t b)
    {
        a = std::clamp<std::int64_t> (a, 0, last);
        b = std::clamp<std::int64_t> (b, 0, last);
        return a == b
               || (std::abs (a - b) < 200
                   && scan::distance (film.before.frames[static_cast<std::size_t> (a)],
                                      film.before.frames[static_cast<std::size_t> (b)])
                          < onePicture);
    };
    const auto shotOf = [&] (std::int64_t frame)
    {
        std::size_t shot = 0;
        while (shot + 1 < film.before.shots.size() && film.before.shots[shot + 1].first <= frame)
            ++shot;
        return shot;
    };
    const auto inDoubt = [] (const scan::MatchedRun& run)
    { return run.exact < scan::doubtfulFrame || run.sure < scan::doubtfulShot; };
    int right = 0, exact = 0, near = 0;
    for (std::size_t n = 0; n < film.after.pool.size(); ++n)
    {
        const auto found = match.oldFrameOf (static_cast<std::int64_t> (n));
        const auto truth = where.find (film.after.pool[n]);
        const bool dark = film.after.contrast[n] < seen;
        if (truth == where.end())
        {
            score.foreign += found >= 0 && ! dark ? 1 : 0;
            continue;
        }
        if (dark)
        {
            ++score.dark;
            continue;
        }
        ++score.kept;
        if (found < 0)
            continue;
        const auto wanted = truth->second;
        const bool isNear = one (wanted, found) || one (wanted - 1, found) || one (wanted + 1, found);
        right += shotOf (wanted) == shotOf (found) || std::abs (wanted - found) < 30 ? 1 : 0;
        exact += one (wanted, found) ? 1 : 0;
        near += isNear ? 1 : 0;
        if (! isNear)
            for (const auto& run : match.runs)
                if (static_cast<std::int64_t> (n) >= run.newFirst && static_cast<std::int64_t> (n) < run.newFirst + run.frames
                    && ! inDoubt (run))
                    ++score.wrongUnsaid;
    }
    for (const auto& run : match.runs)
        if (inDoubt (run))
        {
            ++score.doubts;
            score.doubted += static_cast<int> (run.frames);
        }
    const double kept = std::max (1, score.kept);
    score.rightShot = right / kept;
    score.exact = exact / kept;
    score.near = near / kept;
    return score;
}
} // namespace shutterbeat::tests
