#include "reading/StillOf.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <utility>

namespace shutterbeat::reading
{
namespace
{
using film::GreyPicture;

/// Means of boxes of `box` x `box`, so that a search over many shifts is quick.
GreyPicture reduced (const GreyPicture& picture, int box)
{
    GreyPicture small;
    small.width = picture.width / box;
    small.height = picture.height / box;
    small.pixels.reserve (static_cast<std::size_t> (small.width) * static_cast<std::size_t> (small.height));
    for (int y = 0; y < small.height; ++y)
        for (int x = 0; x < small.width; ++x)
        {
            int sum = 0;
            for (int dy = 0; dy < box; ++dy)
                for (int dx = 0; dx < box; ++dx)
                    sum += picture.at (x * box + dx, y * box + dy);
            small.pixels.push_back (static_cast<std::uint8_t> (sum / (box * box)));
        }
    return small;
}

struct Light
{
    double mean = 0;
    double spread = 1; ///< standard deviation, at least 1
};
Light lightOf (const GreyPicture& picture)
{
    double sum = 0;
    double squares = 0;
    for (const std::uint8_t pixel : picture.pixels)
    {
        sum += pixel;
        squares += static_cast<double> (pixel) * pixel;
    }
    const auto n = static_cast<double> (std::max<std::size_t> (1, picture.pixels.size()));
    return { sum / n, std::max (1.0, std::sqrt (std::max (0.0, squares / n - sum * sum / (n * n)))) };
}

/// The brightness of `from` brought to that of `to`.
void matchLight (GreyPicture& from, const Light& to)
{
    const Light own = lightOf (from);
    for (auto& pixel : from.pixels)
        pixel = static_cast<std::uint8_t> (std::clamp ((pixel - own.mean) / own.spread * to.spread + to.mean + 0.5, 0.0, 255.0));
}

/// Mean absolute difference where both lie over one another when `b` is moved by (dx, dy); every `step`th row.
double apart (const GreyPicture& a, const GreyPicture& b, int dx, int dy, int step)
{
    const int left = std::max (0, dx);
    const int right = std::min (a.width, a.width + dx);
    const int top = std::max (0, dy);
    const int bottom = std::min (a.height, a.height + dy);
    std::int64_t sum = 0;
    std::int64_t count = 0;
    for (int y = top; y < bottom; y += step)
    {
        int row = 0;
        for (int x = left; x < right; ++x)
            row += std::abs (a.at (x, y) - b.at (x - dx, y - dy));
        sum += row;
        count += right - left;
    }
    return count > 0 ? static_cast<double> (sum) / static_cast<double> (count) : std::numeric_limits<double>::max();
}

struct Shift
{
    int x = 0;
    int y = 0;
};

Shift bestShift (const GreyPicture& a, const GreyPicture& b, Shift round, int reach, int step)
{
    Shift best = round;
    double least = std::numeric_limits<double>::max();
    for (int dy = round.y - reach; dy <= round.y + reach; ++dy)
        for (int dx = round.x - reach; dx <= round.x + reach; ++dx)
            if (const double found = apart (a, b, dx, dy, step); found < least)
            {
                least = found;
                best = { dx, dy };
            }
    return best;
}

/// How far `picture` has to be moved to lie over `onto`: weave of up to a fortieth of the width.
Shift shiftOnto (const GreyPicture& onto, const GreyPicture& picture)
{
    constexpr int coarseWidth = 240;
    const int box = std::max (1, onto.width / coarseWidth);
    const Shift coarse = bestShift (reduced (onto, box), reduced (picture, box), {}, coarseWidth / 40, 1);
    return box == 1 ? coarse : bestShift (onto, picture, { coarse.x * box, coarse.y * box }, box, 3);
}
} // namespace

double sharpnessOf (const GreyPicture& picture)
{
    if (picture.width < 3 || picture.height < 1)
        return 0;
    double sum = 0;
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x + 2 < picture.width; ++x)
        {
            const double step = picture.at (x + 2, y) - picture.at (x, y);
            sum += step * step;
        }
    const Light light = lightOf (picture);
    return sum / (static_cast<double> (picture.width - 2) * picture.height) / (light.spread * light.spread);
}

GreyPicture stillOf (const std::vector<GreyPicture>& pictures, std::size_t most)
{
    std::vector<std::pair<double, const GreyPicture*>> ranked;
    for (const bool damaged : { false, true })
        for (const GreyPicture& picture : pictures)
            if (picture.damaged == damaged && (! damaged || ranked.empty()))
                ranked.emplace_back (sharpnessOf (picture), &picture);
    if (ranked.empty())
        return {};
    for (const auto& [sharpness, picture] : ranked)
        if (picture->width != ranked[0].second->width || picture->height != ranked[0].second->height)
            return {};
    std::stable_sort (ranked.begin(), ranked.end(), [] (const auto& a, const auto& b) { return a.first > b.first; });
    ranked.resize (std::min (ranked.size(), std::max<std::size_t> (1, most)));

    // A single mark on the film is sharp too; the middle of the sharpest is no worse than they, and clean.
    const GreyPicture& onto = *ranked[ranked.size() / 2].second;
    const Light light = lightOf (onto);
    std::vector<GreyPicture> laid;
    for (const auto& [sharpness, picture] : ranked)
    {
        GreyPicture matched = *picture;
        matchLight (matched, light);
        const Shift shift = picture == &onto ? Shift{} : shiftOnto (onto, matched);
        GreyPicture moved = onto;
        for (int y = std::max (0, shift.y); y < std::min (onto.height, onto.height + shift.y); ++y)
            for (int x = std::max (0, shift.x); x < std::min (onto.width, onto.width + shift.x); ++x)
                moved.pixels[static_cast<std::size_t> (y) * static_cast<std::size_t> (onto.width) + static_cast<std::size_t> (x)] =
                    matched.at (x - shift.x, y - shift.y);
        laid.push_back (std::move (moved));
    }
    GreyPicture still = onto;
    std::vector<std::uint8_t> column (laid.size());
    for (std::size_t i = 0; i < still.pixels.size(); ++i)
    {
        for (std::size_t k = 0; k < laid.size(); ++k)
            column[k] = laid[k].pixels[i];
        const auto middle = column.begin() + static_cast<std::ptrdiff_t> (column.size() / 2);
        std::nth_element (column.begin(), middle, column.end());
        still.pixels[i] = *middle;
    }
    still.damaged = ranked[0].second->damaged;
    return still;
}
} // namespace shutterbeat::reading
