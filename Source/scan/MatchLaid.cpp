#include "scan/MatchLaid.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::scan
{
namespace
{
constexpr int w = Fingerprint::width;
constexpr int h = Fingerprint::height;

// Whole numbers: every processor gives the same sum, some much sooner. Which one it is is chosen before a sanitizer can watch.
#if defined(__x86_64__) && defined(__GNUC__) && defined(__linux__) && ! defined(SHUTTERBEAT_WATCHED)
__attribute__ ((target_clones ("avx2", "default")))
#endif
std::int32_t
product (const std::array<std::int8_t, Fingerprint::size>& a, const std::array<std::int8_t, Fingerprint::size>& b)
{
    std::int32_t sum = 0;
    for (std::size_t i = 0; i < Fingerprint::size; ++i)
        sum += static_cast<std::int32_t> (static_cast<std::int16_t> (a[i])) * static_cast<std::int16_t> (b[i]);
    return sum;
}

/// Catmull and Rom's spline, as for registered().
template <class Taps>
void placeTaps (Taps& taps, double place, int length)
{
    taps.inside = place >= -0.5 && place <= length - 0.5;
    if (! taps.inside)
        return;
    const int left = static_cast<int> (std::floor (place));
    const auto f = static_cast<float> (place - left);
    const float f2 = f * f;
    const float f3 = f2 * f;
    taps.weight = { 0.5F * (-f + 2 * f2 - f3), 0.5F * (2 - 5 * f2 + 3 * f3), 0.5F * (f + 4 * f2 - 3 * f3), 0.5F * (f3 - f2) };
    for (int i = 0; i < 4; ++i)
        taps.from[static_cast<std::size_t> (i)] = static_cast<std::uint8_t> (std::clamp (left + i - 1, 0, length - 1));
}
} // namespace

Layer::Layer (const Laying& laying)
    : turned (laying.mirrored)
{
    constexpr double middleX = (w - 1) / 2.0;
    constexpr double middleY = (h - 1) / 2.0;
    const Registration& r = laying.registration;
    plain = ! turned && r == Registration{};
    for (int x = 0; x < w; ++x)
    {
        auto& taps = columns[static_cast<std::size_t> (x)];
        placeTaps (taps, middleX + (x - middleX) * r.scaleX + r.shiftX, w);
        if (turned)
            for (auto& from : taps.from)
                from = static_cast<std::uint8_t> (w - 1 - from);
    }
    for (int y = 0; y < h; ++y)
        placeTaps (rows[static_cast<std::size_t> (y)], middleY + (y - middleY) * r.scaleY + r.shiftY, h);
    std::array<std::int8_t, w> line{};
    for (std::size_t x = 0; x < w; ++x)
        line[x] = columns[x].inside ? -1 : 0;
    for (std::size_t y = 0; y < h; ++y)
        if (rows[y].inside)
            std::copy (line.begin(), line.end(), mask.begin() + static_cast<std::ptrdiff_t> (y * w));
}

void Layer::lay (const Fingerprint& from, LaidPrint& to) const
{
    if (plain)
        to.cells = from.cells;
    else
    {
        // Column beside column, so that a tap is the same for a whole one.
        std::array<std::array<float, h>, w> upright;
        for (std::size_t y = 0; y < h; ++y)
            for (std::size_t x = 0; x < w; ++x)
                upright[x][y] = static_cast<float> (from.cells[y * w + x]);
        std::array<std::array<float, w>, h> across;
        for (std::size_t x = 0; x < w; ++x)
        {
            const Taps& t = columns[x];
            const auto &a = upright[t.from[0]], &b = upright[t.from[1]], &c = upright[t.from[2]], &d = upright[t.from[3]];
            std::array<float, h> column;
            for (std::size_t y = 0; y < h; ++y)
                column[y] = t.weight[0] * a[y] + t.weight[1] * b[y] + t.weight[2] * c[y] + t.weight[3] * d[y];
            for (std::size_t y = 0; y < h; ++y)
                across[y][x] = column[y];
        }
        for (std::size_t y = 0; y < h; ++y)
        {
            const Taps& t = rows[y];
            const auto &a = across[t.from[0]], &b = across[t.from[1]], &c = across[t.from[2]], &d = across[t.from[3]];
            std::array<float, w> line{};
            for (std::size_t x = 0; x < w; ++x)
                line[x] = std::min (
                    127.0F, std::max (-127.0F, t.weight[0] * a[x] + t.weight[1] * b[x] + t.weight[2] * c[x] + t.weight[3] * d[x]));
            for (std::size_t x = 0; x < w; ++x)
                to.cells[y * w + x] =
                    static_cast<std::int8_t> (static_cast<std::int8_t> (line[x] + (line[x] < 0 ? -0.5F : 0.5F)) & mask[y * w + x]);
        }
    }
    std::int32_t square = 0;
    for (std::size_t i = 0; i < Fingerprint::size; ++i)
    {
        const std::int16_t cell = to.cells[i];
        square += static_cast<std::int32_t> (cell) * cell;
    }
    to.norm = std::sqrt (static_cast<float> (square));
    to.texture = to.norm / std::sqrt (static_cast<float> (Fingerprint::size));
}

float Layer::oldNorm (const Fingerprint& old) const
{
    std::int32_t square = 0;
    for (std::size_t i = 0; i < Fingerprint::size; ++i)
    {
        const auto cell = static_cast<std::int16_t> (static_cast<std::int8_t> (old.cells[i] & mask[i]));
        square += static_cast<std::int32_t> (cell) * cell;
    }
    return std::sqrt (static_cast<float> (square));
}

void addSlopes (SlopedPrint& print)
{
    constexpr float damping = 0.1F; // of the cells' own square: weave is a tenth of a cell or two
    print.across.fill (0);
    print.down.fill (0);
    const auto& cells = print.laid.cells;
    for (int y = 1; y + 1 < h; ++y)
        for (int x = 1; x + 1 < w; ++x)
        {
            const auto i = static_cast<std::size_t> (y * w + x);
            print.across[i] = static_cast<std::int8_t> ((cells[i + 1] - cells[i - 1]) / 2);
            print.down[i] = static_cast<std::int8_t> ((cells[i + w] - cells[i - w]) / 2);
        }
    const std::array<const std::array<std::int8_t, Fingerprint::size>*, 3> basis{ &cells, &print.across, &print.down };
    for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t b = a; b < 3; ++b)
            print.normal[a][b] = print.normal[b][a] = static_cast<float> (product (*basis[a], *basis[b]));
    print.normal[1][1] += damping * print.normal[0][0];
    print.normal[2][2] += damping * print.normal[0][0];
}

float steadyLaidDistance (const SlopedPrint& print, const Fingerprint& old, float oldNorm)
{
    if (oldNorm <= 0 || print.laid.norm <= 0)
        return 1;
    // What of the old picture the laid one and its slopes explain, by Cholesky's decomposition.
    const std::array<float, 3> right{ static_cast<float> (product (old.cells, print.laid.cells)),
                                      static_cast<float> (product (old.cells, print.across)),
                                      static_cast<float> (product (old.cells, print.down)) };
    if (right[0] <= 0)
        return 1 - right[0] / (print.laid.norm * oldNorm);
    const auto& n = print.normal;
    const float l00 = std::sqrt (n[0][0]);
    const float l10 = n[1][0] / l00, l20 = n[2][0] / l00;
    const float l11 = std::sqrt (std::max (1.0F, n[1][1] - l10 * l10));
    const float l21 = (n[2][1] - l20 * l10) / l11;
    const float l22 = std::sqrt (std::max (1.0F, n[2][2] - l20 * l20 - l21 * l21));
    const float u0 = right[0] / l00;
    const float u1 = (right[1] - l10 * u0) / l11;
    const float u2 = (right[2] - l20 * u0 - l21 * u1) / l22;
    return 1 - std::min (1.0F, std::sqrt (u0 * u0 + u1 * u1 + u2 * u2) / oldNorm);
}

std::optional<std::array<double, 2>> shiftOf (const SlopedPrint& print, const Fingerprint& old)
{
    // The normal equations by elimination: gain, gain times shift across, gain times shift down.
    std::array<std::array<double, 4>, 3> rows{};
    const std::array<double, 3> right{ static_cast<double> (product (old.cells, print.laid.cells)),
                                       static_cast<double> (product (old.cells, print.across)),
                                       static_cast<double> (product (old.cells, print.down)) };
    for (std::size_t i = 0; i < 3; ++i)
    {
        std::copy (print.normal[i].begin(), print.normal[i].end(), rows[i].begin());
        rows[i][3] = right[i];
    }
    for (std::size_t i = 0; i < 3; ++i)
    {
        if (rows[i][i] < 1)
            return {};
        for (std::size_t k = i + 1; k < 3; ++k)
        {
            const double factor = rows[k][i] / rows[i][i];
            for (std::size_t c = i; c < 4; ++c)
                rows[k][c] -= factor * rows[i][c];
        }
    }
    const double down = rows[2][3] / rows[2][2];
    const double across = (rows[1][3] - rows[1][2] * down) / rows[1][1];
    const double gain = (rows[0][3] - rows[0][1] * across - rows[0][2] * down) / rows[0][0];
    if (gain <= 0)
        return {};
    return std::array<double, 2>{ across / gain, down / gain };
}

float laidDistance (const LaidPrint& laid, const Fingerprint& old, float oldNorm)
{
    const float norms = laid.norm * oldNorm;
    if (norms <= 0)
        return 1;
    return 1 - static_cast<float> (product (laid.cells, old.cells)) / norms;
}
} // namespace shutterbeat::scan
