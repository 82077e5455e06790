#include "desk/RenderBench.h"
#include "desk/RenderPlan.h"

#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
std::string probe (const std::string& movie, const std::string& what)
{
    return printed ("ffprobe -v error -of default=nw=1:nk=1 " + what + " " + quoted (movie));
}

/// The first channel as the movie plays it.
std::vector<float> soundOf (const TestFolder& folder, const std::string& movie)
{
    const auto raw = folder.path ("sound.f32");
    run ("ffmpeg -nostdin -y -v error -i " + quoted (movie) + " -map 0:a -f f32le -af 'pan=mono|c0=c0' " + quoted (raw));
    const auto bytes = bytesOf (raw);
    std::vector<float> samples (bytes.size() / sizeof (float));
    std::memcpy (samples.data(), bytes.data(), samples.size() * sizeof (float));
    return samples;
}

desk::OpenBook shortBook (const TestFolder& folder, const std::string& rate, const std::string& fill = "true")
{
    static const TestFolder kept;
    static const std::string film = numberedFilm (kept, 60);
    return bookOf (folder, film, { filmShot ("a", 0, 54, 18) }, rate, fill);
}
} // namespace

TEST_CASE ("WORKED F and G rendered: the label of the first frame, picture start and pops")
{
    const TestFolder folder;
    struct Row
    {
        const char* rate;
        const char* fill;
        const char* label; ///< picture start less ten seconds of labels
        std::int64_t leader, pop, picture;
        const char* counted; ///< rate as ffprobe says it
    };
    // 54 film frames at 18 are 3 s.
    for (const auto& row :
         { Row{ "24", "true", "00:59:50:00", 240, 48, 72, "24/1" },
           Row{ "23.976", "from:24", "00:59:50:00", 240, 48, 72, "24000/1001" },
           Row{ "25", "true", "00:59:50:00", 250, 50, 75, "25/1" }, Row{ "25", "from:24", "00:59:50:00", 250, 48, 72, "25/1" },
           Row{ "29.97df", "from:30", "00:59:50;00", 300, 60, 90, "30000/1001" },
           Row{ "50", "true", "00:59:50:00", 500, 100, 150, "50/1" } })
    {
        INFO (row.rate << " " << row.fill);
        const auto open = shortBook (folder, row.rate, row.fill);
        auto wish = plainWish();
        wish.pop = true;
        wish.leaderSeconds = 10;
        const auto movie = folder.path ("movie.mp4");
        const auto made = rendered (open, movie, wish);
        CHECK (made.startLabel == row.label);
        CHECK (made.leaderFrames == row.leader);
        CHECK (made.popBefore == row.leader - row.pop);
        CHECK (made.popAfter == row.leader + row.picture + row.pop);
        CHECK (made.pictureFrames == row.picture);
        // Read by others: the timecode track, the rate and the number of frames.
        CHECK (probe (movie, "-select_streams d:0 -show_entries stream_tags=timecode") == row.label);
        CHECK (probe (movie, "-select_streams v:0 -show_entries stream=avg_frame_rate") == row.counted);
        CHECK (probe (movie, "-select_streams v:0 -count_frames -show_entries stream=nb_read_frames")
               == std::to_string (made.frames));
        CHECK (probe (movie, "-select_streams v:0 -show_entries stream=color_space,color_primaries,color_transfer,color_range")
               == "tv\nbt709\nbt709\nbt709");
        // And by ourselves.
        const auto info = media::openFilm (movie);
        REQUIRE (info);
        CHECK (info->startLabel == row.label);
        CHECK (info->frames == made.frames);
        const auto shown = inOrder (movie);
        CHECK (shown[static_cast<std::size_t> (row.leader)].number == 0);
        // The leader's dark frame reads as number 0 too, but is another picture.
        CHECK (shown[static_cast<std::size_t> (row.leader - 1)].hash != shown[static_cast<std::size_t> (row.leader)].hash);
        // One frame of light, alike before and after, nothing on either side of it.
        auto reader = media::FrameReader::open (movie);
        REQUIRE (reader);
        const auto middle = [&] (std::int64_t k)
        { return static_cast<int> ((*reader)->greyFrame (k, filmWidth, filmHeight)->at (80, 60)); };
        for (const auto pop : { *made.popBefore, *made.popAfter })
        {
            CHECK (middle (pop) > 200);
            CHECK (middle (pop + 1) < 30);
        }
        CHECK (middle (*made.popAfter - 1) < 30);
    }
}

TEST_CASE ("The pop's tone lasts exactly its one frame, on the sample grid from picture start")
{
    const TestFolder folder;
    for (const std::string rate : { "25", "23.976" })
    {
        const auto open = shortBook (folder, rate, rate == "25" ? "true" : "from:24");
        auto wish = plainWish();
        wish.pop = true;
        wish.leaderSeconds = 3;
        wish.codec = media::MovieCodec::prores;
        const auto movie = folder.path ("movie.mov");
        const auto made = rendered (open, movie, wish);
        CHECK (probe (movie, "-select_streams a:0 -show_entries stream=codec_name,sample_rate,channels") == "pcm_s24le\n48000\n2");
        CHECK (probe (movie, "-select_streams v:0 -show_entries stream=codec_name,pix_fmt") == "prores\nyuv422p10le");
        const auto sound = soundOf (folder, movie);
        // A frame is 1920 samples at 25, 2002 at 23.976; every sample number is a multiple of that.
        const std::int64_t frame = rate == "25" ? 1920 : 2002;
        CHECK (static_cast<std::int64_t> (sound.size()) == made.frames * frame);
        std::int64_t first = -1, last = -1, beginsAgain = -1;
        for (std::int64_t s = 0; s < static_cast<std::int64_t> (sound.size()); ++s)
            if (std::abs (sound[static_cast<std::size_t> (s)]) > 1e-6f)
            {
                if (first < 0)
                    first = s;
                if (last >= 0 && s > last + 100 && beginsAgain < 0)
                    beginsAgain = s;
                if (beginsAgain < 0)
                    last = s;
            }
        // A sine begins and may end at nothing: one sample either way.
        CHECK (first >= *made.popBefore * frame);
        CHECK (first <= *made.popBefore * frame + 1);
        CHECK (last < (*made.popBefore + 1) * frame);
        CHECK (last >= (*made.popBefore + 1) * frame - 24);
        CHECK (beginsAgain >= *made.popAfter * frame);
        CHECK (beginsAgain <= *made.popAfter * frame + 1);
        // Beside H.264 the tone goes through AAC: still within two milliseconds.
        wish.codec = media::MovieCodec::h264;
        const auto coded = folder.path ("coded.mp4");
        rendered (open, coded, wish);
        const auto heard = soundOf (folder, coded);
        std::int64_t begins = 0;
        while (begins < static_cast<std::int64_t> (heard.size()) && std::abs (heard[static_cast<std::size_t> (begins)]) < 0.03f)
            ++begins;
        CHECK (std::abs (begins - *made.popBefore * frame) < 96);
        CHECK (std::abs (static_cast<std::int64_t> (heard.size()) - made.frames * frame) <= 1024);
    }
}

TEST_CASE ("The sound is asked for once each sample, in order, from the leader on, and put in unchanged")
{
    const TestFolder folder;
    const auto open = shortBook (folder, "29.97df", "from:30");
    auto wish = plainWish();
    wish.leaderSeconds = 2;
    wish.codec = media::MovieCodec::prores;
    std::int64_t next = 0, begun = 1;
    bool whole = true;
    wish.mixed = [&] (std::int64_t first, std::span<float> stereo)
    {
        if (begun > 0)
            next = begun = first;
        whole = whole && first == next;
        for (std::size_t i = 0; i < stereo.size(); ++i)
            stereo[i] = static_cast<float> ((first + static_cast<std::int64_t> (i / 2)) % 1000) / 2000.0f;
        next = first + static_cast<std::int64_t> (stereo.size() / 2);
        return true;
    };
    const auto movie = folder.path ("movie.mov");
    const auto made = rendered (open, movie, wish);
    CHECK (whole);
    // 60 leader frames of 1601.6 samples, 90 of picture.
    CHECK (begun == -96096);
    CHECK (next == 144144);
    CHECK (made.samples == 240240);
    const auto sound = soundOf (folder, movie);
    REQUIRE (sound.size() == 240240);
    int wrong = 0;
    for (std::size_t i = 0; i < sound.size(); ++i)
        wrong +=
            std::abs (sound[i] - static_cast<float> ((begun + static_cast<std::int64_t> (i)) % 1000) / 2000.0f) > 1e-6f ? 1 : 0;
    CHECK (wrong == 0);
    // A mix that fails ends the rendering.
    wish.mixed = [] (std::int64_t, std::span<float>) { return false; };
    CHECK_FALSE (desk::renderReel (open, folder.path ("other.mov"), wish));
    CHECK_FALSE (std::filesystem::exists (folder.path ("other.mov")));
}

TEST_CASE ("Stopped or refused, nothing is left behind and what was there stays")
{
    const TestFolder folder;
    std::filesystem::create_directory (folder.path ("out"));
    const auto open = shortBook (folder, "24");
    const auto movie = folder.path ("out/movie.mp4");
    writeBytes (movie, "an older movie");
    const auto still = [&]
    {
        CHECK (bytesOf (movie) == "an older movie");
        CHECK (std::distance (std::filesystem::directory_iterator (folder.path ("out")), {}) == 1);
    };
    for (const double where : { 0.0, 0.5, 0.98 })
    {
        const auto stopped =
            desk::renderReel (open, movie, plainWish(), [&] (double fraction, const std::string&) { return fraction < where; });
        REQUIRE_FALSE (stopped);
        CHECK (stopped.error().code == ErrorCode::cancelled);
        still();
    }
    auto wish = plainWish();
    wish.size = { 161, 120 };
    CHECK (desk::renderReel (open, movie, wish).error().code == ErrorCode::usage);
    wish.size = { 0, 0 };
    CHECK (desk::renderReel (open, movie, wish).error().code == ErrorCode::usage);
    still();
    CHECK (desk::renderReel (open, folder.path ("out/movie.avi"), plainWish()).error().code == ErrorCode::usage);
    CHECK (desk::renderReel (open, folder.path ("none/movie.mp4"), plainWish()).error().code == ErrorCode::cannotWrite);
    wish = plainWish();
    wish.codec = media::MovieCodec::prores;
    CHECK (desk::renderReel (open, movie, wish).error().code == ErrorCode::usage);
    wish = plainWish();
    wish.reel = 1;
    CHECK (desk::renderReel (open, movie, wish).error().code == ErrorCode::usage);
    wish = plainWish();
    wish.pop = true;
    wish.leaderSeconds = 2;
    CHECK (desk::renderReel (open, movie, wish).error().code == ErrorCode::usage);
    still();
    // Never over the film it is made from.
    const auto film = desk::filmPath (open, open.book.prints[0].reels[0]);
    const auto before = bytesOf (film);
    CHECK (desk::renderReel (open, film, plainWish()).error().code == ErrorCode::usage);
    CHECK (bytesOf (film) == before);
    // The film is gone.
    auto lost = open;
    auto prints = lost.book.prints.list();
    prints[0].reels[0].path = folder.path ("gone.mp4");
    lost.book.prints = prints;
    CHECK (desk::renderReel (lost, movie, plainWish()).error().code == ErrorCode::unreadable);
    still();
}

TEST_CASE ("The same book gives the same movie: a rate without timecode gives one without a timecode track")
{
    const TestFolder folder;
    auto wish = plainWish();
    wish.crf = 20;
    wish.overlay = true;
    wish.size = { 640, 360 };
    const auto open = shortBook (folder, "24");
    rendered (open, folder.path ("a.mp4"), wish);
    rendered (open, folder.path ("b.mp4"), wish);
    CHECK (bytesOf (folder.path ("a.mp4")) == bytesOf (folder.path ("b.mp4")));

    const auto odd = shortBook (folder, "200/11");
    const auto made = rendered (odd, folder.path ("odd.mp4"), plainWish());
    CHECK (made.startLabel.empty());
    CHECK (made.frames == 55);
    const auto info = media::openFilm (folder.path ("odd.mp4"));
    REQUIRE (info);
    CHECK (info->rate == Rational (200, 11));
    CHECK (info->frames == 55);
    CHECK (info->startLabel.empty());
    bool told = false;
    for (const auto& note : made.notes)
        told = told || note.find ("no timecode") != std::string::npos;
    CHECK (told);
}

TEST_CASE ("A leader before midnight's label wraps to the evening before")
{
    const TestFolder folder;
    auto open = shortBook (folder, "25");
    auto editions = open.book.editions.list();
    editions[0].reels[0].startLabel = "00:00:00:00";
    open.book.editions = editions;
    auto wish = plainWish();
    wish.leaderSeconds = 8;
    CHECK (rendered (open, folder.path ("movie.mp4"), wish).startLabel == "23:59:52:00");
}
