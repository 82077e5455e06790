#include "media/NumberedFilm.h"

#include "Catch.h"

#include <set>
#include <tuple>

using namespace shutterbeat;
using namespace shutterbeat::tests;

namespace
{
/// Every frame shows the picture that was put there, in order, backward and by jumps.
void checkExact (const std::string& path, int firstNumber, std::int64_t frames, int jumps = 100)
{
    INFO (path);
    const auto straight = inOrder (path);
    REQUIRE (static_cast<std::int64_t> (straight.size()) == frames);
    for (std::int64_t k = 0; k < frames; ++k)
    {
        const auto& seen = straight[static_cast<std::size_t> (k)];
        if (seen.number != firstNumber + k || seen.damaged)
            FAIL ("frame " << k << " shows " << seen.number << (seen.damaged ? ", damaged" : ""));
    }
    CHECK (compareWays (path, straight, jumps) == "");
}

struct Kind
{
    const char* name;
    const char* encoder;
    const char* options;
};
} // namespace

TEST_CASE ("H.264 with long groups and B-frames shows every frame exactly")
{
    TestFolder folder;
    const auto film = encode (folder, "a.mp4", "-c:v libx264 -g 250 -bf 2");
    checkExact (film, 0, 100);
    checkExact (remake (folder, film, "a.mkv", "", "-c copy"), 0, 100);
    checkExact (remake (folder, film, "a.ts", "", "-c copy"), 0, 100);
    checkExact (encode (folder, "short.ts", "-c:v libx264 -g 20 -bf 3 -x264-params b-pyramid=normal"), 0, 100);
    checkExact (encode (folder, "open.ts", "-c:v libx264 -x264-params open-gop=1:keyint=24:bframes=3"), 0, 100);
    checkExact (encode (folder, "refresh.mkv", "-c:v libx264 -x264-params intra-refresh=1:keyint=24"), 0, 100);
    checkExact (encode (folder, "fragments.mp4", "-c:v libx264 -g 20 -bf 2 -movflags frag_keyframe+empty_moov"), 0, 100);
}

TEST_CASE ("H.265 shows every frame exactly")
{
    if (! hasEncoder ("libx265"))
    {
        WARN ("no H.265 encoder here; skipped");
        return;
    }
    TestFolder folder;
    const std::string options = "-c:v libx265 -x265-params log-level=none:open-gop=1:keyint=24:bframes=3";
    checkExact (encode (folder, "a.mp4", options), 0, 100, 40);
    checkExact (encode (folder, "a.ts", options), 0, 100, 40);
}

TEST_CASE ("open-GOP MPEG-2 shows every frame exactly in transport and program streams")
{
    TestFolder folder;
    const std::string options = "-c:v mpeg2video -g 12 -bf 2 -q:v 3 ";
    checkExact (encode (folder, "a.ts", options), 0, 100, 40);
    checkExact (encode (folder, "a.mpg", options + "-f vob"), 0, 100);
    checkExact (encode (folder, "fields.mpg", options + "-flags +ildct+ilme -f vob"), 0, 100);
    checkExact (encode (folder, "one.mpg", "-c:v mpeg1video -g 12 -bf 2 -q:v 3 -f mpeg"), 0, 100);
    checkExact (encode (folder, "a.mxf", options), 0, 100, 40);
}

TEST_CASE ("intra-only codecs show every frame exactly")
{
    TestFolder folder;
    for (const Kind& kind :
         { Kind{ "m.mov", "mjpeg", "-c:v mjpeg -q:v 3" }, Kind{ "m.avi", "mjpeg", "-c:v mjpeg -q:v 3" },
           Kind{ "f.mkv", "ffv1", "-c:v ffv1 -g 1" }, Kind{ "f10.mkv", "ffv1", "-c:v ffv1 -g 10 -pix_fmt yuv422p10" },
           Kind{ "f16.mkv", "ffv1", "-c:v ffv1 -g 1 -pix_fmt gray16le" }, Kind{ "rgb.mkv", "ffv1", "-c:v ffv1 -g 1 -pix_fmt bgr0" },
           Kind{ "p.mov", "prores_ks", "-c:v prores_ks" }, Kind{ "raw.avi", "rawvideo", "-c:v rawvideo" } })
    {
        if (hasEncoder (kind.encoder))
            checkExact (encode (folder, kind.name, kind.options), 0, 100, 40);
        else
            WARN (kind.encoder << " is not here; skipped");
    }
}

TEST_CASE ("files without timestamps of presentation show every frame in the decoder's order")
{
    TestFolder folder;
    const auto stream = encode (folder, "bare.264", "-c:v libx264 -g 30 -bf 3");
    checkExact (stream, 0, 100);
    checkExact (encode (folder, "b.avi", "-c:v libx264 -g 30 -bf 2"), 0, 100);
    checkExact (encode (folder, "four.avi", "-c:v mpeg4 -g 30 -bf 2 -q:v 3"), 0, 100);
    checkExact (encode (folder, "bare.m2v", "-c:v mpeg2video -g 12 -bf 2 -q:v 3"), 0, 100);
    // Twice as many places as pictures: what lies between is empty and no picture.
    const auto gaps = remake (folder, stream, "gaps.avi", "", "-c copy");
    checkExact (gaps, 0, 100);
}

TEST_CASE ("other containers and codecs show every frame exactly")
{
    TestFolder folder;
    checkExact (encode (folder, "b.flv", "-c:v libx264 -g 30 -bf 2"), 0, 100);
    for (const Kind& kind : { Kind{ "8.webm", "libvpx", "-c:v libvpx -b:v 1M -auto-alt-ref 1 -lag-in-frames 16" },
                              Kind{ "9.webm", "libvpx-vp9", "-c:v libvpx-vp9 -b:v 1M -cpu-used 8 -auto-alt-ref 1" } })
        if (hasEncoder (kind.encoder))
            checkExact (encode (folder, kind.name, kind.options), 0, 100, 40);
}

TEST_CASE ("an edit list hides pictures: 68 of 100 are presented (B17)")
{
    TestFolder folder;
    const auto film = encode (folder, "last100.mp4", "-c:v libx264 -bf 2", "24");
    const auto trimmed = remake (folder, film, "trim.mp4", "-ss 1.3", "-c copy");
    checkExact (trimmed, 32, 68);
}

TEST_CASE ("a cut in front of an open group leaves undecodable pictures out and says so (B15)")
{
    TestFolder folder;
    const auto whole = encode (folder, "whole.ts", "-c:v mpeg2video -g 12 -bf 2 -q:v 3");
    const auto cut = remake (folder, whole, "cut.ts", "-ss 0.9", "-c copy");
    // 74 packets in the case that was seen; here they are counted.
    const auto index = media::readFrameIndex (cut);
    REQUIRE (index);
    const auto packets = static_cast<std::int64_t> (index->packets.size());
    CHECK (index->undecodable == 2);
    checkExact (cut, static_cast<int> (100 - (packets - 2)), packets - 2);
    const auto info = media::openFilm (cut);
    REQUIRE (info);
    CHECK (contains (info->warnings.back(), "2 pictures at its head"));
}

TEST_CASE ("joined transport streams whose clock runs back keep their order")
{
    TestFolder folder;
    const auto film = encode (folder, "a.ts", "-c:v mpeg2video -g 12 -bf 2 -q:v 3", "25", 50);
    const auto joined = folder.path ("joined.ts");
    writeBytes (joined, bytesOf (film) + bytesOf (film));
    const auto straight = inOrder (joined);
    REQUIRE (straight.size() >= 98);
    for (int k = 0; k < 50; ++k)
        CHECK (straight[static_cast<std::size_t> (k)].number == k);
    CHECK (straight.back().number == 49);
    CHECK (compareWays (joined, straight, 40) == "");
}

TEST_CASE ("files with uneven steps show every frame")
{
    TestFolder folder;
    const auto film = encode (folder, "v.mkv", "-vf \"select='not(eq(mod(n,7),3))'\" -vsync vfr -c:v libx264 -bf 2", "24");
    const auto straight = inOrder (film);
    REQUIRE (straight.size() == 86);
    int expected = 0;
    for (const auto& seen : straight)
    {
        CHECK (seen.number == expected);
        ++expected;
        if (expected % 7 == 3)
            ++expected;
    }
    CHECK (compareWays (film, straight) == "");
}

TEST_CASE ("a reader that is told which frames will be asked for decodes less and shows the same ones")
{
    TestFolder folder;
    const std::set<std::int64_t> some{ 3, 4, 17, 40, 41, 42, 77, 99 };
    for (const auto& [name, options, less] :
         { std::tuple ("p.mp4", "-c:v libx264 -g 250 -bf 3 -x264-params b-adapt=0:scenecut=0", true),
           std::tuple ("p.ts", "-c:v libx264 -g 250 -bf 3 -x264-params b-adapt=0:scenecut=0", true),
           std::tuple ("pyramid.mkv", "-c:v libx264 -g 20 -bf 3 -x264-params b-adapt=0:b-pyramid=normal", true),
           std::tuple ("open.mp4", "-c:v libx264 -x264-params open-gop=1:keyint=24:bframes=3:b-adapt=0", true),
           std::tuple ("fields.mkv", "-c:v libx264 -flags +ildct+ilme -bf 2 -x264-params tff=1", false),
           std::tuple ("two.mpg", "-c:v mpeg2video -g 12 -bf 2 -q:v 3 -f vob", false),
           std::tuple ("j.mov", "-c:v mjpeg -q:v 3", false) })
    {
        INFO (name);
        const auto film = encode (folder, name, options);
        const auto straight = inOrder (film);
        REQUIRE (straight.size() == 100);
        auto all = media::FrameReader::open (film);
        auto told = media::FrameReader::open (film, std::size_t (1) << 20);
        REQUIRE ((all && told));
        (*told)->onlyThese (some);
        for (const auto k : some)
        {
            CHECK (look (**told, k) == straight[static_cast<std::size_t> (k)]);
            look (**all, k);
        }
        if (less)
            CHECK ((*told)->decodedSoFar() * 4 < (*all)->decodedSoFar() * 3);
        // Whatever is asked for all the same, in any order.
        for (const std::int64_t k : { 5, 18, 2, 98, 41, 0, 43, 44, 45, 10, 99, 60 })
            CHECK (look (**told, k) == straight[static_cast<std::size_t> (k)]);
        (*told)->onlyThese ({});
        for (std::int64_t k = 0; k < 100; ++k)
            if (look (**told, k) != straight[static_cast<std::size_t> (k)])
                FAIL ("frame " << k << " differs");
    }
}

TEST_CASE ("stepping back through a long group decodes it about once")
{
    TestFolder folder;
    const auto film = encode (folder, "long.mp4", "-c:v libx264 -g 250 -bf 2", "25", 250);
    auto reader = media::FrameReader::open (film);
    REQUIRE (reader);
    for (std::int64_t k = 249; k >= 0; --k)
        CHECK (look (**reader, k).number == k);
    CHECK ((*reader)->decodedSoFar() <= 300);
}

TEST_CASE ("colour pictures come in any size, and wrong wishes are refused")
{
    TestFolder folder;
    const auto film = encode (folder, "c.mkv", "-vf format=yuv420p,drawbox=c=red:t=fill -c:v ffv1", "25", 3);
    auto reader = media::FrameReader::open (film);
    REQUIRE (reader);
    const auto own = (*reader)->frame (1);
    REQUIRE (own);
    CHECK (own->width == 160);
    CHECK (own->height == 120);
    REQUIRE (own->rgb.size() == 160U * 120U * 3U);
    for (const auto& [width, height] : { std::pair (161, 77), std::pair (1, 1), std::pair (640, 481) })
    {
        const auto picture = (*reader)->frame (2, width, height);
        REQUIRE (picture);
        REQUIRE (picture->rgb.size() == static_cast<std::size_t> (width) * static_cast<std::size_t> (height) * 3);
        CHECK (picture->rgb[0] > 240);
        CHECK (picture->rgb[1] < 15);
        CHECK (picture->rgb[2] < 15);
    }
    for (const std::int64_t k : { -1, 3 })
    {
        const auto none = (*reader)->frame (k);
        REQUIRE_FALSE (none);
        CHECK (none.error().code == ErrorCode::usage);
        CHECK (contains (none.error().message, "0 to 2"));
    }
    CHECK_FALSE ((*reader)->frame (0, -5, 10));
    CHECK_FALSE ((*reader)->frame (0, 100000, 10));
    CHECK_FALSE ((*reader)->greyFrame (0, 10, 0));
}
