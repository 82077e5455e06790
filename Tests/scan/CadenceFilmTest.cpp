#include "Catch.h"

#include "Drawn.h"
#include "Wear.h"

#include "film/Print.h"
#include "media/GreyPass.h"
#include "time/Rate.h"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <iostream>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
using Pictures = std::vector<std::vector<std::uint8_t>>;

constexpr int width = 640;
constexpr int height = 480;

/// A shot of a real clip: its film frames, each once.
struct Source
{
    std::string clip;
    std::int64_t first = 0, end = 0; // file frames
};
// In the third a standing picture fades in and out.
const std::vector<Source>& sources()
{
    static const std::vector<Source> all{ { "rtn_oldfilm_oneshot_521f.mp4", 20, 260 },
                                          { "chaplin_1910s_oneshot.mp4", 0, 241 },
                                          { "psd_testvideo.mp4", 215, 380 },
                                          { "vhh_sbd_demo_test1.mpg", 40, 200 } };
    return all;
}

struct Film
{
    Pictures pictures;
    bool moves = false;
};

/// What is left of the difference of two pictures when their brightness and contrast are made the same: grey levels, root
/// mean square.
double movement (const std::vector<std::uint8_t>& a, const std::vector<std::uint8_t>& b)
{
    const auto n = static_cast<double> (a.size());
    double sumA = 0, sumB = 0, squareA = 0, squareB = 0, product = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
    {
        sumA += a[i];
        sumB += b[i];
        squareA += a[i] * a[i];
        squareB += b[i] * b[i];
        product += a[i] * b[i];
    }
    const double spreadA = squareA - sumA * sumA / n, spreadB = squareB - sumB * sumB / n, common = product - sumA * sumB / n;
    return std::sqrt (std::max (0.0, spreadB - (spreadA > 0 ? common * common / spreadA : 0)) / n);
}

Film filmFrames (const Source& source)
{
    const auto path = testData ("data/video/" + source.clip);
    scan::Scanner scanner;
    REQUIRE (media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                                 [&] (std::int64_t, const film::GreyPicture& picture) { return scanner.add (picture).ok(); }));
    const auto measures = scanner.finish();
    Film film;
    // Stopped when there is enough, which is no error.
    (void)media::forEachGrey (path, width, height,
                              [&] (std::int64_t n, const film::GreyPicture& picture)
                              {
                                  if (n >= source.first && n < source.end && ! measures.frames[static_cast<std::size_t> (n)].repeat)
                                      film.pictures.push_back (picture.pixels);
                                  return n + 1 < source.end;
                              });
    REQUIRE (film.pictures.size() > 90);
    // Moving shots have about 6 to 14, the fades of the standing picture less than 1.
    constexpr double leastMovement = 3;
    std::vector<double> steps;
    for (std::size_t i = 1; i < film.pictures.size(); ++i)
        steps.push_back (movement (film.pictures[i - 1], film.pictures[i]));
    std::nth_element (steps.begin(), steps.begin() + static_cast<std::ptrdiff_t> (steps.size() / 2), steps.end());
    film.moves = steps[steps.size() / 2] > leastMovement;
    return film;
}

enum class Noise
{
    inFilm, ///< the print is worn, then padded
    inFile  ///< new grain in every file frame, as when a scanner's film frames were photographed again
};

/// The film padded by `cycle` from its entry `rotation` on, `fileFrames` long; runs forth and back when it is too short.
Pictures padded (const Pictures& film, const std::vector<int>& cycle, std::size_t rotation, std::size_t fileFrames, Noise noise,
                 std::uint64_t seed, std::vector<std::int64_t>& starts)
{
    Wear wear;
    wear.seed = seed;
    WornPrint print (width, height, wear);
    Dice dice (seed);
    std::vector<int> grain (1U << 16U);
    for (int& value : grain)
        value = static_cast<int> (std::lround (6 * dice.bell()));
    Pictures file;
    starts.clear();
    for (std::size_t k = 0; file.size() < fileFrames; ++k)
    {
        const std::size_t turn = k % (2 * film.size() - 2);
        auto shown = film[turn < film.size() ? turn : 2 * film.size() - 2 - turn];
        if (noise == Noise::inFilm)
            print.wear (shown);
        starts.push_back (static_cast<std::int64_t> (file.size()));
        for (int i = 0; i < cycle[(k + rotation) % cycle.size()] && file.size() < fileFrames; ++i)
        {
            file.push_back (shown);
            if (noise == Noise::inFile)
            {
                auto at = static_cast<std::size_t> (dice.even() * static_cast<double> (grain.size()));
                for (auto& pixel : file.back())
                    pixel = static_cast<std::uint8_t> (std::clamp (pixel + grain[at++ & 0xffffU], 0, 255));
            }
        }
    }
    return file;
}

struct Tally
{
    int right = 0, unsure = 0, wrong = 0, inexact = 0;
    int stillRight = 0, stillUnsure = 0; // nothing moves, only grain and a fade: there it may well be unsure
};

void tryOne (const Film& film, const std::vector<int>& cycle, const time::Rational& speed, const time::Rational& rate,
             std::size_t rotation, Noise noise, std::uint64_t seed, const std::string& name, Tally& tally)
{
    const auto path = (std::filesystem::temp_directory_path() / ("shutterbeat-cadence-" + std::to_string (seed) + ".mp4")).string();
    std::vector<std::int64_t> starts;
    const auto pictures = padded (film.pictures, cycle, rotation, 200, noise, seed, starts);
    const auto failed = encodeGrey (path, width, height, time::fractionText (rate), 32, pictures);
    REQUIRE_FALSE (failed);
    scan::Scanner scanner;
    REQUIRE (media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                                 [&] (std::int64_t, const film::GreyPicture& picture) { return scanner.add (picture).ok(); }));
    std::filesystem::remove (path);
    scan::Options options;
    options.fileRate = rate;
    const auto result = scan::shots (scanner.finish(), options);
    const bool plain = cycle == std::vector<int>{ 1 };
    // A worn print weaves and flickers from film frame to film frame.
    const bool still = ! film.moves && noise == Noise::inFile;
    if (! result.cadenceSure)
        ++(plain ? tally.right : still ? tally.stillUnsure : tally.unsure);
    else if (! plain && result.askedSpeed && *result.askedSpeed == speed)
        ++(still ? tally.stillRight : tally.right);
    else
        ++tally.wrong;
    if (result.cadenceSure && ! plain && result.cadence != *film::Cadence::fromStarts (starts, 200))
        ++tally.inexact;
    if (plain ? result.cadenceSure : ! result.cadenceSure || ! result.askedSpeed || *result.askedSpeed != speed)
        std::cout << "  " << name << (noise == Noise::inFilm ? " worn" : " grain") << ": " << result.cadenceSaid << "\n";
}

/// False where the real shots are not at hand.
bool tryTable (std::size_t everyNth, Tally& tally)
{
    std::ifstream file (testData ("handbook/checks.json"));
    if (! file || ! std::filesystem::exists (testData ("data/video/" + sources()[0].clip)))
    {
        WARN ("no handbook/checks.json or data/video below SHUTTERBEAT_TEST_DATA: encoded cadences not checked");
        return false;
    }
    const auto checks = nlohmann::json::parse (file).at ("cadence");
    std::vector<Film> films;
    for (const Source& source : sources())
        films.push_back (filmFrames (source));
    std::size_t number = 0;
    for (const auto& [name, rules] : checks.items())
    {
        const auto arrow = name.find ("->");
        const auto rate = *time::parseRational (name.substr (arrow + 2));
        const auto speed = *time::parseRational (name.substr (0, arrow));
        for (const char* rule : { "A", "B" })
            for (std::size_t which = 0; which < films.size(); ++which)
                for (const Noise noise : { Noise::inFilm, Noise::inFile })
                    if (++number % everyNth == 0)
                    {
                        const auto cycle = rules.at (rule).get<std::vector<int>>();
                        tryOne (films[which], cycle, speed, rate, number * 7 % cycle.size(), noise, number,
                                name + " " + rule + " of " + sources()[which].clip, tally);
                    }
    }
    // And without repeats, at each rate.
    for (const int rate : { 24, 25, 30, 50, 60 })
        for (std::size_t which = 0; which < films.size(); ++which)
            for (const Noise noise : { Noise::inFilm, Noise::inFile })
                if (++number % everyNth == 0)
                    tryOne (films[which], { 1 }, time::Rational (rate), time::Rational (rate), 0, noise, number,
                            "one to one at " + std::to_string (rate) + " of " + sources()[which].clip, tally);
    std::cout << "encoded cadences: " << tally.right << " right, " << tally.unsure << " not sure, " << tally.wrong
              << " wrong; film frames not all in place in " << tally.inexact << "; where nothing moves " << tally.stillRight
              << " right, " << tally.stillUnsure << " not sure\n";
    return true;
}
} // namespace

TEST_CASE ("Cadences in encoded files of real shots: a sample")
{
    Tally tally;
    if (! tryTable (37, tally))
        return;
    CHECK (tally.wrong == 0);
    CHECK (tally.unsure == 0);
    CHECK (tally.right > 4);
}

TEST_CASE ("A count at 29.97 taken into a file of 25 is no cadence, however regularly its figures change")
{
    const auto path = testData ("data/video/moviepy_smpte_2997_in_25fps.mp4");
    if (! std::filesystem::exists (path))
    {
        WARN ("no data/video below SHUTTERBEAT_TEST_DATA: a picture that counts not checked");
        return;
    }
    scan::Scanner scanner;
    REQUIRE (media::forEachGrey (path, scan::scanWidth, scan::scanHeight,
                                 [&] (std::int64_t, const film::GreyPicture& picture) { return scanner.add (picture).ok(); }));
    scan::Options options;
    options.fileRate = time::Rational (25);
    CHECK_FALSE (scan::shots (scanner.finish(), options).cadenceSure);
}

TEST_CASE ("Every cadence of the handbook in encoded files of real shots", "[.long]")
{
    Tally tally;
    tryTable (1, tally);
    CHECK (tally.wrong == 0);
    CHECK (tally.unsure == 0);
}
