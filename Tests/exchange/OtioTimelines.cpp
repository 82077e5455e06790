#include "exchange/SampleBook.h"

#include "exchange/OtioFile.h"
#include "exchange/OtioRead.h"
#include "exchange/PictureList.h"

#include <filesystem>
#include <fstream>

using namespace shutterbeat;
using time::Rational;

namespace
{
exchange::OtioTimeline timelineOf (const std::string& text)
{
    auto timeline = exchange::readOtio (text);
    if (! timeline)
        FAIL (timeline.error().text());
    return std::move (*timeline);
}

std::string moment (const std::string& value, const std::string& rate = "24")
{
    return R"({"OTIO_SCHEMA":"RationalTime.1","rate":)" + rate + R"(,"value":)" + value + "}";
}

std::string range (const std::string& start, const std::string& duration, const std::string& rate = "24")
{
    return R"({"OTIO_SCHEMA":"TimeRange.1","start_time":)" + moment (start, rate) + R"(,"duration":)" + moment (duration, rate)
           + "}";
}

std::string marker (const std::string& name, const std::string& at, const std::string& rate = "24")
{
    return R"({"OTIO_SCHEMA":"Marker.2","name":")" + name + R"(","color":"RED","metadata":{},"marked_range":)"
           + range (at, "0", rate) + "}";
}

std::string item (const std::string& schema, const std::string& name, const std::string& sourceRange, const std::string& markers,
                  const std::string& more = "")
{
    return R"({"OTIO_SCHEMA":")" + schema + R"(","name":")" + name + R"(","effects":[],"metadata":{},"markers":[)" + markers
           + R"(],"source_range":)" + (sourceRange.empty() ? "null" : sourceRange) + (more.empty() ? "" : "," + more) + "}";
}

std::string timeline (const std::string& tracks)
{
    return R"({"OTIO_SCHEMA":"Timeline.1","name":"T","global_start_time":null,"metadata":{},"tracks":)" + tracks + "}";
}

/// The nested example of CASES B32.
std::string nested()
{
    const auto clip =
        item ("Clip.2", "clip", range ("86400", "120"), marker ("on clip", "86460") + "," + marker ("trimmed", "86405"));
    const auto inner = item ("Track.1", "inner", "", "", R"("kind":"Video","children":[)" + clip + "]");
    const auto stack = item ("Stack.1", "stack", range ("10", "96"), marker ("on stack", "30"), R"("children":[)" + inner + "]");
    const auto gap = item ("Gap.1", "", range ("0", "48"), "");
    const auto track =
        item ("Track.1", "track", "", marker ("on track", "60"), R"("kind":"Video","children":[)" + gap + "," + stack + "]");
    return timeline (item ("Stack.1", "tracks", "", "", R"("children":[)" + track + "]"));
}

const exchange::OtioMarker& named (const exchange::OtioTimeline& timeline, const std::string& name)
{
    const auto found =
        std::find_if (timeline.markers.begin(), timeline.markers.end(), [&] (const auto& m) { return m.name == name; });
    REQUIRE (found != timeline.markers.end());
    return *found;
}
} // namespace

TEST_CASE ("B32: markers on nested and trimmed items lie where they are seen")
{
    const auto found = timelineOf (nested());
    CHECK (found.frameOf (named (found, "on clip").start) == 98);
    CHECK (found.frameOf (named (found, "on stack").start) == 68);
    CHECK (found.frameOf (named (found, "on track").start) == 60);
    for (const char* name : { "on clip", "on stack", "on track" })
        CHECK_FALSE (named (found, name).outside);
    CHECK (named (found, "trimmed").outside);
    REQUIRE (found.clips.size() == 1);
    CHECK (found.frameOf (found.clips[0].start) == 48);
    CHECK (found.frameOf (found.clips[0].duration) == 96);
    CHECK (found.frameOf (found.clips[0].sourceStart) == 86410);
    CHECK (found.notes.empty());
}

TEST_CASE ("B33: rates of every spelling, values just off, and what is not known")
{
    for (const char* rate : { "23.976", "23.98", "23.976024627685547", "23.976023976" })
    {
        const auto clip = item ("Clip.2", "c", range ("30.0000001", "10", rate), "", R"("x":[{"OTIO_SCHEMA":"Foo.7"}])");
        auto text = timeline (
            item ("Stack.1", "tracks", "", "",
                  R"("children":[)" + item ("Track.1", "t", "", "", R"("kind":"Video","children":[)" + clip + "]") + "]"));
        text.replace (text.find (R"("effects":[],"metadata":{},"markers":[],"source_range":{)"), 12,
                      R"("effects":[{"OTIO_SCHEMA":"Foo.7"}])");
        const auto found = timelineOf (text);
        CHECK (found.rate.perSecond == Rational (24000, 1001));
        REQUIRE (found.clips.size() == 1);
        CHECK (found.clips[0].sourceStart * found.rate.perSecond == Rational (30));
        REQUIRE (found.notes.size() == 1);
        CHECK (found.notes[0].find ("Foo.7") != std::string::npos);
    }
    CHECK (*exchange::rateFromNumber (25.0) == Rational (25));
    CHECK (*exchange::rateFromNumber (29.97) == Rational (30000, 1001));
    CHECK (*exchange::rateFromNumber (18.5) == Rational (37, 2));
    CHECK_FALSE (exchange::rateFromNumber (0).ok());
    CHECK_FALSE (exchange::rateFromNumber (-24).ok());
}

TEST_CASE ("a timeline of ours holds every shot, hit and cue")
{
    for (const char* rate : { "23.976", "24", "25", "29.97df", "60" })
    {
        const auto times = tests::timed (tests::comedy (rate));
        const auto written = exchange::writeOtio (times, { "The Runaway Ladder", "2026-05-01" });
        REQUIRE (written.ok());
        REQUIRE (written->parts.size() == 1);
        const auto found = timelineOf (written->parts[0].bytes);
        CHECK (found.name == "The Runaway Ladder");
        CHECK (found.rate.perSecond == times.timings.delivery().rate.perSecond);
        CHECK (*found.globalStart * found.rate.perSecond == Rational (times.timings.startCount()));
        CHECK (found.notes.empty());
        REQUIRE (found.clips.size() == times.timings.edition().shots.size());
        for (std::size_t i = 0; i < found.clips.size(); ++i)
            CHECK (found.frameOf (found.clips[i].start) == times.timings.times (times.timings.shotHead (i)).delivered);
        std::size_t hits = 0, cues = 0;
        for (const auto& mark : found.markers)
        {
            CHECK_FALSE (mark.outside);
            if (mark.ours.contains ("hit"))
            {
                const auto row = std::find_if (times.hits.begin(), times.hits.end(),
                                               [&] (const auto& h) { return h.hit.id == mark.ours.at ("hit"); });
                REQUIRE (row != times.hits.end());
                CHECK (found.frameOf (mark.start) == row->at->delivered);
                CHECK (mark.ours.at ("kind") == spotting::hitKindName (row->hit.kind));
                ++hits;
            }
            else
            {
                const auto row = std::find_if (times.cues.begin(), times.cues.end(),
                                               [&] (const auto& c) { return c.cue.id == mark.ours.at ("cue"); });
                REQUIRE (row != times.cues.end());
                CHECK (found.frameOf (mark.start) == row->in->delivered);
                CHECK (found.frameOf (mark.start + mark.duration) == row->out->delivered);
                ++cues;
            }
        }
        CHECK (hits == 19);
        CHECK (cues == 3);
        CHECK (written->parts[0].bytes.find ("The cut scene") != std::string::npos); // lost, and said
    }
}

TEST_CASE ("timelines of other programs, of older and newer schemas")
{
    const std::string folder = tests::testData ("data/interchange/otio");
    if (! std::filesystem::exists (folder))
    {
        WARN ("skipped: the shared timelines are not there");
        return;
    }
    const auto load = [&] (const std::string& name)
    {
        std::ifstream file (folder + "/" + name, std::ios::binary);
        return timelineOf ({ std::istreambuf_iterator<char> (file), {} });
    };
    {
        const auto found = load ("screening_example.otio");
        CHECK (found.rate.perSecond == Rational (24));
        REQUIRE (found.clips.size() == 9);
        CHECK (found.clips[0].name == "ZZ100_501 (LAY3)");
        // The track's own range begins at -86243, which would hide all of it: it is read without, and said.
        CHECK (found.frameOf (found.clips[0].start) == 0);
        CHECK (found.notes.size() == 1);
        CHECK (found.markers.size() >= 3);
        CHECK (found.markers[0].colour == "RED");
    }
    {
        const auto found = load ("nested_example.otio");
        CHECK (found.frameOf (found.clips[0].start) == 0);
        REQUIRE (found.clips.size() == 7);
        CHECK (found.clips[1].name == "Clip Inside A Stack 1");
        CHECK (found.frameOf (found.clips[1].start) == 238);
        CHECK (found.frameOf (found.clips[1].duration) == 31);
        CHECK (found.frameOf (found.clips[2].start) == 238 + 31);
    }
    {
        const auto found = load ("multitrack.otio");
        std::size_t tracks = 0;
        for (const auto& clip : found.clips)
            tracks = std::max (tracks, clip.track + 1);
        CHECK (tracks >= 2);
    }
    for (const auto& entry : std::filesystem::directory_iterator (folder))
    {
        INFO (entry.path().string());
        std::ifstream file (entry.path(), std::ios::binary);
        const auto found = exchange::readOtio (std::string{ std::istreambuf_iterator<char> (file), {} });
        const bool isTimeline = entry.path().extension() == ".otio";
        CHECK (found.ok() == isTimeline);
    }
}

TEST_CASE ("where several video tracks have a picture, the upper one is seen")
{
    CHECK_PROPERTY (
        "frame by frame",
        []
        {
            // Painted from the bottom up, a frame at a time.
            std::vector<std::string> wanted;
            std::string tracks;
            const auto count = *rc::gen::inRange (1, 5);
            for (int track = 0; track < count; ++track)
            {
                std::string items;
                std::size_t at = 0;
                const auto pieces = *rc::gen::inRange (1, 7);
                for (int i = 0; i < pieces; ++i)
                {
                    const auto length = static_cast<std::size_t> (*rc::gen::inRange (1, 6));
                    const bool gap = *rc::gen::arbitrary<bool>();
                    const auto name = std::to_string (track) + "." + std::to_string (i);
                    items += (i > 0 ? "," : "") + item (gap ? "Gap.1" : "Clip.2", name, range ("0", std::to_string (length)), "");
                    wanted.resize (std::max (wanted.size(), gap ? 0 : at + length));
                    for (std::size_t k = at; k < at + length && ! gap; ++k)
                        wanted[k] = name;
                    at += length;
                }
                tracks += (track > 0 ? "," : "")
                          + item ("Track.1", std::to_string (track), "", "", R"("kind":"Video","children":[)" + items + "]");
            }
            const auto list = exchange::readPictureList (
                timeline (item ("Stack.1", "tracks", "", "", R"("children":[)" + tracks + "]")), { 24, false });
            RC_ASSERT (list.ok() == ! wanted.empty());
            std::vector<std::string> seen;
            std::string before = "none";
            for (const auto& stretch : list.ok() ? list->stretches : std::vector<exchange::PictureStretch>())
            {
                RC_ASSERT (stretch.start == static_cast<std::int64_t> (seen.size()));
                RC_ASSERT ((stretch.kind == exchange::PictureStretch::Kind::hole) == stretch.clip.empty());
                RC_ASSERT (stretch.clip != before);
                before = stretch.clip;
                seen.resize (seen.size() + static_cast<std::size_t> (stretch.length), stretch.clip);
            }
            RC_ASSERT (seen == wanted);
        });
}

TEST_CASE ("times of too many odd rates to be told exactly are left out and said")
{
    std::string items;
    for (const char* rate : { "23.000393", "24.500009", "25.400047", "26.300011", "27.700019", "28.600039", "29.300017",
                              "31.100053", "32.200031", "33.400021" })
        items += (items.empty() ? "" : ",") + item ("Clip.2", rate, range ("0", "7", rate), marker ("m", "1", rate));
    const auto track = item ("Track.1", "V", "", "", R"("kind":"Video","children":[)" + items + "]");
    const auto found = timelineOf (timeline (item ("Stack.1", "tracks", "", "", R"("children":[)" + track + "]")));
    CHECK (found.clips.size() < 10);
    for (const auto& clip : found.clips)
        CHECK (clip.duration.valid());
    REQUIRE_FALSE (found.notes.empty());
    CHECK (found.notes.back().find ("left out") != std::string::npos);
}

TEST_CASE ("what is no timeline is refused in words, and never crashes")
{
    for (const std::string text : { "", "{}", "[]", "null", "{\"OTIO_SCHEMA\":\"Timeline.1\"}", "{\"OTIO_SCHEMA\":7}" })
        CHECK_FALSE (exchange::readOtio (text).ok());
    std::string deep;
    for (int i = 0; i < 500; ++i)
        deep += R"({"OTIO_SCHEMA":"Stack.1","source_range":)" + range ("0", "5") + R"(,"children":[)";
    for (int i = 0; i < 500; ++i)
        deep += "]}";
    const auto found = exchange::readOtio (deep);
    REQUIRE (found.ok());
    CHECK (found->notes.size() == 1);
    const auto whole = nested();
    CHECK_PROPERTY (
        [&] (std::size_t at, char with)
        {
            auto text = whole;
            text[at % text.size()] = with;
            const auto read = exchange::readOtio (text);
            return read.ok() || ! read.error().text().empty();
        });
}
