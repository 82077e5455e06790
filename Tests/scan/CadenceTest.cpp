#include "Catch.h"

#include "Drawn.h"

#include "film/Print.h"
#include "time/Rate.h"

#include <nlohmann/json.hpp>

#include <fstream>
#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// File frames that show a wandering scene padded by `cycle` from its entry `rotation` on: grain in each film frame, and
/// a little anew in each file frame, as an encoder leaves it. Also where film frames begin.
std::vector<film::GreyPicture> padded (const std::vector<int>& cycle, std::size_t rotation, std::size_t fileFrames,
                                       std::vector<std::int64_t>& starts, std::uint64_t seed)
{
    const Scene scene (seed);
    Dice dice (seed);
    std::vector<film::GreyPicture> pictures;
    starts.clear();
    for (std::size_t film = 0; pictures.size() < fileFrames; ++film)
    {
        const auto t = static_cast<double> (film);
        const auto shown = worn (scene.picture (0.9 * t + 6 * std::sin (t / 9), 3 * std::sin (t / 13)), 1, 5, dice);
        starts.push_back (static_cast<std::int64_t> (pictures.size()));
        for (int i = 0; i < cycle[(film + rotation) % cycle.size()] && pictures.size() < fileFrames; ++i)
            pictures.push_back (worn (shown, 1, 1.5, dice));
    }
    return pictures;
}
} // namespace

TEST_CASE ("B50: 18 film frames a second padded to 24")
{
    std::vector<std::int64_t> starts;
    const auto pictures = padded ({ 2, 1, 1 }, 0, 96, starts, 11);
    scan::Options options;
    options.fileRate = time::Rational (24);
    const auto result = scan::shots (measure (pictures), options);
    CHECK (result.shots.size() == 1);
    CHECK (result.cadenceSure);
    CHECK (result.cadence == *film::Cadence::fromStarts (starts, 96));
    CHECK (result.cadence.filmFrames() == 72);
    CHECK (result.cadenceSaid == "measured 2:1:1, 18 film frames a second at 24, sure");
    REQUIRE (result.askedSpeed);
    CHECK (*result.askedSpeed == time::Rational (18));
}

TEST_CASE ("Every cadence of the handbook is found in any rotation")
{
    std::ifstream file (testData ("handbook/checks.json"));
    if (! file)
    {
        WARN ("no handbook/checks.json below SHUTTERBEAT_TEST_DATA: cadences not checked");
        return;
    }
    const auto checks = nlohmann::json::parse (file).at ("cadence");
    int tried = 0;
    for (const auto& [name, rules] : checks.items())
    {
        const auto arrow = name.find ("->");
        const auto rate = *time::parseRational (name.substr (arrow + 2));
        const auto speed = *time::parseRational (name.substr (0, arrow));
        for (const char* rule : { "A", "B" })
        {
            const auto cycle = rules.at (rule).get<std::vector<int>>();
            for (const std::size_t rotation : { std::size_t{ 0 }, cycle.size() / 3, cycle.size() / 2, cycle.size() - 1 })
            {
                std::vector<std::int64_t> starts;
                const auto pictures = padded (cycle, rotation, 175, starts, 100 + static_cast<std::uint64_t> (tried));
                scan::Options options;
                options.fileRate = rate;
                const auto result = scan::shots (measure (pictures), options);
                INFO (name << " " << rule << " rotation " << rotation << ": " << result.cadenceSaid);
                CHECK (result.shots.size() == 1);
                CHECK (result.cadenceSure);
                CHECK (result.cadence == *film::Cadence::fromStarts (starts, 175));
                CHECK ((result.askedSpeed && *result.askedSpeed == speed));
                ++tried;
            }
        }
    }
    std::cout << "cadences: " << tried << " tried\n";
}

TEST_CASE ("A break of phase is followed, and cuts between padded shots")
{
    std::vector<std::int64_t> starts;
    auto pictures = padded ({ 2, 1, 1, 1 }, 0, 200, starts, 21);
    std::vector<std::int64_t> later;
    auto second = padded ({ 2, 1, 1, 1 }, 2, 200, later, 22);
    pictures.insert (pictures.end(), second.begin(), second.end());
    for (const auto start : later)
        starts.push_back (200 + start);
    scan::Options options;
    options.fileRate = time::Rational (25);
    const auto result = scan::shots (measure (pictures), options);
    REQUIRE (result.shots.size() == 2);
    CHECK (result.shots[1].firstFile == 200);
    CHECK (result.cadence == *film::Cadence::fromStarts (starts, 400));
    CHECK (result.shots[1].firstFilm == 160);
    CHECK (result.shots[1].endFilm == static_cast<std::int64_t> (starts.size()));
}

TEST_CASE ("No repeat is invented in one-to-one films, stills with grain, and blends")
{
    for (std::uint64_t seed = 1; seed <= 4; ++seed)
    {
        for (const int rate : { 24, 25, 30 })
        {
            scan::Options options;
            options.fileRate = time::Rational (rate);
            std::vector<std::int64_t> starts;
            auto result = scan::shots (measure (padded ({ 1 }, 0, 200, starts, seed)), options);
            INFO (result.cadenceSaid);
            CHECK_FALSE (result.cadenceSure);
            CHECK (result.cadence.isOneToOne());

            const Scene scene (seed);
            Dice dice (seed);
            std::vector<film::GreyPicture> still;
            for (int n = 0; n < 200; ++n)
                still.push_back (worn (scene.picture (0, 0), 1, 5, dice));
            result = scan::shots (measure (still), options);
            INFO (result.cadenceSaid);
            CHECK_FALSE (result.cadenceSure);
            CHECK (result.cadence.isOneToOne());
        }
        // Speed changed by mixing neighbours: no file frame repeats another.
        const Scene scene (seed);
        Dice dice (seed);
        std::vector<film::GreyPicture> blended;
        for (int n = 0; n < 200; ++n)
        {
            const double at = n * 20 / 25.0;
            const double whole = std::floor (at);
            blended.push_back (
                worn (mixed (scene.picture (0.9 * whole, 0), scene.picture (0.9 * (whole + 1), 0), at - whole), 1, 3, dice));
        }
        scan::Options options;
        options.fileRate = time::Rational (25);
        const auto result = scan::shots (measure (blended), options);
        INFO (result.cadenceSaid);
        CHECK_FALSE (result.askedSpeed);
        CHECK (result.cadence.isOneToOne());
    }
}
