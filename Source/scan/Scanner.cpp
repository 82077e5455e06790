#include "scan/Scanner.h"

#include "scan/CardMeasure.h"
#include "scan/ChangeTracker.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <deque>
#include <string>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t reach = 8;     // frames each way that say how large differences are hereabouts
constexpr float repeatShare = 0.45F;  // a repeat differs by less than this share of them
constexpr int mostRepeats = 6;        // after that many in a row the picture is taken anew
constexpr std::int64_t cardEvery = 8; // frames from one card sample to the next
constexpr std::int64_t afterJump = 4; // frames after a jump that are all sampled, and the first of the new picture
constexpr std::size_t pixelCount = static_cast<std::size_t> (scanWidth) * static_cast<std::size_t> (scanHeight);

struct Reduced
{
    std::int64_t frame = 0;
    bool damaged = false;
    FineGrey fine{};
    CoarseGrey coarse{};
};

/// Boxes of 3 x 3, and of those 2 x 2.
void reduce (const std::uint8_t* grey, Reduced& out)
{
    std::array<std::uint16_t, scanWidth> columns{};
    for (std::size_t y = 0; y < 48; ++y)
    {
        const std::uint8_t* line = grey + y * 3 * scanWidth;
        for (std::size_t x = 0; x < scanWidth; ++x)
            columns[x] = static_cast<std::uint16_t> (line[x] + line[x + scanWidth] + line[x + 2 * scanWidth]);
        for (std::size_t x = 0; x < 64; ++x)
            out.fine[y * 64 + x] = static_cast<std::uint8_t> ((columns[3 * x] + columns[3 * x + 1] + columns[3 * x + 2] + 4) / 9);
    }
    for (std::size_t y = 0; y < 24; ++y)
        for (std::size_t x = 0; x < 32; ++x)
        {
            const std::uint8_t* box = out.fine.data() + y * 128 + x * 2;
            out.coarse[y * 32 + x] = static_cast<std::uint8_t> ((box[0] + box[1] + box[64] + box[65] + 2) / 4);
        }
}

/// The middle difference, so that flicker does not count as movement: that of every `every`th pixel, which must share no
/// factor with the row length.
template <std::size_t Rows, std::size_t Width>
std::int16_t middleOf (const std::uint8_t* a, const std::uint8_t* b, std::size_t every)
{
    std::array<int, 511> counts{};
    int total = 0;
    for (std::size_t i = 0; i < Rows * Width; i += every, ++total)
        ++counts[static_cast<std::size_t> (a[i] - b[i] + 255)];
    int middle = 0;
    for (int below = counts[0]; 2 * below < total; below += counts[static_cast<std::size_t> (middle)])
        ++middle;
    return static_cast<std::int16_t> (middle - 255);
}

/// Mean absolute difference with the middle difference taken out.
template <std::size_t Rows, std::size_t Width>
float differenceOf (const std::uint8_t* a, const std::uint8_t* b, std::size_t every)
{
    const auto offset = middleOf<Rows, Width> (a, b, every);
    std::uint32_t sum = 0;
    for (std::size_t y = 0; y < Rows; ++y)
    {
        std::uint32_t row = 0;
        for (std::size_t x = y * Width; x < (y + 1) * Width; ++x)
            row += static_cast<std::uint32_t> (std::abs (static_cast<std::int16_t> (a[x] - b[x] - offset)));
        sum += row;
    }
    return static_cast<float> (sum) / static_cast<float> (Rows * Width);
}

/// The fourth root of the mean fourth power of the same differences: what moves somewhere counts far more than what
/// trembles everywhere, as grain and an encoder's second thoughts do.
float motionOf (const FineGrey& a, const FineGrey& b)
{
    const auto offset = middleOf<48, 64> (a.data(), b.data(), 3);
    std::uint64_t sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
    {
        const int step = a[i] - b[i] - offset;
        const auto square = static_cast<std::uint32_t> (step * step);
        sum += std::uint64_t (square) * square;
    }
    return static_cast<float> (std::sqrt (std::sqrt (static_cast<double> (sum) / static_cast<double> (a.size()))));
}

void measureLight (const CoarseGrey& grey, FrameMeasure& out)
{
    double sum = 0;
    double squares = 0;
    for (const std::uint8_t value : grey)
    {
        sum += value;
        squares += static_cast<double> (value) * value;
    }
    const auto n = static_cast<double> (grey.size());
    out.level = static_cast<float> (sum / n);
    out.contrast = static_cast<float> (std::sqrt (std::max (0.0, squares / n - sum * sum / (n * n))));
    std::array<std::uint16_t, 256> counts{};
    for (const std::uint8_t value : grey)
        ++counts[value];
    std::size_t above = 0;
    std::size_t level = 255;
    while (level > 0 && (above += counts[level]) < grey.size() / 20)
        --level;
    out.peak = static_cast<float> (level);
}

/// Mean step from each pixel to the second next, of the contrast; every other row.
float sharpnessOf (const std::uint8_t* grey, float contrast)
{
    std::uint32_t sum = 0;
    for (std::size_t y = 0; y < scanHeight; y += 2)
    {
        const std::uint8_t* line = grey + y * scanWidth;
        std::uint32_t row = 0;
        for (std::size_t x = 0; x + 2 < scanWidth; ++x)
            row += static_cast<std::uint32_t> (std::abs (static_cast<std::int16_t> (line[x + 2] - line[x])));
        sum += row;
    }
    return static_cast<float> (sum) / static_cast<float> (pixelCount / 2) / (contrast + 1);
}
/// How far the lightest two hundredth of what both pictures show stands out from its columns: writing does, but not dirt
/// (in one picture only), nor scratches (whole columns).
float sharedDetail (const FineGrey& a, const FineGrey& b)
{
    FineGrey both;
    std::array<int, 64> columns{};
    for (std::size_t i = 0; i < both.size(); ++i)
        both[i] = std::min (a[i], b[i]);
    for (std::size_t y = 0; y < 48; ++y)
        for (std::size_t x = 0; x < 64; ++x)
            columns[x] += both[y * 64 + x];
    std::array<std::uint16_t, 256> counts{};
    for (std::size_t y = 0; y < 48; ++y)
        for (std::size_t x = 0; x < 64; ++x)
            ++counts[static_cast<std::size_t> (std::max (0, both[y * 64 + x] - columns[x] / 48))];
    std::size_t above = 0;
    std::size_t level = 255;
    while (level > 0 && (above += counts[level]) < both.size() / 200)
        --level;
    return static_cast<float> (level);
}
} // namespace

struct Scanner::State
{
    Measures measures;
    std::vector<std::uint8_t> last;
    std::deque<Reduced> waiting; // until the frames after them say how large differences are hereabouts
    ChangeTracker changes;
    int repeatsInARow = 0;
    float usualDifference = 0;
    std::int64_t sinceJump = 0; // frames; the film's beginning is one

    void judgeOldest()
    {
        const Reduced& oldest = waiting.front();
        auto& frames = measures.frames;
        const auto n = oldest.frame;
        FrameMeasure& frame = frames[static_cast<std::size_t> (n)];
        std::array<float, 2 * reach + 1> around{};
        std::size_t count = 0;
        for (auto i = std::max<std::int64_t> (1, n - reach); i <= n + reach && i < static_cast<std::int64_t> (frames.size()); ++i)
            around[count++] = frames[static_cast<std::size_t> (i)].difference;
        float usual = 0;
        if (count > 0)
        {
            const auto high = around.begin() + static_cast<std::ptrdiff_t> ((count - 1) * 4 / 5);
            std::nth_element (around.begin(), high, around.begin() + static_cast<std::ptrdiff_t> (count));
            usual = *high;
        }
        frame.repeat = n > 0 && (frame.damaged || frame.difference < repeatShare * usual) && repeatsInARow < mostRepeats;
        repeatsInARow = frame.repeat ? repeatsInARow + 1 : 0;
        if (! frame.repeat)
            changes.push (n, isBlank (frame), oldest.fine, oldest.coarse, measures);
        waiting.pop_front();
    }
};

Scanner::Scanner()
    : state (std::make_unique<State>())
{
}
Scanner::~Scanner() = default;
Scanner::Scanner (Scanner&&) noexcept = default;
Scanner& Scanner::operator= (Scanner&&) noexcept = default;

void Scanner::expect (std::int64_t frames)
{
    state->measures.frames.reserve (static_cast<std::size_t> (std::max<std::int64_t> (0, frames)));
}

Result<Done> Scanner::add (const film::GreyPicture& picture)
{
    if (picture.width != scanWidth || picture.height != scanHeight || picture.pixels.size() != pixelCount)
        return usageError ("scan", "a scan takes pictures of " + std::to_string (scanWidth) + " x " + std::to_string (scanHeight)
                                       + " pixels, not " + std::to_string (picture.width) + " x "
                                       + std::to_string (picture.height));
    auto& frames = state->measures.frames;
    const auto n = static_cast<std::int64_t> (frames.size());
    Reduced reduced;
    reduced.frame = n;
    reduce (picture.pixels.data(), reduced);
    FrameMeasure frame;
    frame.damaged = picture.damaged;
    measureLight (reduced.coarse, frame);
    frame.sharp = sharpnessOf (picture.pixels.data(), frame.contrast);
    if (n > 0)
    {
        frame.difference = differenceOf<scanHeight, scanWidth> (picture.pixels.data(), state->last.data(), 7);
        frame.motion = motionOf (reduced.fine, state->waiting.back().fine);
    }
    // Two frames apart, so that a repeat is not compared with itself; either neighbour may share the detail.
    if (state->waiting.size() >= 2)
    {
        frame.detail = sharedDetail (reduced.fine, (state->waiting.end() - 2)->fine);
        auto& earlier = frames[frames.size() - 2].detail;
        earlier = std::max (earlier, frame.detail);
    }
    frames.push_back (frame);
    state->last = picture.pixels;
    // Writing is looked for now and then, and in the pictures after every jump: a title may last one to four film frames.
    const bool jumped = n > 0 && frame.difference > 3 * state->usualDifference;
    state->sinceJump = jumped ? 0 : state->sinceJump + 1;
    state->usualDifference += (std::min (frame.difference, 2 * state->usualDifference + 1) - state->usualDifference) / 8;
    if (n % cardEvery == 0 || state->sinceJump <= afterJump)
        state->measures.cards.push_back ({ n, cardLikelihood (picture) });
    state->waiting.push_back (std::move (reduced));
    if (static_cast<std::int64_t> (state->waiting.size()) > reach)
        state->judgeOldest();
    return Done{};
}

Measures Scanner::finish()
{
    while (! state->waiting.empty())
        state->judgeOldest();
    state->changes.finish (state->measures);
    Measures measures = std::move (state->measures);
    state = std::make_unique<State>();
    return measures;
}
} // namespace shutterbeat::scan
