#include "media/PngFile.h"

#include "Catch.h"
#include "media/FrameReader.h"
#include "media/NumberedFilm.h"

#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;

TEST_CASE ("a picture written as PNG reads back pixel for pixel")
{
    TestFolder folder;
    media::Picture picture{ 37, 23, {}, false };
    for (int i = 0; i < 37 * 23 * 3; ++i)
        picture.rgb.push_back (static_cast<std::uint8_t> (i * 7 + i / 100));
    const auto path = folder.path ("\xC3\x86r\xC3\xB8 #1.png");
    REQUIRE (media::writePng (path, picture));
    const auto raw = folder.path ("raw");
    run ("ffmpeg -nostdin -y -v error -i " + quoted ("file:" + path) + " -f rawvideo -pix_fmt rgb24 " + quoted (raw));
    const auto bytes = bytesOf (raw);
    CHECK (std::vector<std::uint8_t> (bytes.begin(), bytes.end()) == picture.rgb);

    // Written over, whole, and nothing else left in the folder.
    picture.rgb[0] = 99;
    REQUIRE (media::writePng (path, picture));
    std::filesystem::remove (raw);
    const auto left = std::distance (std::filesystem::directory_iterator (folder.path ("")), std::filesystem::directory_iterator());
    CHECK (left == 1);
}

TEST_CASE ("a PNG that can't be written says so and leaves nothing behind")
{
    TestFolder folder;
    const media::Picture picture{ 2, 2, std::vector<std::uint8_t> (12), false };
    const auto nowhere = folder.path ("no such folder/a.png");
    const auto failed = media::writePng (nowhere, picture);
    REQUIRE_FALSE (failed);
    CHECK (failed.error().code == ErrorCode::cannotWrite);
    CHECK (failed.error().where == nowhere);
    std::filesystem::create_directory (folder.path ("taken.png"));
    CHECK_FALSE (media::writePng (folder.path ("taken.png"), picture));
    const auto left = std::distance (std::filesystem::directory_iterator (folder.path ("")), std::filesystem::directory_iterator());
    CHECK (left == 1);
    CHECK_FALSE (media::writePng (folder.path ("a.png"), { 3, 3, std::vector<std::uint8_t> (12), false }));
    CHECK_FALSE (media::writePng (folder.path ("a.png"), {}));
}
