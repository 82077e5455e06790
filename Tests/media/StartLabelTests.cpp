#include "media/StartLabel.h"

#include "Catch.h"
#include "media/FilmFile.h"
#include "media/NumberedFilm.h"
#include "media/Opened.h"

using namespace shutterbeat;
using namespace shutterbeat::tests;
using media::labelOfTag;
using media::labelOfTrack;
using time::Rational;

namespace
{
bool says (const std::vector<std::string>& warnings, const std::string& what)
{
    for (const auto& warning : warnings)
        if (warning.find (what) != std::string::npos)
            return true;
    return false;
}
} // namespace

TEST_CASE ("a timecode track counts at its own rate (B09)")
{
    // 30 labels a second, drop-frame, over pictures at 59.94.
    const auto label = labelOfTrack ({ 107892, 1, 30000, 1001, 30 }, ratio (60000, 1001));
    CHECK (label.text == "01:00:00;00");
    CHECK (label.rate == time::Rate{ ratio (30000, 1001), true });
    CHECK (label.frame == 215784);
    CHECK (label.warnings.empty());

    const auto film = labelOfTrack ({ 86400, 0, 24000, 1001, 24 }, ratio (24000, 1001));
    CHECK (film.text == "01:00:00:00");
    CHECK (film.frame == 86400);
    // A clock in hundredths means the rate it is nearest to.
    CHECK (labelOfTrack ({ 86400, 0, 2398, 100, 24 }, ratio (24000, 1001)).rate.perSecond == ratio (24000, 1001));
    // 18 labels a second is no standard timecode, but a label all the same.
    CHECK (labelOfTrack ({ 64800, 0, 18, 1, 18 }, Rational (18)).text == "01:00:00:00");
    CHECK (labelOfTrack ({ 1, 0, 0, 0, 0 }, Rational (25)).text.empty());
}

TEST_CASE ("a drop flag where there is no drop-frame is left out of account and said (B03)")
{
    const auto label = labelOfTrack ({ 1693440, 1, 24, 1, 24 }, Rational (24));
    CHECK (label.text == "19:36:00:00");
    CHECK (label.frame == 1693440);
    CHECK_FALSE (label.rate.dropFrame);
    CHECK (says (label.warnings, "non-drop"));

    // On true 30/1 a semicolon counts as it was written.
    const auto tag = labelOfTag ("10:11:12;13", Rational (30));
    CHECK (tag.text == "10:11:12;13");
    CHECK (tag.frame == 1099073);
    CHECK (says (tag.warnings, "as it is written"));
    const auto track = labelOfTrack ({ 1099073, 1, 30, 1, 30 }, Rational (30));
    CHECK (track.text == "10:11:12;13");
    CHECK (track.frame == 1099073);
    CHECK (says (track.warnings, "as it is written"));
    CHECK (labelOfTag ("19:36:00;00", Rational (24)).text == "19:36:00:00");
}

TEST_CASE ("text labels are counted at the picture's rate, and nonsense is left aside")
{
    CHECK (labelOfTag ("01:00:00;00", ratio (30000, 1001)).frame == 107892);
    CHECK (labelOfTag ("01:00:00.00", ratio (30000, 1001)).rate.dropFrame);
    CHECK (labelOfTag ("01:00:00:00", ratio (24000, 1001)).frame == 86400);
    for (const char* nonsense : { "hello", "99:99:99:99", "01:00:00:30", "" })
    {
        const auto label = labelOfTag (nonsense, Rational (25));
        CHECK (label.text.empty());
        CHECK (label.frame == 0);
        CHECK (label.warnings.size() == 1);
    }
    CHECK (labelOfTag ("01:00:00:00", Rational (18)).text.empty());
}

TEST_CASE ("start timecode is read from MOV, MP4 and MXF")
{
    TestFolder folder;
    for (const char* name : { "t.mov", "t.mp4" })
    {
        const auto info = opened (encode (folder, name, "-c:v libx264 -bf 2 -timecode 01:00:00:00", "25", 20));
        CHECK (info.startLabel == "01:00:00:00");
        CHECK (info.startRate == time::Rate{ Rational (25), false });
        CHECK (info.startFrame == 90000);
        CHECK (info.warnings.empty());
    }
    const auto drop = opened (encode (folder, "d.mov", "-c:v mjpeg -timecode '01:00:00;00'", "30000/1001", 20));
    CHECK (drop.startLabel == "01:00:00;00");
    CHECK (drop.startFrame == 107892);
    CHECK (drop.startRate.dropFrame);

    // Five mono sound tracks, whose clock must not count the timecode (B09).
    std::string sounds;
    std::string maps = " -map 0:v";
    for (int i = 1; i <= 5; ++i)
    {
        sounds += " -f lavfi -t 0.8 -i sine=r=48000";
        maps += " -map " + std::to_string (i) + ":a";
    }
    const auto mxf = opened (encode (
        folder, "t.mxf", sounds + maps + " -c:v mpeg2video -c:a pcm_s16le -ar 48000 -timecode 01:00:00:00", "24000/1001", 20));
    CHECK (mxf.startLabel == "01:00:00:00");
    CHECK (mxf.startFrame == 86400);
    CHECK (mxf.hasSound);
    CHECK (opened (encode (folder, "none.mp4", "-c:v libx264", "25", 5)).startLabel.empty());
}

TEST_CASE ("a drop flag patched into a 24 fps MOV does not lose the timecode (B03)")
{
    TestFolder folder;
    const auto path = encode (folder, "t.mov", "-c:v mjpeg -timecode 19:36:00:00", "24", 10);
    auto bytes = bytesOf (path);
    // Sample description: size, 'tmcd', 6 reserved bytes, data reference, 4 reserved bytes, then the flags.
    std::size_t patched = 0;
    for (auto at = bytes.find ("stsd"); at != std::string::npos; at = bytes.find ("stsd", at + 4))
        if (bytes.compare (at + 16, 4, "tmcd") == 0)
        {
            const auto flags = at + 16 + 4 + 8 + 4;
            CHECK (bytes.substr (flags, 3) == std::string (3, '\0'));
            bytes[flags + 3] = static_cast<char> (bytes[flags + 3] | 1);
            ++patched;
        }
    REQUIRE (patched == 1);
    writeBytes (path, bytes);
    const auto info = opened (path);
    CHECK (info.startLabel == "19:36:00:00");
    CHECK (info.startFrame == 1693440);
    CHECK (says (info.warnings, "non-drop"));
}
