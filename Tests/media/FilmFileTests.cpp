#include "media/FilmFile.h"

#include "Catch.h"
#include "media/Identity.h"
#include "media/NumberedFilm.h"
#include "media/Opened.h"

#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

TEST_CASE ("file frame 0 is the first presented picture wherever the container starts (B13)")
{
    TestFolder folder;
    const auto late = encode (folder, "ten.mkv", "-c:v libx264 -bf 2 -output_ts_offset 10");
    const auto flash = encode (folder, "eighty.flv", "-c:v flv -g 30 -q:v 3 -output_ts_offset 0.08");
    const auto trimmed = remake (folder, encode (folder, "a.mp4", "-c:v libx264 -bf 2"), "trim.mp4", "-ss 1.3", "-c copy");
    CHECK (opened (late).containerStart == Rational (10));
    CHECK (opened (late).frames == 100);
    CHECK (opened (flash).containerStart == ratio (2, 25));
    CHECK (opened (flash).frames == 100);
    CHECK (opened (trimmed).frames == 67);
    for (const auto& [path, first] : { std::pair (late, 0), std::pair (flash, 0), std::pair (trimmed, 33) })
    {
        auto reader = media::FrameReader::open (path);
        REQUIRE (reader);
        CHECK (look (**reader, 10).number == first + 10);
        CHECK (look (**reader, 0).number == first);
        CHECK ((*reader)->info().rate == Rational (25));
    }
}

TEST_CASE ("anamorphic pixels and rotation give the size to look at (B19)")
{
    TestFolder folder;
    const auto pal = opened (encode (folder, "pal.mpg", "-vf scale=720:576,setsar=64/45 -c:v mpeg2video -f vob", "25", 5));
    CHECK (pal.width == 1024);
    CHECK (pal.height == 576);
    const auto ntsc = opened (encode (folder, "ntsc.mkv", "-vf scale=720:480,setsar=8/9 -c:v mpeg2video", "30000/1001", 5));
    CHECK (ntsc.width == 640);
    CHECK (ntsc.height == 480);
    CHECK (ntsc.rate == ratio (30000, 1001));
    const auto unknown = opened (encode (folder, "unknown.mkv", "-vf setsar=0/1 -c:v ffv1", "25", 5));
    CHECK (unknown.width == 160);
    CHECK (unknown.height == 120);
    CHECK (unknown.rotation == 0);
}

TEST_CASE ("a rotated film is shown upright")
{
    TestFolder folder;
    const auto plain = encode (folder, "plain.mp4", "-c:v libx264 -bf 0", "25", 5);
    const auto straight = inOrder (plain);
    for (const int degrees : { 90, 180, 270 })
    {
        // The track's matrix in its header (ISO/IEC 14496-12, 8.3.2), stored angle counted clockwise.
        auto bytes = bytesOf (plain);
        const auto at = bytes.find ("tkhd");
        REQUIRE (at != std::string::npos);
        const int cosine = degrees == 180 ? -1 : 0;
        const int sine = degrees == 90 ? 1 : degrees == 270 ? -1 : 0;
        const auto put = [&] (std::size_t place, int value)
        {
            const auto fixed = static_cast<std::uint32_t> (value * 65536);
            for (std::size_t i = 0; i < 4; ++i)
                bytes[at + 44 + place * 4 + i] = static_cast<char> (fixed >> (24 - 8 * i));
        };
        put (0, cosine);
        put (1, sine);
        put (3, -sine);
        put (4, cosine);
        const auto path = folder.path ("turned.mp4");
        writeBytes (path, bytes);

        const auto info = opened (path);
        CHECK (info.rotation == degrees);
        CHECK (info.width == (degrees == 180 ? 160 : 120));
        CHECK (info.height == (degrees == 180 ? 120 : 160));

        auto reader = media::FrameReader::open (path);
        REQUIRE (reader);
        const auto grey = (*reader)->greyFrame (3, info.width, info.height);
        const auto colour = (*reader)->frame (3);
        REQUIRE (grey);
        REQUIRE (colour);
        // Turned back by hand both must be the picture as it was stored.
        film::GreyPicture back{ 160, 120, std::vector<std::uint8_t> (160 * 120), false };
        for (int y = 0; y < 120; ++y)
            for (int x = 0; x < 160; ++x)
            {
                const int nowX = degrees == 90 ? 119 - y : degrees == 180 ? 159 - x : y;
                const int nowY = degrees == 90 ? x : degrees == 180 ? 119 - y : 159 - x;
                back.pixels[static_cast<std::size_t> (y) * 160 + static_cast<std::size_t> (x)] = grey->at (nowX, nowY);
            }
        CHECK (hashOf (back.pixels) == straight[3].hash);
        // Bit 0 of the number is white in frame 3: stored at (20, 20).
        const int nowX = degrees == 90 ? 99 : degrees == 180 ? 139 : 20;
        const int nowY = degrees == 90 ? 20 : degrees == 180 ? 99 : 139;
        CHECK (
            colour->rgb[(static_cast<std::size_t> (nowY) * static_cast<std::size_t> (info.width) + static_cast<std::size_t> (nowX))
                            * 3
                        + 1]
            > 200);
    }
}

TEST_CASE ("rates are exact, and uneven steps are said")
{
    TestFolder folder;
    for (const auto& [text, rate] : { std::pair ("24000/1001", ratio (24000, 1001)), std::pair ("18", Rational (18)),
                                      std::pair ("200/11", ratio (200, 11)), std::pair ("60000/1001", ratio (60000, 1001)) })
        for (const char* name : { "r.mkv", "r.mp4", "r.ts" })
        {
            const auto info = opened (encode (folder, name, "-c:v libx264 -preset ultrafast", text, 60));
            INFO (name << " " << text);
            CHECK (info.rate == rate);
            CHECK_FALSE (info.variableRate);
        }
    const auto uneven =
        opened (encode (folder, "v.mkv", "-vf \"select='not(eq(mod(n,7),3))'\" -vsync vfr -c:v libx264 -bf 2", "24"));
    CHECK (uneven.frames == 86);
    CHECK (uneven.rate == Rational (24));
    CHECK (uneven.variableRate);
    CHECK (uneven.warnings.size() == 1);
}

TEST_CASE ("sound and covers are told from the picture")
{
    TestFolder folder;
    const auto film = encode (folder, "s.mkv", "-f lavfi -t 1 -i sine -map 0:v -map 1:a -c:v libx264 -c:a aac", "25", 25);
    const auto info = opened (film);
    CHECK (info.hasSound);
    CHECK (info.frames == 25);
    CHECK (info.codec == "h264");
    CHECK_FALSE (opened (encode (folder, "silent.mp4", "-c:v libx264", "25", 5)).hasSound);

    // A cover picture larger than the film is not the film.
    const auto cover = folder.path ("cover.png");
    run ("ffmpeg -nostdin -y -v error -f lavfi -i color=red:s=640x480 -frames:v 1 " + quoted (cover));
    const auto covered = folder.path ("covered.mp4");
    run ("ffmpeg -nostdin -y -v error -i " + quoted (cover) + " -i " + quoted (film)
         + " -map 0:v -map 1:v -map 1:a -c copy -disposition:v:0 attached_pic " + quoted (covered));
    CHECK (opened (covered).frames == 25);
    CHECK (opened (covered).width == 160);
}

TEST_CASE ("a file is recognised by its bytes wherever it lies")
{
    TestFolder folder;
    const auto one = folder.path ("one");
    const auto two = folder.path ("two");
    std::string bytes (1000000, 'a');
    writeBytes (one, bytes);
    writeBytes (two, bytes);
    REQUIRE (media::fileIdentity (one));
    CHECK (*media::fileIdentity (one) == *media::fileIdentity (two));
    for (const std::size_t place : { 0U, 500100U, 999999U })
    {
        auto other = bytes;
        other[place] = 'b';
        writeBytes (two, other);
        CHECK (*media::fileIdentity (one) != *media::fileIdentity (two));
    }
    writeBytes (two, bytes + "a");
    CHECK (*media::fileIdentity (one) != *media::fileIdentity (two));
    CHECK_FALSE (media::fileIdentity (folder.path ("none")));
}

TEST_CASE ("names in any script open, and are named in errors (B54)")
{
    TestFolder folder;
    const auto plain = encode (folder, "plain.mp4", "-c:v libx264", "25", 5);
    const std::string composed = "\xC3\x86r\xC3\xB8 \xE2\x80\x93 \xE2\x80\x9CSt\xC3\xA5\xE2\x80\x9D/\xC4\x8C"
                                 "apek \xE6\x97\xA5\xE6\x9C\xAC.mp4";
    const std::string decomposed = "A\xCC\x8A \xE2\x80\x9CSta\xCC\x8A\xE2\x80\x9D/C\xCC\x8C"
                                   "apek \xE6\x97\xA5\xE6\x9C\xAC.mp4";
    for (const std::string& name : { composed, decomposed, std::string ("reel #2 100%20.mp4"), std::string (" leading.mp4"),
                                     std::string ("12:30:00.mp4"), std::string ("it's %03d.mp4"), std::string ("concat:a|b.mp4") })
    {
        const auto path = folder.path (name);
        std::filesystem::create_directories (std::filesystem::path (path).parent_path());
        std::filesystem::copy_file (plain, path);
        const auto info = opened (path);
        CHECK (info.frames == 5);
        CHECK (info.path == path);
        auto reader = media::FrameReader::open (path);
        REQUIRE (reader);
        CHECK (look (**reader, 4).number == 4);
        const auto missing = media::openFilm (path + ".gone");
        REQUIRE_FALSE (missing);
        CHECK (missing.error().where == path + ".gone");
    }
}
