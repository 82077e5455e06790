#include "Catch.h"

#include "DrawnCard.h"
#include "reading/StillOf.h"

#include <cmath>
#include <cstdlib>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
double apart (const film::GreyPicture& a, const film::GreyPicture& b)
{
    double sum = 0;
    for (std::size_t i = 0; i < a.pixels.size(); ++i)
        sum += std::abs (a.pixels[i] - b.pixels[i]);
    return sum / static_cast<double> (a.pixels.size());
}
} // namespace

TEST_CASE ("a still of worn pictures is cleaner than any of them, though the print weaves")
{
    std::vector<film::GreyPicture> pictures;
    for (int i = 0; i < 9; ++i)
    {
        CardLook look;
        look.x = (i * 5) % 9 - 4;
        look.y = (i * 7) % 7 - 3;
        pictures.push_back (drawnCard ("The kite that would not come down", look));
        wearCard (pictures.back(), 10, static_cast<std::uint64_t> (i) + 1);
    }
    const auto still = reading::stillOf (pictures);
    REQUIRE (still.pixels.size() == pictures[0].pixels.size());
    // The still lies where one of the pictures lies; that one without wear is what it should show, at some brightness.
    double least = 1e9;
    for (int y = -4; y <= 4; ++y)
        for (int x = -4; x <= 4; ++x)
            for (const double light : { 0.8, 0.9, 1.0, 1.1, 1.2 })
            {
                CardLook look;
                look.x = x;
                look.y = y;
                auto clean = drawnCard ("The kite that would not come down", look);
                for (auto& pixel : clean.pixels)
                    pixel = static_cast<std::uint8_t> (std::min (255.0, pixel * light));
                least = std::min (least, apart (clean, still));
            }
    double worn = 1e9;
    for (int i = 0; i < 9; ++i)
    {
        CardLook look;
        look.x = (i * 5) % 9 - 4;
        look.y = (i * 7) % 7 - 3;
        worn =
            std::min (worn, apart (drawnCard ("The kite that would not come down", look), pictures[static_cast<std::size_t> (i)]));
    }
    INFO ("still " << least << ", the best picture " << worn);
    CHECK (least < 0.6 * worn);
}

TEST_CASE ("blurred and damaged pictures are left out of a still while there are better ones")
{
    const auto sharp = drawnCard ("A gull");
    auto blurred = sharp;
    for (int y = 0; y < sharp.height; ++y)
        for (int x = 3; x + 3 < sharp.width; ++x)
        {
            int sum = 0;
            for (int d = -3; d <= 3; ++d)
                sum += sharp.at (x + d, y);
            blurred.pixels[static_cast<std::size_t> (y * sharp.width + x)] = static_cast<std::uint8_t> (sum / 7);
        }
    CHECK (reading::sharpnessOf (blurred) < 0.7 * reading::sharpnessOf (sharp));
    auto damaged = drawnCard ("Nothing of the kind");
    damaged.damaged = true;
    CHECK (reading::stillOf ({ blurred, sharp, damaged, sharp, blurred }, 2) == sharp);
    CHECK (reading::stillOf ({ damaged }).pixels == damaged.pixels);
    CHECK (reading::stillOf ({}).pixels.empty());
    CHECK (reading::stillOf ({ sharp, drawnCard ("A gull", { "EB Garamond 30", 320, 240 }) }).pixels.empty());
}
