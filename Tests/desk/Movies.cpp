#include "desk/RenderBench.h"
#include "media/CanvasFilm.h"
#include "media/MovieWriter.h"

#include <cmath>
#include <csignal>
#include <filesystem>
#include <sys/resource.h>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using media::Canvas;
using media::MovieCodec;
using media::MovieSpec;
using media::MovieWriter;
using time::Rational;

namespace
{
MovieSpec smallSpec()
{
    MovieSpec spec;
    spec.width = 64;
    spec.height = 48;
    spec.sound = false;
    spec.preset = "ultrafast";
    return spec;
}

/// `count` canvases of one colour each, getting brighter.
void writeGreys (const std::string& path, const MovieSpec& spec, int count)
{
    auto writer = MovieWriter::open (path, spec);
    INFO ((writer ? "" : writer.error().text()));
    REQUIRE (writer);
    Canvas canvas (spec.width, spec.height, spec.codec);
    for (int k = 0; k < count; ++k)
    {
        const auto level = static_cast<std::uint32_t> (k * 200 / count);
        canvas.fill ({ 0, 0, spec.width, spec.height }, level << 16 | level << 8 | level);
        REQUIRE ((*writer)->add (canvas));
    }
    REQUIRE ((*writer)->finish());
}
} // namespace

TEST_CASE ("Colours of a canvas come back from the movie, in either codec, filled or blended")
{
    const TestFolder folder;
    for (const auto codec : { MovieCodec::h264, MovieCodec::prores })
        for (const std::uint32_t rgb :
             { 0x000000u, 0xFFFFFFu, 0xEFE6D8u, 0xE0A33Au, 0x6FA3C8u, 0xE07A6Eu, 0x14110Fu, 0x0000FFu, 0xFF0000u })
            for (const bool blended : { false, true })
            {
                INFO (std::hex << rgb << (blended ? " blended" : " filled"));
                auto spec = smallSpec();
                spec.codec = codec;
                spec.crf = 0;
                const auto path = folder.path ("colour.mov");
                auto writer = MovieWriter::open (path, spec);
                REQUIRE (writer);
                Canvas canvas (64, 48, codec);
                canvas.fill ({ 0, 0, 64, 48 }, blended ? 0x336699u : rgb);
                const std::vector<std::uint32_t> whole (64 * 48, 0xFF000000u | rgb);
                if (blended)
                    canvas.blend (0, 0, 64, 48, whole.data());
                REQUIRE ((*writer)->add (canvas));
                REQUIRE ((*writer)->finish());
                auto reader = media::FrameReader::open (path);
                REQUIRE (reader);
                const auto picture = (*reader)->frame (0);
                REQUIRE (picture);
                const auto* pixel = &picture->rgb[3 * (24 * 64 + 32)];
                for (int part = 0; part < 3; ++part)
                    CHECK (std::abs (pixel[part] - static_cast<int> (rgb >> (16 - 8 * part) & 255))
                           <= (codec == MovieCodec::h264 ? 3 : 6));
            }
}

TEST_CASE ("Half-covered pixels lie half-way, and what lies outside the canvas is left out")
{
    const TestFolder folder;
    auto spec = smallSpec();
    spec.crf = 0;
    const auto path = folder.path ("half.mp4");
    auto writer = MovieWriter::open (path, spec);
    REQUIRE (writer);
    Canvas canvas (64, 48, spec.codec);
    canvas.fill ({ 0, 0, 64, 48 }, 0x808080u);
    // White at half alpha, multiplied already; across the left upper corner and far outside.
    const std::vector<std::uint32_t> half (32 * 32, 0x80808080u);
    canvas.blend (-16, -16, 32, 32, half.data());
    canvas.blend (48, 40, 32, 32, half.data());
    canvas.blend (500, 500, 32, 32, half.data());
    canvas.fill ({ 60, -10, 100, 20 }, 0);
    REQUIRE ((*writer)->add (canvas));
    REQUIRE ((*writer)->finish());
    auto reader = media::FrameReader::open (path);
    const auto picture = (*reader)->frame (0);
    REQUIRE (picture);
    const auto at = [&] (int x, int y) { return static_cast<int> (picture->rgb[static_cast<std::size_t> (3 * (y * 64 + x))]); };
    CHECK (std::abs (at (4, 4) - 192) <= 3);
    CHECK (std::abs (at (20, 20) - 128) <= 3);
    CHECK (std::abs (at (56, 44) - 192) <= 3);
    CHECK (at (62, 4) <= 3);
}

TEST_CASE ("Rate, count, pixel shape and title of a movie are what was asked, read by another program")
{
    const TestFolder folder;
    struct Row
    {
        Rational rate;
        const char* said;
    };
    for (const auto& row : { Row{ Rational (24000, 1001), "24000/1001" }, Row{ 18, "18/1" }, Row{ Rational (200, 11), "200/11" },
                             Row{ Rational (60000, 1001), "60000/1001" }, Row{ 60, "60/1" }, Row{ Rational (37, 2), "37/2" } })
        for (const int between : { 0, 2 })
            for (const int count : { 1, 2, 37 })
            {
                auto spec = smallSpec();
                spec.rate = row.rate;
                spec.between = between;
                spec.pixelShape = Rational (64, 45);
                const auto path = folder.path ("movie.mp4");
                writeGreys (path, spec, count);
                const auto probe = [&] (const std::string& what)
                { return printed ("ffprobe -v error -select_streams v -of default=nw=1:nk=1 " + what + " " + quoted (path)); };
                INFO (row.said << ", " << count << " pictures, " << between << " between");
                CHECK (probe ("-count_frames -show_entries stream=nb_read_frames") == std::to_string (count));
                CHECK (probe ("-show_entries stream=avg_frame_rate") == row.said);
                CHECK (probe ("-show_entries stream=sample_aspect_ratio") == "64:45");
                const auto info = media::openFilm (path);
                REQUIRE (info);
                CHECK (info->frames == count);
                if (count > 2)
                    CHECK (info->rate == row.rate);
            }
    auto spec = smallSpec();
    spec.title = "Ærø – “Stå!”";
    writeGreys (folder.path ("Čapek #1 %20.mp4"), spec, 3);
    CHECK (printed ("ffprobe -v error -of default=nw=1:nk=1 -show_entries format_tags=title "
                    + quoted (folder.path ("Čapek #1 %20.mp4")))
           == "Ærø – “Stå!”");
}

TEST_CASE ("A full disk leaves nothing behind and says so")
{
    const TestFolder folder;
    const auto path = folder.path ("movie.mp4");
    auto spec = smallSpec();
    spec.width = spec.height = 480;
    spec.crf = 0;
    // As large as files may get stands for the room that is left.
    struct rlimit before
    {
    };
    REQUIRE (::getrlimit (RLIMIT_FSIZE, &before) == 0);
    const auto handler = std::signal (SIGXFSZ, SIG_IGN);
    auto small = before;
    small.rlim_cur = 100000;
    REQUIRE (::setrlimit (RLIMIT_FSIZE, &small) == 0);
    Result<Done> outcome = Done{};
    {
        auto writer = MovieWriter::open (path, spec);
        REQUIRE (writer);
        Canvas canvas (480, 480, spec.codec);
        std::uint32_t noise = 1;
        std::vector<std::uint32_t> pixels (480 * 480);
        for (int k = 0; k < 20 && outcome; ++k)
        {
            for (auto& pixel : pixels)
                pixel = 0xFF000000u | (noise = noise * 1664525u + 1013904223u) >> 8;
            canvas.blend (0, 0, 480, 480, pixels.data());
            outcome = (*writer)->add (canvas);
        }
        if (outcome)
            outcome = (*writer)->finish();
    }
    ::setrlimit (RLIMIT_FSIZE, &before);
    std::signal (SIGXFSZ, handler);
    REQUIRE_FALSE (outcome);
    CHECK (outcome.error().code == ErrorCode::cannotWrite);
    CHECK (std::filesystem::is_empty (std::filesystem::path (path).parent_path()));
}

TEST_CASE ("Anamorphic and turned films stand upright and in shape on a canvas, as pictures of them do")
{
    const TestFolder folder;
    const auto wide = encode (folder, "wide.mp4", "-c:v libx264 -preset ultrafast -crf 8 -vf setsar=2/1", "25", 12);
    const auto flat = encode (folder, "flat.mp4", "-c:v libx264 -preset ultrafast -crf 8", "25", 12);
    for (const int degrees : { 90, 180, 270 })
        remake (folder, flat, "turned-" + std::to_string (degrees) + ".mp4", "",
                "-c copy -metadata:s:v rotate=" + std::to_string (degrees));
    for (const auto& film :
         { wide, flat, folder.path ("turned-90.mp4"), folder.path ("turned-180.mp4"), folder.path ("turned-270.mp4") })
    {
        INFO (film);
        auto reader = media::FrameReader::open (film);
        auto source = media::CanvasFilm::open (film);
        REQUIRE (reader);
        REQUIRE (source);
        const int width = (*reader)->info().width, height = (*reader)->info().height;
        auto spec = smallSpec();
        spec.width = width;
        spec.height = height;
        spec.crf = 0;
        const auto path = folder.path ("upright.mp4");
        auto writer = MovieWriter::open (path, spec);
        REQUIRE (writer);
        Canvas canvas (width, height, spec.codec);
        const auto whole = (*source)->paint (7, canvas, { 0, 0, width, height });
        REQUIRE (whole);
        CHECK (*whole);
        REQUIRE ((*writer)->add (canvas));
        REQUIRE ((*writer)->finish());
        auto movie = media::FrameReader::open (path);
        REQUIRE (movie);
        const auto expected = (*reader)->frame (7, width, height), made = (*movie)->frame (0, width, height);
        REQUIRE (expected);
        REQUIRE (made);
        REQUIRE (expected->rgb.size() == made->rgb.size());
        double sum = 0;
        for (std::size_t i = 0; i < made->rgb.size(); ++i)
            sum += std::abs (made->rgb[i] - expected->rgb[i]);
        CHECK (sum / static_cast<double> (made->rgb.size()) < 4);
    }
}
