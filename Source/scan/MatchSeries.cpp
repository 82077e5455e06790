#include "scan/MatchSeries.h"

#include "scan/MatchLaid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t mostCompared = 128; // frames of a run
constexpr std::size_t samplesApart = 2;    // samples from one place to the next it is compared with
constexpr std::size_t fewestSteps = 10;    // steps that tell something
constexpr double farthestShift = 0.5;     // cells; beyond it the slopes mean nothing
constexpr double farthestStep = 0.25;     // cells: a picture that was not laid right has no more say than that
constexpr double steadiest = 0.02;        // cells: no weave is measured better
constexpr float leastTold = 0.2F;
constexpr float ownLight = 0.5F;    // share of pictures whose light says something of its own
constexpr float alikeEnough = 0.4F; // pictures whose shift means something

using Shift = std::array<double, 2>;

Shift clamped (const Shift& shift)
{
    return { std::clamp (shift[0], -farthestShift, farthestShift), std::clamp (shift[1], -farthestShift, farthestShift) };
}

/// Where one new picture lies over old ones.
class PictureOver
{
public:
    PictureOver (const Fingerprint& picture, const Laying& laying)
        : now (picture)
        , place (laying)
    {
        lay();
    }

    /// Moves it to where it lies best over a picture; false when it lies nowhere.
    bool settle (const Fingerprint& old)
    {
        const auto by = shiftOf (print, old);
        if (! by)
            return false;
        moved = clamped (*by);
        place.registration.shiftX += moved[0];
        place.registration.shiftY += moved[1];
        lay();
        return laidDistance (print.laid, old, norm (old)) < alikeEnough;
    }
    /// Where it would lie best over another; nothing where that is not close to where it lies.
    [[nodiscard]] std::optional<Shift> over (const Fingerprint& old) const
    {
        const auto by = shiftOf (print, old);
        if (! by || clamped (*by) != *by)
            return std::nullopt;
        return Shift{ moved[0] + (*by)[0], moved[1] + (*by)[1] };
    }
    [[nodiscard]] float norm (const Fingerprint& old) const { return layer->oldNorm (old); }
    [[nodiscard]] float texture() const { return print.laid.texture; }

private:
    void lay()
    {
        layer.emplace (place);
        layer->lay (now, print.laid);
        addSlopes (print);
    }
    const Fingerprint& now;
    Laying place;
    std::optional<Layer> layer;
    SlopedPrint print;
    Shift moved{};
};

/// Half the logarithm of what the steps measure on the average, for each of them.
double costOfSteps (const std::vector<std::optional<Shift>>& places)
{
    Shift squares{};
    std::size_t count = 0;
    for (std::size_t i = samplesApart; i < places.size(); ++i)
    {
        if (! places[i] || ! places[i - samplesApart])
            continue;
        for (std::size_t axis = 0; axis < 2; ++axis)
        {
            const double step = std::min (farthestStep, std::abs ((*places[i])[axis] - (*places[i - samplesApart])[axis]));
            squares[axis] += step * step;
        }
        ++count;
    }
    if (count < fewestSteps)
        return 0;
    const auto steps = static_cast<double> (count);
    return steps / 2
           * (std::log (squares[0] / steps + steadiest * steadiest) + std::log (squares[1] / steps + steadiest * steadiest));
}

/// Logarithm of a picture's contrast.
float lightOf (const Fingerprint& picture)
{
    static const auto table = []
    {
        constexpr float softer = 2; // grey levels: in the dark there is only grain
        std::array<float, 256> logs{};
        for (std::size_t i = 0; i < logs.size(); ++i)
            logs[i] = std::log (0.5F * static_cast<float> (i) + softer);
        return logs;
    }();
    return table[picture.contrast];
}

/// Half the logarithm of what a straight line from old to new leaves unexplained; grading changes its slope, never its sign.
float costOfLight (const std::vector<float>& now, const std::vector<float>& old)
{
    constexpr double known = 0.15; // flicker, grain, coding: a print's contrast is known to about a seventh
    double sumNow = 0, sumOld = 0, squareNow = 0, squareOld = 0, product = 0;
    const auto count = static_cast<double> (now.size());
    for (std::size_t i = 0; i < now.size(); ++i)
    {
        const double x = old[i], y = now[i];
        sumNow += y;
        sumOld += x;
        squareNow += y * y;
        squareOld += x * x;
        product += x * y;
    }
    const double spreadNow = squareNow / count - sumNow * sumNow / count / count;
    const double spreadOld = squareOld / count - sumOld * sumOld / count / count;
    const double together = product / count - sumNow * sumOld / count / count;
    const double explained = together > 0 && spreadOld > 1e-6 ? together * together / spreadOld : 0;
    return static_cast<float> (0.5 * std::log (std::max (0.0, spreadNow - explained) + known * known));
}
} // namespace

std::vector<float> lightCosts (const PrintFrames& before, const PrintFrames& after, const MatchedRun& run, std::int64_t farthest)
{
    std::vector<float> now, costs;
    for (std::int64_t k = 0; k < run.frames; ++k)
        now.push_back (lightOf (after.frames[static_cast<std::size_t> (run.newFirst + k)]));
    std::vector<float> old (now.size());
    const auto last = static_cast<std::int64_t> (before.frames.size()) - 1;
    for (auto e = -farthest; e <= farthest; ++e)
    {
        for (std::int64_t k = 0; k < run.frames; ++k)
            old[static_cast<std::size_t> (k)] =
                lightOf (before.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (run.oldFirst + e + k, 0, last))]);
        costs.push_back (ownLight * static_cast<float> (std::min (run.frames, mostCompared)) * costOfLight (now, old));
    }
    return costs;
}

std::vector<float> stepCosts (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
                              const MatchedRun& run, std::int64_t farthest)
{
    const auto offsets = static_cast<std::size_t> (2 * farthest + 1);
    const float perCell = 1 / std::sqrt (static_cast<float> (Fingerprint::size));
    const auto last = static_cast<std::int64_t> (before.frames.size()) - 1;
    const auto samples = std::min (run.frames, mostCompared);
    std::vector<std::vector<std::optional<Shift>>> places (offsets);
    for (std::int64_t i = 0; i < samples; ++i)
    {
        const auto n = sampledFrame (run, i, samples), o = run.oldFirst + n - run.newFirst;
        const auto oldAt = [&] (std::int64_t e) -> const Fingerprint&
        { return before.frames[static_cast<std::size_t> (std::clamp<std::int64_t> (o + e, 0, last))]; };
        PictureOver picture (after.frames[static_cast<std::size_t> (n)], questionAt (questions, n).laying);
        const float told =
            std::min (toldBy (picture.texture(), after.dark), toldBy (picture.norm (oldAt (0)) * perCell, before.dark));
        const bool lies = told > leastTold && picture.settle (oldAt (0));
        for (std::size_t e = 0; e < offsets; ++e)
            places[e].push_back (lies ? picture.over (oldAt (static_cast<std::int64_t> (e) - farthest)) : std::nullopt);
    }
    std::vector<float> costs;
    for (const auto& series : places)
        costs.push_back (static_cast<float> (costOfSteps (series)));
    return costs;
}
} // namespace shutterbeat::scan
