#include "Catch.h"

#include "DrawnCard.h"
#include "reading/CardReader.h"

#include <algorithm>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
bool has (const std::string& language)
{
    const auto all = reading::installedLanguages();
    return std::find (all.begin(), all.end(), language) != all.end();
}

reading::CardReader reader (const std::string& languages)
{
    auto opened = reading::CardReader::open (languages);
    INFO ((opened ? "" : opened.error().text()));
    REQUIRE (opened);
    return std::move (*opened);
}

reading::CardWording read (reading::CardReader& with, const film::GreyPicture& card)
{
    auto wording = with.read (card);
    REQUIRE (wording);
    return *wording;
}
} // namespace

TEST_CASE ("a language without data names its package")
{
    const auto refused = reading::CardReader::open ("xxq");
    REQUIRE_FALSE (refused);
    CHECK (refused.error().code == ErrorCode::unreadable);
    CHECK (refused.error().message.find ("tesseract-ocr-") != std::string::npos);
    if (! reading::installedLanguages().empty())
        CHECK (refused.error().message.find ("tesseract-ocr-xxq") != std::string::npos);
    CHECK_FALSE (reading::CardReader::open ("../eng"));
    CHECK_FALSE (reading::CardReader::open ("chi sim"));
}

TEST_CASE ("light on dark and dark on light, plain and in a frame, large and small")
{
    if (! has ("eng"))
    {
        WARN ("skipped: tesseract-ocr-eng is not installed");
        return;
    }
    auto with = reader ("eng");
    CHECK (with.languages() == "eng");
    const std::string wording = "Meanwhile the kite had\nreached the windmill.";
    for (const bool dark : { false, true })
        for (const bool framed : { false, true })
            for (const char* font : { "EB Garamond 30", "EB Garamond 18", "EB Garamond Bold 44", "Inter 24" })
            {
                CardLook look;
                look.font = font;
                look.frame = framed;
                if (dark)
                    std::swap (look.ink, look.ground);
                const auto said = read (with, drawnCard (wording, look));
                INFO (font << (dark ? ", dark on light" : "") << (framed ? ", framed" : ""));
                std::string line = said.text;
                std::replace (line.begin(), line.end(), '\n', ' ');
                CHECK (line == "Meanwhile the kite had reached the windmill.");
                CHECK (said.darkOnLight == dark);
                CHECK_FALSE (said.doubtful);
            }
}

TEST_CASE ("a sheet with dark writing, black beside it")
{
    if (! has ("eng"))
        return;
    auto with = reader ("eng");
    CardLook look;
    look.sheet = 0.7;
    look.ground = 0.82;
    look.ink = 0.12;
    const auto said = read (with, drawnCard ("Dear Rosa,\nthe kite is yours.\nBo", look));
    CHECK (said.text == "Dear Rosa,\nthe kite is yours.\nBo");
    CHECK (said.darkOnLight);
}

TEST_CASE ("letters beyond English")
{
    if (! has ("dan") || ! has ("deu"))
    {
        WARN ("skipped: tesseract-ocr-dan and tesseract-ocr-deu are not both installed");
        return;
    }
    auto danish = reader ("dan");
    CHECK (read (danish, drawnCard ("I Ærøskøbing går\nalle tidligt i seng.")).text == "I Ærøskøbing går\nalle tidligt i seng.");
    auto german = reader ("deu");
    CHECK (read (german, drawnCard ("Über die Brücke\nmüßt ihr gehen!")).text == "Über die Brücke\nmüßt ihr gehen!");
}

TEST_CASE ("nothing to read is doubtful, not an error: bad pictures are one")
{
    if (reading::installedLanguages().empty())
        return;
    auto with = reader ("");
    film::GreyPicture flat;
    flat.width = 320;
    flat.height = 240;
    flat.pixels.assign (320 * 240, 90);
    const auto nothing = read (with, flat);
    CHECK (nothing.text.empty());
    CHECK (nothing.doubtful);
    flat.pixels.pop_back();
    CHECK_FALSE (with.read (flat));
    CHECK_FALSE (with.read ({}));
    film::GreyPicture tiny;
    tiny.width = tiny.height = 1;
    tiny.pixels = { 7 };
    CHECK (read (with, tiny).text.empty());
}
