#include "scan/Fingerprint.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace shutterbeat::scan
{
namespace
{
constexpr int w = Fingerprint::width;
constexpr int h = Fingerprint::height;
constexpr int window = 3;            // cells each way that a cell is levelled by
constexpr float steps = 32;          // per deviation
constexpr float softer = 4;          // grey levels added to the deviation, so that grain on a flat wall stays small
constexpr std::int8_t noCell = -128; // outside a print laid over another
constexpr double kept = 0.88;        // of the picture's width and height

using Cells = std::array<float, Fingerprint::size>;

std::size_t cellAt (int x, int y)
{
    return static_cast<std::size_t> (y * w + x);
}

/// Mean grey levels of the cells.
Cells reducedCells (const film::GreyPicture& picture)
{
    const auto edge = [] (int length, int cells, int i)
    { return static_cast<int> (std::lround (length * ((1 - kept) / 2 + kept * i / cells))); };
    Cells means{};
    std::vector<std::uint32_t> columns (static_cast<std::size_t> (picture.width));
    for (int y = 0; y < h; ++y)
    {
        const int top = edge (picture.height, h, y);
        const int bottom = edge (picture.height, h, y + 1);
        std::fill (columns.begin(), columns.end(), 0U);
        for (int row = top; row < bottom; ++row)
        {
            const std::uint8_t* line = picture.pixels.data() + static_cast<std::ptrdiff_t> (row) * picture.width;
            for (std::size_t i = 0; i < columns.size(); ++i)
                columns[i] += line[i];
        }
        for (int x = 0; x < w; ++x)
        {
            const int left = edge (picture.width, w, x);
            const int right = edge (picture.width, w, x + 1);
            const auto sum = std::accumulate (columns.begin() + left, columns.begin() + right, 0U);
            means[cellAt (x, y)] = static_cast<float> (sum) / static_cast<float> ((right - left) * (bottom - top));
        }
    }
    return means;
}

/// Deviation of all cells, in half grey levels.
std::uint8_t contrastOf (const Cells& means)
{
    double sum = 0;
    double square = 0;
    for (const double mean : means)
    {
        sum += mean;
        square += mean * mean;
    }
    const double mean = sum / static_cast<double> (means.size());
    const double variance = square / static_cast<double> (means.size()) - mean * mean;
    return static_cast<std::uint8_t> (std::lround (std::min (255.0, 2 * std::sqrt (std::max (0.0, variance)))));
}

/// Weights of four neighbouring cells for a place `f` of the way from the second to the third (Catmull and Rom's spline).
std::array<float, 4> weightsAt (float f)
{
    const float f2 = f * f;
    const float f3 = f2 * f;
    return { 0.5F * (-f + 2 * f2 - f3), 0.5F * (2 - 5 * f2 + 3 * f3), 0.5F * (f + 4 * f2 - 3 * f3), 0.5F * (f3 - f2) };
}

/// The value of a print at a fractional place; false farther than half a cell outside it, or where it has none.
bool sample (const Fingerprint& from, double x, double y, float& value)
{
    if (x < -0.5 || y < -0.5 || x > w - 0.5 || y > h - 0.5)
        return false;
    const int left = static_cast<int> (std::floor (x));
    const int top = static_cast<int> (std::floor (y));
    const auto across = weightsAt (static_cast<float> (x - left));
    const auto down = weightsAt (static_cast<float> (y - top));
    value = 0;
    for (int i = 0; i < 4; ++i)
    {
        float row = 0;
        for (int k = 0; k < 4; ++k)
        {
            const std::int8_t cell = from.cells[cellAt (std::clamp (left + k - 1, 0, w - 1), std::clamp (top + i - 1, 0, h - 1))];
            if (cell == noCell)
                return false;
            row += across[static_cast<std::size_t> (k)] * static_cast<float> (cell);
        }
        value += down[static_cast<std::size_t> (i)] * row;
    }
    return true;
}

constexpr double middleX = (w - 1) / 2.0;
constexpr double middleY = (h - 1) / 2.0;

/// Solves the symmetric 4 x 4 system; false when there is no one answer.
bool solve (std::array<std::array<double, 5>, 4>& rows)
{
    for (std::size_t i = 0; i < 4; ++i)
    {
        std::size_t pivot = i;
        for (std::size_t k = i + 1; k < 4; ++k)
            if (std::abs (rows[k][i]) > std::abs (rows[pivot][i]))
                pivot = k;
        std::swap (rows[i], rows[pivot]);
        if (std::abs (rows[i][i]) < 1e-9)
            return false;
        for (std::size_t k = 0; k < 4; ++k)
            if (k != i)
            {
                const double factor = rows[k][i] / rows[i][i];
                for (std::size_t c = i; c < 5; ++c)
                    rows[k][c] -= factor * rows[i][c];
            }
    }
    return true;
}
} // namespace

Fingerprint fingerprintOf (const film::GreyPicture& picture)
{
    Fingerprint fingerprint;
    if (picture.width < 2 * w || picture.height < 2 * h
        || picture.pixels.size() != static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height))
        return fingerprint;
    const Cells means = reducedCells (picture);
    fingerprint.contrast = contrastOf (means);
    // Sums over windows, first along the rows, then down the columns.
    Cells rowSum{};
    Cells rowSquare{};
    for (int y = 0; y < h; ++y)
        for (int x = 0; x < w; ++x)
            for (int i = std::max (0, x - window); i <= std::min (w - 1, x + window); ++i)
            {
                const float value = means[cellAt (i, y)];
                rowSum[cellAt (x, y)] += value;
                rowSquare[cellAt (x, y)] += value * value;
            }
    for (int y = 0; y < h; ++y)
    {
        const int top = std::max (0, y - window);
        const int bottom = std::min (h - 1, y + window);
        for (int x = 0; x < w; ++x)
        {
            float sum = 0;
            float square = 0;
            for (int i = top; i <= bottom; ++i)
            {
                sum += rowSum[cellAt (x, i)];
                square += rowSquare[cellAt (x, i)];
            }
            const auto count =
                static_cast<float> ((bottom - top + 1) * (std::min (w - 1, x + window) - std::max (0, x - window) + 1));
            const float mean = sum / count;
            const float deviation = std::sqrt (std::max (0.0F, square / count - mean * mean));
            const float level = steps * (means[cellAt (x, y)] - mean) / (deviation + softer);
            fingerprint.cells[cellAt (x, y)] = static_cast<std::int8_t> (std::lround (std::clamp (level, -127.0F, 127.0F)));
        }
    }
    return fingerprint;
}

float distance (const Fingerprint& a, const Fingerprint& b)
{
    std::int32_t product = 0;
    std::int32_t squareA = 0;
    std::int32_t squareB = 0;
    for (std::size_t i = 0; i < Fingerprint::size; ++i)
    {
        const bool both = a.cells[i] != noCell && b.cells[i] != noCell;
        const std::int32_t x = both ? a.cells[i] : 0;
        const std::int32_t y = both ? b.cells[i] : 0;
        product += x * y;
        squareA += x * x;
        squareB += y * y;
    }
    if (squareA == 0 || squareB == 0)
        return 1;
    return 1.0F - static_cast<float> (product / std::sqrt (static_cast<double> (squareA) * static_cast<double> (squareB)));
}

SteadyDistance steadyDistance (const Fingerprint& a, const Fingerprint& b)
{
    constexpr double farthest = 0.5; // cells; beyond it the slopes mean nothing
    // a = gain * (b + dx * slope across + dy * slope down), least squares over the cells both have.
    std::array<std::array<double, 3>, 3> normal{};
    std::array<double, 3> right{};
    double square = 0;
    for (int y = 1; y + 1 < h; ++y)
        for (int x = 1; x + 1 < w; ++x)
        {
            const std::array<std::int8_t, 6> cells{ a.cells[cellAt (x, y)],     b.cells[cellAt (x, y)],
                                                    b.cells[cellAt (x - 1, y)], b.cells[cellAt (x + 1, y)],
                                                    b.cells[cellAt (x, y - 1)], b.cells[cellAt (x, y + 1)] };
            if (std::find (cells.begin(), cells.end(), noCell) != cells.end())
                continue;
            const std::array<double, 3> basis{ static_cast<double> (cells[1]), (cells[3] - cells[2]) / 2.0,
                                               (cells[5] - cells[4]) / 2.0 };
            const double value = cells[0];
            square += value * value;
            for (std::size_t i = 0; i < 3; ++i)
            {
                right[i] += basis[i] * value;
                for (std::size_t k = 0; k < 3; ++k)
                    normal[i][k] += basis[i] * basis[k];
            }
        }
    if (square <= 0 || normal[0][0] <= 0)
        return {};
    // A little is added so that flat directions stay at rest.
    normal[1][1] += 0.01 * normal[0][0];
    normal[2][2] += 0.01 * normal[0][0];
    const auto determinant = [] (const std::array<std::array<double, 3>, 3>& m)
    {
        return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
               + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
    };
    const double all = determinant (normal);
    std::array<double, 3> answer{};
    for (std::size_t column = 0; column < 3; ++column)
    {
        auto other = normal;
        for (std::size_t i = 0; i < 3; ++i)
            other[i][column] = right[i];
        answer[column] = std::abs (all) < 1e-9 ? 0 : determinant (other) / all;
    }
    const double gain = answer[0];
    if (gain <= 0)
        return { distance (a, b), 0, 0 };
    const double dx = std::clamp (answer[1] / gain, -farthest, farthest);
    const double dy = std::clamp (answer[2] / gain, -farthest, farthest);
    const std::array<double, 3> share{ 1, dx, dy };
    double product = 0;
    double own = 0;
    for (std::size_t i = 0; i < 3; ++i)
    {
        product += share[i] * right[i];
        for (std::size_t k = 0; k < 3; ++k)
            own += share[i] * share[k] * normal[i][k];
    }
    return { static_cast<float> (1 - product / std::sqrt (square * own)), static_cast<float> (dx), static_cast<float> (dy) };
}

float textureOf (const Fingerprint& fingerprint)
{
    std::int32_t square = 0;
    for (const std::int32_t cell : fingerprint.cells)
        square += cell == noCell ? 0 : cell * cell;
    return std::sqrt (static_cast<float> (square) / static_cast<float> (Fingerprint::size));
}

Fingerprint mirrored (const Fingerprint& fingerprint)
{
    Fingerprint other = fingerprint;
    for (int y = 0; y < h; ++y)
        std::reverse (other.cells.begin() + y * w, other.cells.begin() + (y + 1) * w);
    return other;
}

Fingerprint registered (const Fingerprint& second, const Registration& registration)
{
    Fingerprint laid;
    laid.cells.fill (noCell);
    laid.contrast = second.contrast;
    for (int y = 0; y < h; ++y)
        for (int x = 0; x < w; ++x)
        {
            float value = 0;
            if (sample (second, middleX + (x - middleX) * registration.scaleX + registration.shiftX,
                        middleY + (y - middleY) * registration.scaleY + registration.shiftY, value))
                laid.cells[cellAt (x, y)] = static_cast<std::int8_t> (std::lround (std::clamp (value, -127.0F, 127.0F)));
        }
    return laid;
}

std::optional<Registration> registrationOf (const std::vector<std::pair<Fingerprint, Fingerprint>>& pairs)
{
    constexpr float textured = 8;
    constexpr std::size_t fewest = 8;
    constexpr int rounds = 12;
    constexpr double farthestScale = 0.15;
    constexpr double farthestShift = 3;   // cells
    constexpr double standsStill = 0.001; // cells: a hundredth of what weave moves a picture
    std::vector<const std::pair<Fingerprint, Fingerprint>*> used;
    for (const auto& pair : pairs)
        if (textureOf (pair.first) > textured && textureOf (pair.second) > textured)
            used.push_back (&pair);
    if (used.size() < fewest)
        return std::nullopt;
    Registration found;
    for (int round = 0; round < rounds; ++round)
    {
        // Least squares of first - gain * second along the slopes of the second; a cell that disagrees much has little say.
        std::array<std::array<double, 5>, 4> normal{};
        for (const auto* pair : used)
            for (int y = 1; y < h - 1; ++y)
                for (int x = 1; x < w - 1; ++x)
                {
                    const double sx = middleX + (x - middleX) * found.scaleX + found.shiftX;
                    const double sy = middleY + (y - middleY) * found.scaleY + found.shiftY;
                    float value = 0;
                    float right = 0;
                    float left = 0;
                    float below = 0;
                    float above = 0;
                    if (! sample (pair->second, sx, sy, value) || ! sample (pair->second, sx + 0.5, sy, right)
                        || ! sample (pair->second, sx - 0.5, sy, left) || ! sample (pair->second, sx, sy + 0.5, below)
                        || ! sample (pair->second, sx, sy - 0.5, above))
                        continue;
                    const double error = static_cast<double> (pair->first.cells[cellAt (x, y)]) - static_cast<double> (value);
                    const double gx = static_cast<double> (right) - static_cast<double> (left);
                    const double gy = static_cast<double> (below) - static_cast<double> (above);
                    const std::array<double, 4> slope{ gx * (x - middleX), gx, gy * (y - middleY), gy };
                    const double say = 1 / (1 + error * error / 400);
                    for (std::size_t i = 0; i < 4; ++i)
                    {
                        for (std::size_t k = 0; k < 4; ++k)
                            normal[i][k] += say * slope[i] * slope[k];
                        normal[i][4] += say * slope[i] * error;
                    }
                }
        if (! solve (normal))
            return std::nullopt;
        found.scaleX += normal[0][4] / normal[0][0];
        found.shiftX += normal[1][4] / normal[1][1];
        found.scaleY += normal[2][4] / normal[2][2];
        found.shiftY += normal[3][4] / normal[3][3];
        if (std::abs (found.scaleX - 1) > farthestScale || std::abs (found.scaleY - 1) > farthestScale
            || std::abs (found.shiftX) > farthestShift || std::abs (found.shiftY) > farthestShift)
            return std::nullopt;
        // A scale works over half the picture.
        double farthestStep = 0;
        for (std::size_t i = 0; i < normal.size(); ++i)
            farthestStep = std::max (farthestStep, std::abs (normal[i][4] / normal[i][i]) * (i % 2 == 0 ? w / 2.0 : 1));
        if (farthestStep < standsStill)
            break;
    }
    return found;
}

namespace
{
constexpr std::size_t bytesEach = Fingerprint::size + 1;
}

std::string fingerprintBytes (const std::vector<Fingerprint>& fingerprints)
{
    std::string bytes;
    bytes.reserve (fingerprints.size() * bytesEach);
    for (const Fingerprint& fingerprint : fingerprints)
    {
        for (const std::int8_t cell : fingerprint.cells)
            bytes.push_back (static_cast<char> (cell));
        bytes.push_back (static_cast<char> (fingerprint.contrast));
    }
    return bytes;
}

Result<std::vector<Fingerprint>> fingerprintsFrom (std::string_view bytes)
{
    if (bytes.size() % bytesEach != 0)
        return usageError ("fingerprints", std::to_string (bytes.size()) + " bytes are no whole number of fingerprints");
    std::vector<Fingerprint> fingerprints (bytes.size() / bytesEach);
    for (std::size_t i = 0; i < fingerprints.size(); ++i)
    {
        const auto own = bytes.substr (i * bytesEach, bytesEach);
        for (std::size_t k = 0; k < Fingerprint::size; ++k)
            fingerprints[i].cells[k] = static_cast<std::int8_t> (own[k]);
        fingerprints[i].contrast = static_cast<std::uint8_t> (own.back());
    }
    return fingerprints;
}
} // namespace shutterbeat::scan
