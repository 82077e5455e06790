#include "scan/CardMeasure.h"

#include "film/GreyLevels.h"
#include "scan/Components.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <vector>

namespace shutterbeat::scan
{
namespace
{
constexpr int leastContrast = 6;     // grey levels between ground and ink
constexpr float mostBetween = 0.45F; // of the picture between ground and ink; in cards it is a quarter at most
constexpr float mostInk = 0.42F;     // of the picture; no card has more

/// A rectangle of the picture, light writing on dark after turning round if need be.
struct Sheet
{
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> pixels;
};

Sheet cut (const film::GreyPicture& picture, int left, int top, int right, int bottom, bool turn)
{
    Sheet sheet;
    sheet.width = right - left;
    sheet.height = bottom - top;
    sheet.pixels.reserve (static_cast<std::size_t> (sheet.width * sheet.height));
    for (int y = top; y < bottom; ++y)
        for (int x = left; x < right; ++x)
            sheet.pixels.push_back (turn ? static_cast<std::uint8_t> (255 - picture.at (x, y)) : picture.at (x, y));
    return sheet;
}

/// A frame round the writing (large and hollow), or a rule or scratch (long and thin).
bool isFrame (const Component& piece, int w, int h)
{
    const int width = piece.right - piece.left;
    const int height = piece.bottom - piece.top;
    const auto area = static_cast<int> (piece.area());
    const bool large = width * 10 > w * 6 && height * 10 > h * 6 && area * 4 < width * height;
    const bool upright = height * 10 > h * 3 && width * 20 <= w;
    const bool flat = width * 10 > w * 4 && height * 20 <= h;
    return large || upright || flat;
}

/// Ink in pieces that are much wider than high once the small gaps in each row are closed: lines of writing.
double inkInLines (const std::vector<std::uint8_t>& ink, int w, int h)
{
    const int gap = w / 28;
    std::vector<std::uint8_t> closed = ink;
    for (int y = 0; y < h; ++y)
    {
        std::uint8_t* row = closed.data() + static_cast<std::ptrdiff_t> (y) * w;
        int last = -w;
        for (int x = 0; x < w; ++x)
            if (row[x] != 0)
            {
                if (x - last <= gap)
                    std::fill (row + last + 1, row + x, std::uint8_t{ 1 });
                last = x;
            }
    }
    double sum = 0;
    const Components components = componentsOf (closed, w, h);
    for (const Component& piece : components.pieces)
    {
        const int width = piece.right - piece.left;
        const int height = piece.bottom - piece.top;
        if (width * 2 < height * 5 || height * 4 > h)
            continue;
        for (std::size_t i = piece.from; i < piece.to; ++i)
            sum += ink[static_cast<std::size_t> (components.pixels[i])];
    }
    return sum;
}

std::optional<CardFeatures> featuresOf (const Sheet& sheet)
{
    const int w = sheet.width;
    const int h = sheet.height;
    const auto counts = film::levelCounts (sheet.pixels);
    const int ground = film::groundLevel (counts);
    const int contrast = film::levelAt (counts, 0.997) - ground;
    if (w < 24 || h < 24 || contrast < leastContrast)
        return std::nullopt;

    const auto total = static_cast<float> (sheet.pixels.size());
    const auto share = [&] (int from, int to)
    {
        int sum = 0;
        for (int i = std::max (0, from); i <= std::min (255, to); ++i)
            sum += counts[static_cast<std::size_t> (i)];
        return static_cast<float> (sum) / total;
    };
    const int inkFrom = ground + (contrast + 1) / 2;
    if (share (inkFrom, 255) > mostInk)
        return std::nullopt;
    const int tolerance = std::max (5, contrast / 8);

    CardFeatures f{};
    f[inkContrast] = static_cast<float> (contrast) / 255.0F;
    f[midShare] = share (ground + tolerance + 1, inkFrom - 1);
    if (f[midShare] > mostBetween)
        return std::nullopt;
    f[groundShare] = share (ground - tolerance, ground + tolerance);
    f[otherSide] = share (0, ground - tolerance - 1);
    double groundSquares = 0;
    double groundCount = 0;
    double inkSum = 0;
    double inkSquares = 0;
    double inkCount = 0;
    for (int i = 0; i < 256; ++i)
    {
        const double n = counts[static_cast<std::size_t> (i)];
        if (std::abs (i - ground) <= contrast / 4)
        {
            groundSquares += n * (i - ground) * (i - ground);
            groundCount += n;
        }
        if (i >= inkFrom)
        {
            inkSum += n * i;
            inkSquares += n * i * i;
            inkCount += n;
        }
    }
    f[groundNoise] = static_cast<float> (std::sqrt (groundSquares / std::max (1.0, groundCount)) / contrast);
    const double inkMean = inkSum / std::max (1.0, inkCount);
    f[inkEvenness] =
        static_cast<float> (std::sqrt (std::max (0.0, inkSquares / std::max (1.0, inkCount) - inkMean * inkMean)) / contrast);

    std::vector<std::uint8_t> ink (sheet.pixels.size());
    for (std::size_t i = 0; i < ink.size(); ++i)
        ink[i] = sheet.pixels[i] >= inkFrom ? 1 : 0;
    // Frames and rules round the writing, and scratches, are no writing.
    double tallest = 0;
    double largest = 0;
    double kept = 0;
    double pieces = 0;
    const Components components = componentsOf (ink, w, h);
    for (const Component& component : components.pieces)
    {
        if (isFrame (component, w, h))
        {
            for (std::size_t i = component.from; i < component.to; ++i)
                ink[static_cast<std::size_t> (components.pixels[i])] = 0;
            continue;
        }
        const auto area = static_cast<double> (component.area());
        kept += area;
        largest = std::max (largest, area);
        if (area >= 4)
        {
            ++pieces;
            tallest = std::max (tallest, static_cast<double> (component.bottom - component.top) / h);
        }
    }
    f[inLines] = static_cast<float> (inkInLines (ink, w, h) / std::max (1.0, kept));
    f[tallestPiece] = static_cast<float> (tallest);
    f[largestPiece] = static_cast<float> (largest / std::max (1.0, kept));
    f[pieceCount] = static_cast<float> (std::log (1 + pieces) / 5);
    f[inkShare] = static_cast<float> (kept) / total;

    // Rows: which have ink, how often it begins or ends.
    int band = 0;
    int rowsWithInk = 0;
    int edges = 0;
    std::vector<int> columnInk (static_cast<std::size_t> (w));
    int bandNow = 0;
    int border = 0;
    const int marginX = std::max (1, w / 12);
    const int marginY = std::max (1, h / 12);
    for (int y = 0; y < h; ++y)
    {
        const std::uint8_t* row = ink.data() + static_cast<std::ptrdiff_t> (y) * w;
        int rowInk = 0;
        int rowEdges = 0;
        for (int x = 0; x < w; ++x)
        {
            rowInk += row[x];
            columnInk[static_cast<std::size_t> (x)] += row[x];
        }
        for (int x = 1; x < w; ++x)
            rowEdges += row[x] ^ row[x - 1];
        if (y < marginY || y >= h - marginY)
            border += rowInk;
        else
            for (int x = 0; x < marginX; ++x)
                border += row[x] + row[w - 1 - x];
        if (rowInk >= 2)
        {
            ++rowsWithInk;
            edges += rowEdges;
            band = std::max (band, ++bandNow);
        }
        else
            bandNow = 0;
    }
    f[tallestBand] = static_cast<float> (band) / static_cast<float> (h);
    f[crossings] = static_cast<float> (edges) / static_cast<float> (std::max (1, rowsWithInk)) / 20.0F;
    f[borderInk] = static_cast<float> (border / std::max (1.0, kept));
    double middle = 0;
    for (int x = 0; x < w; ++x)
        middle += static_cast<double> (columnInk[static_cast<std::size_t> (x)]) * x;
    f[centreOffset] = static_cast<float> (std::abs (middle / std::max (1.0, kept) / w - 0.5));

    // Erosion by 5 x 5, first along the rows, then down the columns.
    std::vector<std::uint8_t> across (ink.size());
    for (int y = 0; y < h; ++y)
    {
        const std::uint8_t* row = ink.data() + static_cast<std::ptrdiff_t> (y) * w;
        std::uint8_t* to = across.data() + static_cast<std::ptrdiff_t> (y) * w;
        for (int x = 2; x < w - 2; ++x)
            to[x] = row[x - 2] & row[x - 1] & row[x] & row[x + 1] & row[x + 2];
    }
    int thick = 0;
    for (int y = 2; y < h - 2; ++y)
    {
        const std::uint8_t* row = across.data() + static_cast<std::ptrdiff_t> (y) * w;
        for (int x = 0; x < w; ++x)
            thick += row[x - 2 * w] & row[x - w] & row[x] & row[x + w] & row[x + 2 * w];
    }
    f[thickShare] = static_cast<float> (thick / std::max (1.0, kept));
    return f;
}

} // namespace

std::optional<CardFeatures> lightOnDarkFeatures (const film::GreyPicture& picture)
{
    const int cropX = picture.width / 20;
    const int cropY = picture.height / 20;
    return featuresOf (cut (picture, cropX, cropY, picture.width - cropX, picture.height - cropY, false));
}

std::optional<CardFeatures> darkOnLightFeatures (const film::GreyPicture& picture)
{
    // The brightest pixel of each cell, so that writing does not break the sheet it stands on.
    constexpr int cell = 4;
    const int w = picture.width / cell;
    const int h = picture.height / cell;
    std::vector<std::uint8_t> cells (static_cast<std::size_t> (w * h));
    for (int y = 0; y < h * cell; ++y)
        for (int x = 0; x < w * cell; ++x)
        {
            std::uint8_t& top = cells[static_cast<std::size_t> (y / cell * w + x / cell)];
            top = std::max (top, picture.at (x, y));
        }
    const auto counts = film::levelCounts (cells);
    const int light = film::levelAt (counts, 0.95);
    if (light < 70)
        return std::nullopt;
    std::vector<std::uint8_t> marked (cells.size());
    for (std::size_t i = 0; i < cells.size(); ++i)
        marked[i] = cells[i] > light * 6 / 10 ? 1 : 0;
    const auto components = componentsOf (marked, w, h);
    const Component& sheet = *std::max_element (components.pieces.begin(), components.pieces.end(),
                                                [] (const Component& a, const Component& b) { return a.area() < b.area(); });
    const int area = (sheet.right - sheet.left) * (sheet.bottom - sheet.top);
    if (area * 5 < w * h || static_cast<int> (sheet.area()) * 10 < area * 8)
        return std::nullopt;
    const int cropX = std::max (1, (sheet.right - sheet.left) / 16);
    const int cropY = std::max (1, (sheet.bottom - sheet.top) / 16);
    return featuresOf (cut (picture, (sheet.left + cropX) * cell, (sheet.top + cropY) * cell, (sheet.right - cropX) * cell,
                            (sheet.bottom - cropY) * cell, true));
}

namespace
{
// Logistic regression (constant first), trained on stills and frames of old and new films, worn at random; one for ink that
// stands in lines, one for ink that does not (large titles, scenes), one for dark writing on a sheet.
constexpr float standsInLines = 0.35F;
constexpr std::array<float, cardFeatureCount + 1> lineWeights{ 1.5558F,   1.9246F,  6.4781F,  -1.1283F, -2.2548F, -1.2231F,
                                                               -14.2155F, -0.0675F, -7.5803F, -5.6166F, 3.0819F,  -2.6534F,
                                                               -2.0644F,  -1.9391F, -1.8337F, 1.3623F,  0.3779F };
constexpr std::array<float, cardFeatureCount + 1> looseWeights{ -0.5536F,  -1.2177F, 6.3121F,  -1.7292F, -5.4412F, 2.1030F,
                                                                -10.3491F, -0.3876F, 3.9463F,  -1.5347F, 5.0927F,  0.0012F,
                                                                -6.0881F,  0.0986F,  -2.0014F, -0.0164F, -0.2761F };
constexpr std::array<float, cardFeatureCount + 1> darkWeights{ 1.7416F,  -1.4160F, 3.2132F,   -1.4790F, -1.7326F, 0.6329F,
                                                               -5.2043F, -3.5617F, -19.5929F, -4.3641F, 2.0894F,  -1.4235F,
                                                               5.1302F,  -1.1367F, -1.8601F,  1.7560F,  1.5154F };

float judge (const CardFeatures& features, const std::array<float, cardFeatureCount + 1>& weights)
{
    float sum = weights[0];
    for (std::size_t i = 0; i < features.size(); ++i)
        sum += weights[i + 1] * features[i];
    return 1.0F / (1.0F + std::exp (-sum));
}
} // namespace

float cardLikelihood (const film::GreyPicture& picture)
{
    float best = 0;
    if (const auto features = lightOnDarkFeatures (picture))
        best = std::max (best, judge (*features, (*features)[inLines] >= standsInLines ? lineWeights : looseWeights));
    if (const auto features = darkOnLightFeatures (picture))
        best = std::max (best, judge (*features, darkWeights));
    return best;
}
} // namespace shutterbeat::scan
