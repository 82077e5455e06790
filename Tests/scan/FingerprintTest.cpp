#include "Catch.h"

#include "Drawn.h"

#include "scan/Fingerprint.h"

#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// Film frame n of one shot: someone crosses the view and sways, the rest stands still.
film::GreyPicture shown (const Scene& scene, int n)
{
    auto picture = scene.picture (0, 0);
    const auto figure = scene.picture (600, 300);
    const double cx = 30 + 1.1 * n;
    const double cy = 75 + 18 * std::sin (n / 7.0);
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x)
            if (std::hypot (x - cx, (y - cy) * 0.6) < 26)
                picture.pixels[static_cast<std::size_t> (y * picture.width + x)] =
                    figure.at (static_cast<int> (x - cx + 90), static_cast<int> (std::clamp (y - cy + 70, 0.0, 143.0)));
    return picture;
}

/// Another print of it: graded otherwise, cropped by `crop`, flickering, with grain, a scratch and spots.
film::GreyPicture otherPrint (const film::GreyPicture& picture, double crop, Dice& dice)
{
    auto other = picture;
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x)
        {
            const double sx = picture.width * crop * 0.7 + x * (1 - crop);
            const double sy = picture.height * crop * 0.4 + y * (1 - crop);
            const int left = std::min (picture.width - 2, static_cast<int> (sx));
            const int top = std::min (picture.height - 2, static_cast<int> (sy));
            const double fx = sx - left;
            const double fy = sy - top;
            const double grey = (picture.at (left, top) * (1 - fx) + picture.at (left + 1, top) * fx) * (1 - fy)
                                + (picture.at (left, top + 1) * (1 - fx) + picture.at (left + 1, top + 1) * fx) * fy;
            other.pixels[static_cast<std::size_t> (y * picture.width + x)] =
                static_cast<std::uint8_t> (std::lround (235 * std::pow (grey / 255, 1.3)));
        }
    other = worn (std::move (other), 0.8 + 0.25 * dice.even(), 3, dice);
    const int scratch = static_cast<int> (dice.even() * 190);
    for (int y = 0; y < other.height; ++y)
        other.pixels[static_cast<std::size_t> (y * other.width + scratch)] = 240;
    for (int i = 0; i < 12; ++i)
        other.pixels[static_cast<std::size_t> (dice.even() * static_cast<double> (other.pixels.size()))] =
            dice.even() < 0.5 ? 10 : 245;
    return other;
}

/// The nearest of `all`.
std::size_t nearest (const std::vector<scan::Fingerprint>& all, const scan::Fingerprint& wanted)
{
    std::size_t best = 0;
    for (std::size_t i = 1; i < all.size(); ++i)
        if (scan::distance (all[i], wanted) < scan::distance (all[best], wanted))
            best = i;
    return best;
}
} // namespace

TEST_CASE ("Fingerprints outlast grading, flicker, dirt and grain, and tell neighbours apart")
{
    for (std::uint64_t seed = 1; seed <= 3; ++seed)
    {
        const Scene scene (seed);
        const Scene foreign (seed + 100);
        Dice dice (seed);
        std::vector<scan::Fingerprint> film;
        for (int n = 0; n < 120; ++n)
            film.push_back (scan::fingerprintOf (worn (shown (scene, n), 1, 2, dice)));
        int exact = 0;
        float farthest = 0;
        float nearestForeign = 2;
        for (int n = 0; n < 120; ++n)
        {
            const auto again = scan::fingerprintOf (otherPrint (shown (scene, n), 0, dice));
            exact += nearest (film, again) == static_cast<std::size_t> (n) ? 1 : 0;
            farthest = std::max (farthest, scan::distance (film[static_cast<std::size_t> (n)], again));
            const auto other = scan::fingerprintOf (shown (foreign, n));
            for (const auto& one : film)
                nearestForeign = std::min (nearestForeign, scan::distance (one, other));
        }
        std::cout << "fingerprints: " << exact << " of 120 exact, own at most " << farthest << ", foreign at least "
                  << nearestForeign << "\n";
        CHECK (exact >= 116);
        CHECK (farthest < 0.2F);
        CHECK (nearestForeign > 0.5F);
    }
}

TEST_CASE ("A crop is found from fingerprints alone and taken out")
{
    const Scene scene (7);
    Dice dice (7);
    std::vector<scan::Fingerprint> film;
    std::vector<scan::Fingerprint> cropped;
    for (int n = 0; n < 120; ++n)
    {
        film.push_back (scan::fingerprintOf (worn (shown (scene, n), 1, 2, dice)));
        cropped.push_back (scan::fingerprintOf (otherPrint (shown (scene, n), 0.04, dice)));
    }
    int before = 0;
    std::vector<std::pair<scan::Fingerprint, scan::Fingerprint>> pairs;
    for (std::size_t n = 0; n < film.size(); ++n)
    {
        const auto found = nearest (film, cropped[n]);
        before += found == n ? 1 : 0;
        pairs.emplace_back (film[found], cropped[n]);
    }
    auto registration = scan::registrationOf (pairs);
    REQUIRE (registration);
    // Once more, with the pairs that the first registration puts right.
    int after = 0;
    for (int round = 0; round < 2; ++round)
    {
        pairs.clear();
        after = 0;
        for (std::size_t n = 0; n < film.size(); ++n)
        {
            const auto found = nearest (film, scan::registered (cropped[n], *registration));
            after += found == n ? 1 : 0;
            pairs.emplace_back (film[found], cropped[n]);
        }
        registration = scan::registrationOf (pairs);
        REQUIRE (registration);
    }
    std::cout << "cropped by 4 %: " << before << " of 120 exact, registered " << after << "; scale " << registration->scaleX
              << " and " << registration->scaleY << "\n";
    CHECK (registration->scaleX == Approx (1 / 0.96).margin (0.01));
    CHECK (registration->scaleY == Approx (1 / 0.96).margin (0.01));
    CHECK (after >= 114);
    CHECK (after > before);
}

TEST_CASE ("Weave is taken out of a distance and measured: mirrors are told: flat pictures tell nothing")
{
    const Scene scene (5);
    const auto here = scan::fingerprintOf (scene.picture (20, 10));
    // Cells are 192 * 0.88 / 24 pixels wide.
    const auto moved = scan::fingerprintOf (scene.picture (21.5, 9));
    const auto steady = scan::steadyDistance (here, moved);
    CHECK (steady.distance < 0.5F * scan::distance (here, moved));
    CHECK (steady.dx == Approx (-1.5 / 7.04).margin (0.08));
    CHECK (steady.dy == Approx (1 / 7.04).margin (0.08));
    CHECK (scan::steadyDistance (here, here).distance == Approx (0).margin (1e-4));

    CHECK (scan::distance (scan::mirrored (here), here) > 0.5F);
    CHECK (scan::mirrored (scan::mirrored (here)) == here);

    const auto black = scan::fingerprintOf (flat (3));
    CHECK (scan::textureOf (black) == 0);
    CHECK (scan::textureOf (here) > 10);
    CHECK (scan::distance (black, here) == 1);
    CHECK (scan::steadyDistance (black, here).distance == 1);
    CHECK_FALSE (scan::registrationOf ({ { here, here } }));
    film::GreyPicture tiny;
    tiny.width = tiny.height = 8;
    tiny.pixels.resize (64);
    CHECK (scan::textureOf (scan::fingerprintOf (tiny)) == 0);
}

TEST_CASE ("Fingerprints survive as bytes")
{
    std::vector<scan::Fingerprint> film;
    for (int n = 0; n < 5; ++n)
        film.push_back (scan::fingerprintOf (Scene (3).picture (n * 4, n)));
    const auto bytes = scan::fingerprintBytes (film);
    CHECK (bytes.size() == 5 * (scan::Fingerprint::size + 1));
    const auto back = scan::fingerprintsFrom (bytes);
    REQUIRE (back.ok());
    CHECK (*back == film);
    CHECK_FALSE (scan::fingerprintsFrom (bytes.substr (1)).ok());
    CHECK (scan::fingerprintsFrom ("")->empty());
}
