#include "media/FieldPictures.h"
#include "media/FilmFile.h"
#include "media/FrameIndex.h"
#include "media/NumberedFilm.h"

#include "Catch.h"

#include <filesystem>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

// Kinds of film that FrameExactTests leaves out: every frame in order, backward, and 300 random jumps against the number
// in the picture and its hash.

namespace
{
/// Every frame shows the picture with its number, however one comes to it. `numbers`: of frame 0, 1, ...; empty: 0, 1, ...
void checkExact (const std::string& path, std::int64_t frames, const std::vector<int>& numbers = {})
{
    INFO (path);
    const auto straight = inOrder (path);
    REQUIRE (static_cast<std::int64_t> (straight.size()) == frames);
    for (std::size_t k = 0; k < straight.size(); ++k)
        if (straight[k].damaged || straight[k].number != (numbers.empty() ? static_cast<int> (k) : numbers[k]))
            FAIL ("frame " << k << " shows " << straight[k].number << (straight[k].damaged ? ", damaged" : ""));
    CHECK (compareWays (path, straight, 300) == "");
}

struct CodecKind
{
    const char* name;
    const char* encoder;
    const char* options;
};
} // namespace

TEST_CASE ("ten and sixteen bits a sample, and editing codecs, show every frame exactly")
{
    TestFolder folder;
    for (const CodecKind& kind :
         { CodecKind{ "hi10.mkv", "libx264", "-c:v libx264 -pix_fmt yuv422p10 -g 30 -bf 2" },
           CodecKind{ "main10.mp4", "libx265", "-c:v libx265 -pix_fmt yuv420p10 -x265-params log-level=none:keyint=30:bframes=3" },
           CodecKind{ "hq10.mov", "prores_ks", "-c:v prores_ks -profile:v 3" },
           CodecKind{ "four16.mov", "prores_ks", "-c:v prores_ks -profile:v 4444 -pix_fmt yuva444p10" },
           CodecKind{ "hd.mov", "dnxhd", "-vf scale=1280:720 -c:v dnxhd -b:v 60M -pix_fmt yuv422p" },
           CodecKind{ "hr.mov", "dnxhd", "-vf scale=480:360 -c:v dnxhd -profile:v dnxhr_hqx -pix_fmt yuv422p10" },
           CodecKind{ "hr.mxf", "dnxhd", "-vf scale=480:360 -c:v dnxhd -profile:v dnxhr_sq -pix_fmt yuv422p" },
           CodecKind{ "pal.dv", "dvvideo", "-vf scale=720:576 -c:v dvvideo -pix_fmt yuv420p" },
           CodecKind{ "pal.mov", "dvvideo", "-vf scale=720:576 -c:v dvvideo -pix_fmt yuv420p" },
           CodecKind{ "sixteen.mkv", "ffv1", "-c:v ffv1 -level 3 -g 1 -slices 4 -pix_fmt yuv444p16" },
           CodecKind{ "rgb16.mkv", "ffv1", "-c:v ffv1 -level 3 -g 1 -pix_fmt gbrp16" },
           CodecKind{ "v210.mov", "v210", "-vf scale=192:144 -c:v v210" },
           CodecKind{ "jp2.mxf", "jpeg2000", "-c:v jpeg2000 -q:v 2" }, CodecKind{ "png.mov", "png", "-c:v png" } })
        if (hasEncoder (kind.encoder))
            checkExact (encode (folder, kind.name, kind.options, "25", 60), 60);
        else
            WARN (kind.encoder << " is not here; skipped");
}

TEST_CASE ("interlaced pictures coded in frames show every frame exactly")
{
    TestFolder folder;
    checkExact (encode (folder, "mbaff.ts", "-c:v libx264 -flags +ildct+ilme -x264-params interlaced=1 -g 30 -bf 2"), 100);
    checkExact (encode (folder, "mbaff.mkv", "-c:v libx264 -flags +ildct+ilme -x264-params tff=1 -g 30 -bf 2"), 100);
    checkExact (encode (folder, "fields.mxf", "-c:v mpeg2video -flags +ildct+ilme -g 12 -bf 2 -q:v 3"), 100);
}

TEST_CASE ("pairs of field pictures are frames, and their rate is the frames' (B18)")
{
    TestFolder folder;
    const auto bare = folder.path ("fields.264");
    writeBytes (bare, fieldCoded (bytesOf (rawPictures (folder, 60)), 60, 12));
    for (const auto& path : { bare, remake (folder, bare, "fields.ts", "-r 50 -fflags +genpts", "-c copy"),
                              remake (folder, bare, "fields.mp4", "-r 50 -fflags +genpts", "-c copy") })
    {
        INFO (path);
        const auto index = media::readFrameIndex (path);
        REQUIRE (index);
        CHECK (index->packets.size() == 120);
        CHECK (index->size() == 60);
        const auto info = media::openFilm (path);
        REQUIRE (info);
        CHECK (info->rate == Rational (25));
        checkExact (path, 60);
    }
}

TEST_CASE ("a film whose rate changes half-way shows every frame exactly")
{
    TestFolder folder;
    const auto list = folder.path ("list.txt");
    std::string lines;
    std::vector<int> numbers;
    for (const auto& [name, rate] : { std::pair ("one", "25"), std::pair ("two", "30000/1001"), std::pair ("three", "18") })
    {
        const auto part =
            encode (folder, std::string (name) + ".mp4", "-c:v libx264 -g 20 -bf 2 -video_track_timescale 90000", rate, 40);
        lines += "file '" + part + "'\n";
        for (int k = 0; k < 40; ++k)
            numbers.push_back (k);
    }
    writeBytes (list, lines);
    for (const char* name : { "mixed.mkv", "mixed.mp4", "mixed.ts" })
    {
        const auto film = folder.path (name);
        run ("ffmpeg -nostdin -y -v error -f concat -safe 0 -i " + quoted (list) + " -c copy " + quoted (film));
        const auto info = media::openFilm (film);
        REQUIRE (info);
        CHECK (info->variableRate);
        CHECK_FALSE (info->warnings.empty());
        checkExact (film, 120, numbers);
    }
}

TEST_CASE ("edit lists that cut head and tail show what is left, exactly")
{
    TestFolder folder;
    const auto film = encode (folder, "whole.mp4", "-c:v libx264 -g 30 -bf 2", "24");
    // Cut in the middle of a group, before a B-frame, and of intra pictures.
    std::vector<int> numbers;
    for (int k = 20; k < 100; ++k)
        numbers.push_back (k);
    checkExact (remake (folder, film, "head.mov", "-ss 0.833", "-c copy"), 80, numbers);
    const auto intra = encode (folder, "intra.mov", "-c:v mjpeg -q:v 3", "24");
    numbers.clear();
    for (int k = 12; k < 100; ++k)
        numbers.push_back (k);
    checkExact (remake (folder, intra, "intra-cut.mov", "-ss 0.5", "-c copy"), 88, numbers);
}

TEST_CASE ("timestamps with gaps and late starts leave every frame in its place")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 25 -bf 2");
    checkExact (remake (folder, film, "late.ts", "", "-c copy -output_ts_offset 3600"), 100);
    checkExact (remake (folder, film, "late.mkv", "", "-c copy -output_ts_offset 7.3 -avoid_negative_ts disabled"), 100);
    // Every seventh picture left out before encoding: the rest is counted as it comes.
    std::vector<int> numbers;
    for (int k = 0; k < 100; ++k)
        if (k % 7 != 3)
            numbers.push_back (k);
    checkExact (encode (folder, "gaps.mp4", "-vf \"select='not(eq(mod(n,7),3))'\" -vsync vfr -c:v libx264 -g 30 -bf 2"),
                static_cast<std::int64_t> (numbers.size()), numbers);
    // In a program stream only some pictures have a timestamp of their own.
    checkExact (encode (folder, "few.mpg", "-c:v mpeg2video -g 12 -bf 2 -q:v 3 -f mpeg"), 100);
}

TEST_CASE ("reel names are read where a file has one")
{
    TestFolder folder;
    for (const auto& [name, options] :
         { std::pair ("r.mov", "-c:v libx264 -timecode 01:00:00:00 -metadata:s:v reel_name=NR7 -metadata reel_name=NR7"),
           std::pair ("r.mxf",
                      "-c:v mpeg2video -q:v 3 -timecode 01:00:00:00 -metadata reel_name=NR7 -metadata:s:v reel_name=NR7") })
    {
        const auto info = media::openFilm (encode (folder, name, options, "25", 10));
        REQUIRE (info);
        INFO (name);
        CHECK (info->reelName == "NR7");
        CHECK (info->startLabel == "01:00:00:00");
    }
    CHECK (media::openFilm (encode (folder, "none.mp4", "-c:v libx264", "25", 5))->reelName.empty());
}
