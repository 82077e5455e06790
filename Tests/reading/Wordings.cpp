#include "Catch.h"

#include "media/FrameReader.h"
#include "reading/CardReader.h"
#include "reading/StillOf.h"
#include "spotting/WordingText.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <fstream>
#include <iostream>
#include <map>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
bool has (const std::string& language)
{
    const auto all = reading::installedLanguages();
    return std::find (all.begin(), all.end(), language) != all.end();
}

struct Score
{
    int characters = 0, wrong = 0;

    [[nodiscard]] double right() const { return 1 - static_cast<double> (wrong) / std::max (1, characters); }
};

void judge (Score& score, const std::string& name, const std::string& truth, const reading::CardWording& read)
{
    const int wrong = spotting::charactersApart (truth, read.text);
    score.characters += spotting::charactersIn (truth);
    score.wrong += wrong;
    if (wrong > 0)
        std::cout << "  " << name << ": " << wrong << " characters wrong: " << spotting::onOneLine (read.text) << "\n";
    INFO (name << " reads " << read.text);
    CHECK (wrong * 10 <= spotting::charactersIn (truth));
    // What is passed off as sure has to be right but for a mark.
    if (! read.doubtful)
        CHECK (wrong <= 2);
}

std::string demoFolder()
{
    const char* set = std::getenv ("SHUTTERBEAT_DEMO_FOLDER");
    const std::string folder = set != nullptr ? set : std::string (SHUTTERBEAT_SOURCE_DIR) + "/demo/out";
    return std::ifstream (folder + "/truth.json") ? folder : "";
}

/// What the demo film's cards say, by their name in its truth.
const std::map<std::string, std::string>& demoWordings()
{
    static const std::map<std::string, std::string> all{
        { "title", "The Keeper’s Cake A Comedy in One Reel" },
        { "card-town", "In Bølgeby, where even the herring go to bed at eight." },
        { "card-baker", "Fru Fløde baked for the whole coast." },
        { "card-seventy-today", "“Old Grævling is seventy today!” cried Fru Fløde." },
        { "card-not-one-lick", "“To the lighthouse, Pepper! And not one lick!”" },
        { "card-stop", "“Stop that cake!”" },
        { "card-not-a-crumb", "“Seventy years, and not a crumb.”" },
        { "card-best-cake", "“The best cake I ever wore, dear lady.”" },
        { "end", "The End" },
    };
    return all;
}
} // namespace

TEST_CASE ("The demo film's cards through the wear")
{
    const auto demo = demoFolder();
    if (demo.empty() || ! has ("dan") || ! has ("eng"))
    {
        WARN ("skipped: the demo film has not been made, or tesseract-ocr-dan and tesseract-ocr-eng are not installed");
        return;
    }
    const auto truth = nlohmann::json::parse (std::ifstream (demo + "/truth.json"));
    auto with = reading::CardReader::open ("dan+eng");
    REQUIRE (with);
    Score score;
    const auto& edition = truth["editions"]["a"];
    auto film = media::FrameReader::open (demo + "/" + edition["file"].get<std::string>());
    REQUIRE (film);
    for (const auto& shot : edition["shots"])
    {
        const auto name = shot["name"].get<std::string>();
        const auto says = demoWordings().find (name);
        if (says == demoWordings().end())
            continue;
        const auto first = shot["first_file"].get<std::int64_t>();
        const auto end = shot["end_file"].get<std::int64_t>();
        std::vector<film::GreyPicture> pictures;
        for (std::int64_t i = 0; i < 12; ++i)
        {
            auto picture =
                (*film)->greyFrame (first + 3 + i * (end - first - 6) / 11, (*film)->info().width, (*film)->info().height);
            REQUIRE (picture);
            pictures.push_back (std::move (*picture));
        }
        const auto read = with->read (reading::stillOf (pictures));
        REQUIRE (read);
        judge (score, name, says->second, *read);
    }
    std::cout << "demo film: " << score.characters << " characters, " << 100 * score.right() << " % right\n";
    REQUIRE (score.characters > 300);
    CHECK (score.right() >= 0.95);
}

namespace
{
/// What the printed roman cards among the stills say, written down from the pictures. Casts and credits are left out.
const std::map<std::string, std::string>& stillWordings()
{
    static const std::map<std::string, std::string> all{
        { "card_001",
          "Surrounded by Roman antiquities, steeped in the traditions of Grand Opera and spurred by Italy’s victory in the "
          "Libyan War (1911-12), the Italian film industry began turning out a series of historical extravaganzas in the "
          "years just prior to World War I." },
        { "card_006",
          "The mighty chest of Typhon, upon which rests “the celestial column,” gives a sudden start and shatters the peace "
          "of the evening. Are the rivers of fire about to flow once again? “O Etna! Etna!”" },
        { "card_007",
          "Peace is as deep as the night when suddenly a roar shakes the sleepers and plunges them once again into terror." },
        { "card_008",
          "Here the wealth of Batto the hoar-\nder has been gathered and hidden. At the sight of these dazzling riches, greed "
          "conquers their fear. Laden down with the unexpected booty, the servants escape. And with them is the nurse "
          "Croessa." },
        { "card_009", "The survivors divide the treasure." },
        { "card_010",
          "The High Priest selects the victims from the temple’s “cage.” Croessa tries to save Cabiria by claiming the child "
          "is ill, and therefore unaccept-\nable to the god Moloch. But her deception fails. The innocent victim is promised "
          "for the next sacrifice." },
        { "card_011", "The Temple of Moloch." },
    };
    return all;
}

film::GreyPicture still (const std::string& name)
{
    auto film = media::FrameReader::open (testData ("data/video/card_stills/" + name + ".png"));
    if (! film)
        return {};
    auto picture = (*film)->greyFrame (0, (*film)->info().width, (*film)->info().height);
    return picture ? std::move (*picture) : film::GreyPicture{};
}
} // namespace

TEST_CASE ("Printed roman cards among the stills, and others that must not be taken for sure")
{
    if (still ("card_001").pixels.empty() || ! has ("eng"))
    {
        WARN ("skipped: no data/video/card_stills below SHUTTERBEAT_TEST_DATA, or tesseract-ocr-eng is not installed");
        return;
    }
    auto with = reading::CardReader::open ("eng");
    REQUIRE (with);
    Score score;
    for (const auto& [name, says] : stillWordings())
    {
        const auto read = with->read (still (name));
        REQUIRE (read);
        judge (score, name, says, *read);
    }
    std::cout << "roman cards: " << score.characters << " characters, " << 100 * score.right() << " % right\n";
    CHECK (score.right() >= 0.95);

    // Two cards over one another, black letter, Cyrillic, and letters a few pixels high: no English data can read them.
    for (const char* name : { "card_002", "card_013", "card_014", "card_016", "card_019", "card_022", "card_023", "card_025",
                              "card_027", "card_033", "card_037", "card_038", "card_039" })
    {
        const auto read = with->read (still (name));
        REQUIRE (read);
        INFO (name << " reads " << read->text);
        CHECK (read->doubtful);
    }
}
