#include "Catch.h"

#include "scan/MatchSeries.h"

#include <algorithm>
#include <cmath>

using namespace shutterbeat;
using scan::Fingerprint;

namespace
{
/// A view of an endless drawn wall, `x` cells to the right and `y` down.
Fingerprint viewAt (double x, double y)
{
    Fingerprint view;
    for (int row = 0; row < Fingerprint::height; ++row)
        for (int column = 0; column < Fingerprint::width; ++column)
        {
            const double u = column + x, v = row + y;
            const double level =
                30 * std::sin (0.7 * u + 0.3 * v) + 25 * std::sin (0.4 * v - 0.21 * u) + 20 * std::sin (0.9 * v + 1);
            view.cells[static_cast<std::size_t> (row * Fingerprint::width + column)] =
                static_cast<std::int8_t> (std::lround (level));
        }
    view.contrast = 80;
    return view;
}

/// Where a camera that starts, stops and starts again points to.
double panAt (std::int64_t frame)
{
    const double t = static_cast<double> (frame) / 30;
    return 3 * t + 0.9 * std::sin (2.2 * t) + 0.3 * std::sin (7 * t);
}

std::int64_t lowest (const std::vector<float>& costs)
{
    return std::min_element (costs.begin(), costs.end()) - costs.begin() - static_cast<std::int64_t> (costs.size() / 2);
}

struct Prints
{
    std::vector<Fingerprint> before, after;
    std::vector<film::ScannedShot> oldShots, newShots;
    std::vector<scan::Question> questions;

    void finish()
    {
        oldShots = { { 0, static_cast<std::int64_t> (before.size()), film::ShotKind::shot, 1 } };
        newShots = { { 0, static_cast<std::int64_t> (after.size()), film::ShotKind::shot, 1 } };
        scan::Question question;
        question.piece = { 0, newShots.front().end, 0 };
        questions = { question };
    }
    [[nodiscard]] scan::PrintFrames old() const { return { before, oldShots, 9 }; }
    [[nodiscard]] scan::PrintFrames now() const { return { after, newShots, 9 }; }
};
} // namespace

TEST_CASE ("an uneven pan tells the frame by how evenly the new print weaves over the old")
{
    Prints prints;
    for (std::int64_t n = 0; n < 140; ++n)
        prints.before.push_back (viewAt (panAt (n), 0));
    // From frame 20 on, a tenth of a cell off all along, weaving: half of that offset looks like a frame of the pan.
    for (std::int64_t n = 0; n < 100; ++n)
    {
        const auto i = static_cast<double> (n);
        prints.after.push_back (viewAt (panAt (20 + n) + 0.1 + 0.02 * std::sin (1.9 * i), 0.02 * std::sin (2.3 * i)));
    }
    prints.finish();
    for (const std::int64_t wrong : { -1, 0, 1 })
    {
        const scan::MatchedRun run{ 0, 20 + wrong, 100, 1, 1, false };
        const auto costs = scan::stepCosts (prints.old(), prints.now(), prints.questions, run, 3);
        REQUIRE (costs.size() == 7);
        CHECK (lowest (costs) == -wrong);
    }
}

TEST_CASE ("too few pictures weave neither evenly nor unevenly")
{
    Prints prints;
    for (std::int64_t n = 0; n < 20; ++n)
        prints.before.push_back (viewAt (panAt (n), 0));
    prints.after.assign (prints.before.begin() + 4, prints.before.begin() + 12);
    prints.finish();
    for (const float cost : scan::stepCosts (prints.old(), prints.now(), prints.questions, { 0, 4, 8, 1, 1, false }, 3))
        CHECK (cost == 0);
}

TEST_CASE ("a still that fades in and out is told by its light, graded and flickering")
{
    Prints prints;
    const auto lightAt = [] (std::int64_t n)
    { return 60 * std::clamp (static_cast<double> (std::min (n - 10, 110 - n)) / 30, 0.0, 1.0); };
    for (std::int64_t n = 0; n < 120; ++n)
    {
        prints.before.push_back (viewAt (0, 0));
        prints.before.back().contrast = static_cast<std::uint8_t> (2 * lightAt (n));
    }
    for (std::int64_t n = 5; n < 115; ++n)
    {
        prints.after.push_back (viewAt (0, 0));
        const double flicker = 1 + 0.1 * std::sin (2.7 * static_cast<double> (n));
        prints.after.back().contrast = static_cast<std::uint8_t> (2 * std::pow (lightAt (n) / 60, 1.3) * 45 * flicker);
    }
    prints.finish();
    for (const std::int64_t wrong : { -3, 0, 2 })
    {
        const auto costs = scan::lightCosts (prints.old(), prints.now(), { 0, 5 + wrong, 110, 1, 1, false }, 8);
        REQUIRE (costs.size() == 17);
        CHECK (lowest (costs) == -wrong);
    }
}

TEST_CASE ("light that stays the same says nothing")
{
    Prints prints;
    prints.before.assign (60, viewAt (0, 0));
    prints.after.assign (40, viewAt (0, 0));
    prints.finish();
    const auto costs = scan::lightCosts (prints.old(), prints.now(), { 0, 10, 40, 1, 1, false }, 8);
    for (const float cost : costs)
        CHECK (cost == Approx (costs.front()));
}
