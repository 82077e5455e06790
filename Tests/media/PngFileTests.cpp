#include "media/PngFile.h"

#include "media/JpegPicture.h"

#include "Catch.h"
#include "media/FrameReader.h"
#include "media/NumberedFilm.h"

#include <cstdlib>
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

TEST_CASE ("a picture as JPEG is the same to the eye, and the same bytes each time")
{
    TestFolder folder;
    media::Picture picture{ 208, 156, {}, false };
    for (int y = 0; y < 156; ++y)
        for (int x = 0; x < 208; ++x)
            for (int c = 0; c < 3; ++c)
                picture.rgb.push_back (static_cast<std::uint8_t> (128 + (x * (c + 1) + y * 2) % 100 - (x / 16 + y / 16) % 2 * 60));
    const auto jpeg = media::jpegOf (picture);
    REQUIRE (jpeg);
    CHECK (jpeg->size() < picture.rgb.size() / 3);
    CHECK (media::jpegOf (picture).value() == *jpeg);
    const auto path = folder.path ("a.jpg"), raw = folder.path ("raw");
    writeBytes (path, *jpeg);
    run ("ffmpeg -nostdin -y -v error -i " + quoted (path) + " -f rawvideo -pix_fmt rgb24 " + quoted (raw));
    const auto bytes = bytesOf (raw);
    REQUIRE (bytes.size() == picture.rgb.size());
    double squares = 0;
    for (std::size_t i = 0; i < bytes.size(); ++i)
    {
        const double apart = static_cast<double> (static_cast<std::uint8_t> (bytes[i])) - picture.rgb[i];
        squares += apart * apart;
    }
    // 38 dB: a mean difference of about three of 255.
    CHECK (squares / static_cast<double> (bytes.size()) < 10);
    CHECK_FALSE (media::jpegOf ({ 3, 3, std::vector<std::uint8_t> (12), false }));
    CHECK_FALSE (media::jpegOf ({}));
}
