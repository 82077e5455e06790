#include "desk/CurveDrawing.h"

#include "music/RampLaw.h"
#include "store/WholeFile.h"
#include "time/Text.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
constexpr double width = 1000, height = 420, left = 70, right = 20, top = 30, bottom = 50;

std::string number (double x, int decimals)
{
    return time::decimalText (music::nearestPart (x, 1'000'000'000), decimals);
}

std::string table (const TempoAnswer& answer)
{
    std::string text = "beats_per_minute,error,chance,start_from_in\r\n";
    for (std::size_t i = 0; i < answer.curve.size(); ++i)
    {
        const auto& point = answer.curve[i];
        text += number (point.beatsPerMinute, 4) + "," + (point.fits() ? number (point.value, 9) : "") + ","
                + number (answer.chance[i], 9) + "," + (point.fits() ? number (point.start, 6) : "") + "\r\n";
    }
    return text;
}

/// A drawing with one point a pixel, the best of its tempos, so that no valley is lost.
std::string drawing (const TempoAnswer& answer, const TempoWish& wish)
{
    double most = 0;
    for (std::size_t i = 0; i < answer.curve.size(); ++i)
        most = std::max (
            { most, answer.chance[i] * 1.2, answer.curve[i].fits() ? std::min (answer.curve[i].value, 2 * answer.chance[i]) : 0 });
    most = std::max (most, 1e-9);
    const double range = std::max (1e-9, wish.fit.highest - wish.fit.lowest);
    const auto x = [&] (double tempo) { return left + (tempo - wish.fit.lowest) / range * (width - left - right); };
    const auto y = [&] (double value) { return top + (1 - std::min (1.0, value / most)) * (height - top - bottom); };
    const auto at = [&] (double tempo, double value) { return number (x (tempo), 1) + "," + number (y (value), 1) + " "; };
    std::string curve, chance;
    std::vector<std::string> runs;
    const auto perPixel = std::max<std::size_t> (1, answer.curve.size() / 930);
    for (std::size_t i = 0; i < answer.curve.size(); i += perPixel)
    {
        const auto end = answer.curve.begin() + static_cast<std::ptrdiff_t> (std::min (answer.curve.size(), i + perPixel));
        const auto best = std::min_element (answer.curve.begin() + static_cast<std::ptrdiff_t> (i), end,
                                            [] (const music::FitPoint& a, const music::FitPoint& b) { return a.value < b.value; });
        if (best->fits())
            curve += at (best->beatsPerMinute, best->value);
        else if (! curve.empty())
        {
            runs.push_back (curve);
            curve.clear();
        }
        chance += at (answer.curve[i].beatsPerMinute, answer.chance[i]);
    }
    runs.push_back (curve);
    const bool squares = wish.fit.measure == music::FitMeasure::squares;
    std::string svg =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1000 420\" font-family=\"sans-serif\" font-size=\"13\">\n"
        "<rect width=\"1000\" height=\"420\" fill=\"white\"/>\n";
    const auto text = [&] (double tx, double ty, const std::string& words, const char* anchor) {
        svg +=
            "<text x=\"" + number (tx, 1) + "\" y=\"" + number (ty, 1) + "\" text-anchor=\"" + anchor + "\">" + words + "</text>\n";
    };
    for (int k = 0; k <= 4; ++k)
    {
        const double value = most * k / 4, line = y (value);
        svg +=
            "<path d=\"M" + number (left, 0) + " " + number (line, 1) + "H" + number (width - right, 0) + "\" stroke=\"#ddd\"/>\n";
        text (left - 8, line + 4, squares ? number (value * 1e6, 0) : number (value * 1000, 0), "end");
    }
    const double tick = std::pow (10.0, std::floor (std::log10 (range / 4)));
    const double each = range / tick > 20 ? tick * 5 : range / tick > 10 ? tick * 2 : tick;
    for (double tempo = std::ceil (wish.fit.lowest / each) * each; tempo <= wish.fit.highest + 1e-9; tempo += each)
        text (x (tempo), height - bottom + 20, number (tempo, each < 1 ? 2 : 0), "middle");
    text (width / 2, height - 8, "beats a minute", "middle");
    text (left - 8, 18, squares ? "error, ms squared" : "error, ms", "start");
    svg += "<polyline points=\"" + chance + "\" fill=\"none\" stroke=\"#888\" stroke-dasharray=\"6 4\"/>\n";
    text (width - right, y (answer.chance.back()) - 6, "what chance alone gives", "end");
    for (const auto& run : runs)
        if (! run.empty())
            svg += "<polyline points=\"" + run + "\" fill=\"none\" stroke=\"black\"/>\n";
    for (std::size_t i = 0; i < answer.best.size(); ++i)
    {
        const auto& point = answer.best[i].point;
        svg +=
            "<circle cx=\"" + number (x (point.beatsPerMinute), 1) + "\" cy=\"" + number (y (point.value), 1) + "\" r=\"3.5\"/>\n";
        text (x (point.beatsPerMinute), y (point.value) - 8, std::to_string (i + 1), "middle");
    }
    return svg + "</svg>\n";
}
} // namespace

Result<Done> drawCurve (const TempoAnswer& answer, const TempoWish& wish, const std::string& path)
{
    if (time::endsWith (path, ".svg"))
        return store::writeWhole (path, drawing (answer, wish));
    if (time::endsWith (path, ".csv"))
        return store::writeWhole (path, table (answer));
    return usageError (path, "a curve is drawn as FILE.svg or written as FILE.csv");
}
} // namespace shutterbeat::desk
