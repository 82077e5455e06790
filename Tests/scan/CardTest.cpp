#include "Catch.h"

#include "../reading/DrawnCard.h"
#include "Drawn.h"
#include "Shrink.h"
#include "Wear.h"

#include "media/FrameReader.h"
#include "scan/CardMeasure.h"

#include <filesystem>
#include <iostream>
#include <map>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
struct CardTally
{
    int right = 0, wrong = 0, missed = 0;

    void add (bool isCard, float likelihood, const std::string& name)
    {
        if (isCard && likelihood >= 0.5F)
            ++right;
        else if (isCard || likelihood >= 0.5F)
        {
            ++(isCard ? missed : wrong);
            std::cout << "  " << name << " judged " << likelihood << "\n";
        }
    }
    [[nodiscard]] double f1() const { return 2.0 * right / (2.0 * right + wrong + missed); }
    void print (const std::string& what) const
    {
        std::cout << what << ": " << right << " right, " << missed << " missed, " << wrong << " wrong, F1 " << f1() << "\n";
    }
};

float judgedAt (const film::GreyPicture& picture)
{
    return scan::cardLikelihood (shrunk (picture, scan::scanWidth, scan::scanHeight));
}

/// The middle of what five worn pictures in a row are judged, as a shot is.
float judgedWorn (const film::GreyPicture& picture, std::uint64_t seed)
{
    Wear wear;
    wear.seed = seed;
    WornPrint print (picture.width, picture.height, wear);
    std::vector<float> likelihoods;
    for (int i = 0; i < 5; ++i)
    {
        auto one = picture;
        print.wear (one.pixels);
        likelihoods.push_back (judgedAt (one));
    }
    std::nth_element (likelihoods.begin(), likelihoods.begin() + 2, likelihoods.end());
    return likelihoods[2];
}

/// The real stills by name, 640 x 480; empty where there are none.
std::map<std::string, film::GreyPicture> stills()
{
    std::map<std::string, film::GreyPicture> all;
    const std::filesystem::path folder = testData ("data/video/card_stills");
    if (! std::filesystem::is_directory (folder))
        return all;
    for (const auto& entry : std::filesystem::directory_iterator (folder))
    {
        auto film = media::FrameReader::open (entry.path().string());
        REQUIRE (film);
        auto picture = (*film)->greyFrame (0, 640, 480);
        REQUIRE (picture);
        all[entry.path().filename().string()] = std::move (*picture);
    }
    return all;
}

/// Cards of our own: light on dark and dark on light, printed and in a hand, large and small, sheets and whole pictures.
std::map<std::string, film::GreyPicture> drawnCards()
{
    std::map<std::string, film::GreyPicture> all;
    const std::map<std::string, std::string> wordings{
        { "long",
          "The lighthouse had not had a visitor since the great storm, and the keeper had long ago stopped counting the days." },
        { "short", "That very evening \xe2\x80\xa6" },
        { "title", "The Kite of\nWindmill Hill" },
    };
    for (const auto& [name, wording] : wordings)
        for (const char* font : { "EB Garamond 30", "EB Garamond Bold 44", "EB Garamond Italic 26", "Inter 22", "EB Garamond 15" })
        {
            CardLook look;
            look.font = font;
            all[name + " " + font] = drawnCard (wording, look);
            look.frame = true;
            all[name + " framed " + font] = drawnCard (wording, look);
        }
    const std::string letter =
        "Dear Rosa,\nthe kite is yours if you can climb\nfor it. The mill is old, so mind\nthe third rung.\nYours, Bo";
    for (const double ground : { 0.62, 0.78, 0.92 })
        for (const double sheet : { 0.65, 0.8, 1.0 })
            for (const char* font : { "EB Garamond Italic 28", "EB Garamond 24" })
            {
                CardLook look;
                look.font = font;
                look.ink = ground * 0.2;
                look.ground = ground;
                look.sheet = sheet;
                all["letter " + std::to_string (static_cast<int> (ground * 100)) + " "
                    + std::to_string (static_cast<int> (sheet * 100)) + " " + font] = drawnCard (letter, look);
            }
    return all;
}

/// Scenes of our own, some with what may be taken for writing: lit windows, a small sign, a sheet without writing.
std::map<std::string, film::GreyPicture> drawnScenes()
{
    std::map<std::string, film::GreyPicture> all;
    const auto box = [] (film::GreyPicture& picture, int left, int top, int width, int height, int level)
    {
        for (int y = std::max (0, top); y < std::min (picture.height, top + height); ++y)
            for (int x = std::max (0, left); x < std::min (picture.width, left + width); ++x)
                picture.pixels[static_cast<std::size_t> (y) * static_cast<std::size_t> (picture.width)
                               + static_cast<std::size_t> (x)] = static_cast<std::uint8_t> (level);
    };
    for (std::uint64_t seed = 1; seed <= 24; ++seed)
    {
        Dice dice (seed);
        film::GreyPicture picture;
        picture.width = 640;
        picture.height = 480;
        const Scene scene (seed);
        const auto small = scene.picture (0, 0);
        for (int y = 0; y < 480; ++y)
            for (int x = 0; x < 640; ++x)
                picture.pixels.push_back (small.at (x * small.width / 640, y * small.height / 480));
        const auto name = "scene " + std::to_string (seed);
        if (seed % 4 == 1) // a house by night with lit windows
        {
            for (auto& pixel : picture.pixels)
                pixel = static_cast<std::uint8_t> (pixel / 6);
            for (int row = 0; row < 3; ++row)
                for (int column = 0; column < 4; ++column)
                    if (dice.even() < 0.7)
                        box (picture, 90 + 120 * column, 80 + 120 * row, 54, 70, 180 + static_cast<int> (60 * dice.even()));
            all[name + ", windows"] = picture;
        }
        else if (seed % 4 == 2) // a sign in it
        {
            const auto sign = drawnCard ("BAKER", { "Inter Bold 60", 640, 480, 0.1, 0.85 });
            for (int y = 0; y < 70; ++y)
                for (int x = 0; x < 180; ++x)
                    picture.pixels[static_cast<std::size_t> ((120 + y) * 640 + 330 + x)] = sign.at (140 + 2 * x, 170 + 2 * y);
            all[name + ", a sign"] = picture;
        }
        else if (seed % 4 == 3) // a white tablecloth
        {
            box (picture, 60, 240, 520, 240, 215);
            box (picture, 150, 270, 60, 40, 120);
            box (picture, 380, 300, 90, 50, 90);
            all[name + ", a table"] = picture;
        }
        else
            all[name] = picture;
    }
    return all;
}
} // namespace

TEST_CASE ("Card stills against scene stills, as they are and worn")
{
    const auto all = stills();
    if (all.empty())
    {
        WARN ("no data/video/card_stills below SHUTTERBEAT_TEST_DATA: stills not judged");
        return;
    }
    CardTally plain, worn;
    std::uint64_t seed = 0;
    for (const auto& [name, picture] : all)
    {
        const bool isCard = name.rfind ("card", 0) == 0;
        plain.add (isCard, judgedAt (picture), name);
        worn.add (isCard, judgedWorn (picture, ++seed), name + " worn");
    }
    plain.print ("card stills");
    worn.print ("card stills worn");
    CHECK (plain.f1() >= 0.97);
    CHECK (worn.f1() >= 0.97);
}

TEST_CASE ("Drawn cards against drawn scenes, as they are and worn")
{
    CardTally plain, worn;
    std::uint64_t seed = 0;
    for (const bool isCard : { true, false })
        for (const auto& [name, picture] : isCard ? drawnCards() : drawnScenes())
        {
            plain.add (isCard, judgedAt (picture), name);
            worn.add (isCard, judgedWorn (picture, ++seed), name + " worn");
        }
    plain.print ("drawn cards");
    worn.print ("drawn cards worn");
    CHECK (plain.f1() >= 0.97);
    CHECK (worn.f1() >= 0.97);
}

TEST_CASE ("Nothing is a card without contrast, and flat pictures are none")
{
    for (const int level : { 0, 5, 60, 128, 255 })
        CHECK (scan::cardLikelihood (flat (level)) == 0);
    for (std::uint64_t seed = 1; seed <= 20; ++seed)
        CHECK (scan::cardLikelihood (Scene (seed).picture (0, 0)) < 0.5F);
}
