#include "media/FilmFile.h"
#include "media/Identity.h"
#include "media/ImageSequence.h"

#include "Catch.h"
#include "media/NumberedFilm.h"
#include "media/Opened.h"

#include <bit>
#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;
namespace fs = std::filesystem;

namespace
{
/// `count` picture files numbered from `first` on; returns the folder.
std::string pictureFiles (const TestFolder& folder, const std::string& name, const std::string& pattern, const std::string& options,
                          int first, int count)
{
    const auto path = folder.path (name);
    fs::create_directories (path);
    encode (folder, name + "/" + pattern, options + " -start_number " + std::to_string (first), "25", count);
    return path;
}

bool says (const media::FilmInfo& info, const std::string& words)
{
    for (const auto& warning : info.warnings)
        if (contains (warning, words))
            return true;
    return false;
}

/// A number into the header of a DPX file, in its own byte order.
void putWord (const std::string& path, std::size_t at, std::uint32_t value)
{
    auto bytes = bytesOf (path);
    REQUIRE (bytes.size() > 2048);
    const bool bigFirst = bytes[0] == 'S';
    for (std::size_t i = 0; i < 4; ++i)
        bytes[at + (bigFirst ? i : 3 - i)] = static_cast<char> (value >> (24 - 8 * i));
    writeBytes (path, bytes);
}
} // namespace

TEST_CASE ("numbered picture files are one film, every frame exact")
{
    TestFolder folder;
    struct Kind
    {
        const char* name;
        const char* pattern;
        const char* options;
    };
    for (const Kind& kind : { Kind{ "dpx10", "reel2_%07d.dpx", "-pix_fmt gbrp10be -c:v dpx" },
                              Kind{ "dpx16", "%06d.dpx", "-pix_fmt rgb48le -c:v dpx" },
                              Kind{ "tiff", "scan-%d-graded.tif", "-pix_fmt rgb24 -c:v tiff" },
                              Kind{ "tiff16", "A.%05d.TIFF", "-pix_fmt rgb48le -c:v tiff -f image2" },
                              Kind{ "png", "f%04d.png", "-c:v png" }, Kind{ "png16", "f%04d.png", "-pix_fmt gray16be -c:v png" },
                              Kind{ "jpeg", "%d.jpg", "-c:v mjpeg -q:v 2 -pix_fmt yuvj420p" } })
    {
        INFO (kind.name);
        const auto path = pictureFiles (folder, kind.name, kind.pattern, kind.options, 95, 60);
        const auto info = opened (path);
        CHECK (info.frames == 60);
        CHECK (info.firstNumber == 95);
        CHECK (info.width == filmWidth);
        CHECK (info.height == filmHeight);
        CHECK_FALSE (info.variableRate);
        const auto straight = inOrder (path);
        REQUIRE (straight.size() == 60);
        for (std::size_t k = 0; k < straight.size(); ++k)
        {
            CHECK (straight[k].number == static_cast<int> (k));
            CHECK_FALSE (straight[k].damaged);
        }
        CHECK (compareWays (path, straight, 300) == "");
    }
    // The first file stands for the folder, and both are the same film.
    const auto png = folder.path ("png");
    CHECK (opened (png + "/f0095.png").frames == 60);
    CHECK (opened (png + "/f0095.png").identity == opened (png).identity);
    CHECK (opened (png + "/").frames == 60);
}

TEST_CASE ("gaps in the numbering keep their places and are said")
{
    TestFolder folder;
    const auto path = pictureFiles (folder, "dpx", "r_%04d.dpx", "-pix_fmt rgb24 -c:v dpx", 1001, 30);
    for (const int gone : { 1006, 1010, 1011, 1012 })
        REQUIRE (fs::remove (path + "/r_" + std::to_string (gone) + ".dpx"));
    writeBytes (path + "/r_1020.dpx", "");
    auto cut = bytesOf (path + "/r_1022.dpx");
    writeBytes (path + "/r_1022.dpx", cut.substr (0, 1000));
    const auto info = opened (path);
    CHECK (info.frames == 30);
    CHECK (info.firstNumber == 1001);
    CHECK (says (info, "4 pictures are missing in its numbering (1006, 1010 to 1012)"));
    const auto straight = inOrder (path);
    REQUIRE (straight.size() == 30);
    for (int k = 0; k < 30; ++k)
    {
        INFO (k);
        const bool lost = k == 5 || (k >= 9 && k <= 11) || k == 19 || k == 21;
        const auto& seen = straight[static_cast<std::size_t> (k)];
        CHECK (seen.damaged == lost);
        // The last good picture is held.
        CHECK (seen.number == (k == 5 ? 4 : k >= 9 && k <= 11 ? 8 : lost ? k - 1 : k));
    }
    CHECK (compareWays (path, straight) == "");
}

TEST_CASE ("a film of picture files begins with the one that is named")
{
    TestFolder folder;
    const auto path = pictureFiles (folder, "png", "%d.png", "-c:v png", 8, 5);
    const auto info = opened (path + "/10.png");
    CHECK (info.frames == 3);
    CHECK (info.firstNumber == 10);
    CHECK (says (info, "2 pictures with a lower number left out"));
    auto reader = media::FrameReader::open (path + "/10.png");
    REQUIRE (reader);
    CHECK (look (**reader, 0).number == 2);
    CHECK (look (**reader, 2).number == 4);
}

TEST_CASE ("the rate of picture files is the header's, or declared, or said to be taken")
{
    TestFolder folder;
    const auto png = pictureFiles (folder, "png", "%d.png", "-c:v png", 1, 3);
    CHECK (opened (png).rate == Rational (24));
    CHECK (says (opened (png), "no rate of their own"));
    CHECK (opened (png).startLabel.empty());
    const auto declared = media::openFilm (png, Rational (18));
    REQUIRE (declared);
    CHECK (declared->rate == Rational (18));
    CHECK (declared->warnings.empty());

    const auto dpx = pictureFiles (folder, "dpx", "%d.dpx", "-pix_fmt rgb24 -c:v dpx", 1, 3);
    for (int k = 1; k <= 3; ++k)
    {
        const auto file = dpx + "/" + std::to_string (k) + ".dpx";
        putWord (file, 1724, std::bit_cast<std::uint32_t> (24000.0F / 1001.0F));
        putWord (file, 1920, 0x01000010U + static_cast<std::uint32_t> (k));
    }
    const auto info = opened (dpx);
    CHECK (info.rate == Rational (time::Int128 (24000), time::Int128 (1001)));
    CHECK (info.startLabel == "01:00:00:11");
    CHECK (info.startFrame == 86411);
    CHECK (info.warnings.empty());
    // Nothing but the video header's rate, and a timecode that was never written.
    for (int k = 1; k <= 3; ++k)
    {
        const auto file = dpx + "/" + std::to_string (k) + ".dpx";
        putWord (file, 1724, 0xffffffffU);
        putWord (file, 1940, std::bit_cast<std::uint32_t> (16.0F));
        putWord (file, 1920, 0);
    }
    CHECK (opened (dpx).rate == Rational (16));
    CHECK (opened (dpx).startLabel.empty());
}

TEST_CASE ("folders that are no one film are refused with what to do")
{
    TestFolder folder;
    const auto refused = [&] (const std::string& path, const std::string& words)
    {
        INFO (path);
        const auto info = media::openFilm (path);
        REQUIRE_FALSE (info);
        CHECK (info.error().code == ErrorCode::unreadable);
        CHECK (contains (info.error().where, path));
        CHECK (contains (info.error().message, words));
        CHECK_FALSE (media::FrameReader::open (path));
    };
    const auto path = pictureFiles (folder, "two", "a%d.png", "-c:v png", 1, 3);
    fs::copy_file (path + "/a1.png", path + "/title.png");
    CHECK (opened (path).frames == 3);
    CHECK (says (opened (path), "1 other picture in the folder left aside (title.png)"));
    fs::copy_file (path + "/a1.png", path + "/b1.png");
    fs::copy_file (path + "/a1.png", path + "/b2.png");
    refused (path, "more than one series");
    CHECK (opened (path + "/b1.png").frames == 2);
    fs::copy_file (path + "/a1.png", path + "/a02.png");
    refused (path + "/a1.png", "two pictures with the number 2");

    const auto sparse = pictureFiles (folder, "sparse", "%d.png", "-c:v png", 1, 3);
    fs::copy_file (sparse + "/1.png", sparse + "/900000000.png");
    refused (sparse, "only 4 of them are there");

    fs::create_directories (folder.path ("nothing"));
    refused (folder.path ("nothing"), "without numbered pictures");
    fs::create_directories (folder.path ("broken"));
    writeBytes (folder.path ("broken/1.dpx"), "not a picture");
    writeBytes (folder.path ("broken/2.dpx"), "nor this");
    refused (folder.path ("broken"), "can't be read as a picture");
}

TEST_CASE ("picture files are recognised wherever they lie, until one changes")
{
    TestFolder folder;
    const auto one = pictureFiles (folder, "one", "%d.png", "-c:v png", 1, 5);
    const auto two = folder.path ("two");
    fs::copy (one, two);
    CHECK (*media::fileIdentity (one) == *media::fileIdentity (two));
    writeBytes (two + "/2.png", bytesOf (two + "/2.png") + "x");
    CHECK (*media::fileIdentity (one) != *media::fileIdentity (two));
    fs::remove (two + "/2.png");
    CHECK (*media::fileIdentity (one) != *media::fileIdentity (two));
    CHECK_FALSE (media::fileIdentity (folder.path ("none")));
}

TEST_CASE ("numbers are found in names as people write them")
{
    TestFolder folder;
    const auto first = [&] (const std::vector<std::string>& names, const std::string& named)
    {
        const auto place = folder.path ("names");
        fs::remove_all (place);
        fs::create_directories (place);
        for (const auto& name : names)
            writeBytes (place + "/" + name, "x");
        const auto found = media::findSequence (named.empty() ? place : place + "/" + named);
        REQUIRE (found);
        return *found ? (*found)->firstNumber * 1000 + (*found)->size() : -1;
    };
    CHECK (first ({ "reel1_0007.dpx", "reel1_0008.dpx" }, "") == 7002);
    CHECK (first ({ "0007_v2.tif", "0008_v2.tif", "0010_v2.tif" }, "") == 7004);
    CHECK (first ({ "9.png", "10.png", "11.png" }, "") == 9003);
    CHECK (first ({ "9.PNG", "10.PNG", "._9.PNG" }, "9.PNG") == 9002);
    CHECK (first ({ "card.png" }, "card.png") == -1);
    CHECK (first ({ "99999999999999999999.png" }, "99999999999999999999.png") == -1);
    CHECK (first ({ "1.mov", "2.mov" }, "1.mov") == -1);
}
