#include "media/FilmFile.h"
#include "media/FrameReader.h"
#include "media/GreyPass.h"

#include "Catch.h"
#include "media/NumberedFilm.h"

#include <filesystem>
#include <random>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
struct Clip
{
    const char* name;
    std::int64_t frames; ///< as groundtruth.json has them
    Rational rate;
    int width, height;
};

const Rational video{ time::Int128 (30000), time::Int128 (1001) };
} // namespace

TEST_CASE ("real clips have the frames and rates they should, and jumps show what playing shows")
{
    for (const auto& clip :
         { Clip{ "nosferatu_1922_letters_excerpt.mp4", 1191, Rational (25), 640, 480 },
           Clip{ "chaplin_1910s_oneshot.mp4", 241, Rational (25), 640, 360 },
           Clip{ "rtn_oldfilm_oneshot_521f.mp4", 521, Rational (25), 640, 480 },
           Clip{ "sintel_trailer_480p.mp4", 1253, Rational (24), 854, 480 }, Clip{ "psd_testvideo.mp4", 720, video, 1280, 720 },
           Clip{ "psd_fades.mp4", 250, Rational (25), 480, 320 }, Clip{ "psd_delayed_start.mp4", 24, Rational (25), 480, 320 },
           Clip{ "psd_counter_10fps.mp4", 30, Rational (10), 1920, 1080 }, Clip{ "vhh_sbd_demo_test1.mpg", 294, video, 292, 240 },
           Clip{ "moviepy_smpte_2997_in_25fps.mp4", 251, Rational (25), 1920, 1080 } })
    {
        const auto path = testData (std::string ("data/video/") + clip.name);
        if (! std::filesystem::exists (path))
        {
            WARN (path << " is not here; skipped");
            continue;
        }
        INFO (path);
        auto reader = media::FrameReader::open (path);
        REQUIRE (reader);
        const auto& info = (*reader)->info();
        CHECK (info.frames == clip.frames);
        CHECK (info.rate == clip.rate);
        CHECK (info.width == clip.width);
        CHECK (info.height == clip.height);

        std::vector<std::uint64_t> straight;
        REQUIRE (media::forEachGrey (path, filmWidth, filmHeight,
                                     [&] (std::int64_t k, const film::GreyPicture& picture)
                                     {
                                         CHECK (k == static_cast<std::int64_t> (straight.size()));
                                         CHECK_FALSE (picture.damaged);
                                         straight.push_back (hashOf (picture.pixels));
                                         return true;
                                     }));
        REQUIRE (static_cast<std::int64_t> (straight.size()) == info.frames);
        std::mt19937 random (5);
        for (int i = 0; i < 8; ++i)
        {
            const auto k = static_cast<std::int64_t> (random() % straight.size());
            CHECK (look (**reader, k).hash == straight[static_cast<std::size_t> (k)]);
        }
        for (auto k = info.frames - 1; k >= std::max<std::int64_t> (0, info.frames - 10); --k)
            CHECK (look (**reader, k).hash == straight[static_cast<std::size_t> (k)]);
        CHECK (look (**reader, 0).hash == straight[0]);
    }
}

TEST_CASE ("a real clip that starts late begins with file frame 0")
{
    const auto path = testData ("data/video/psd_delayed_start.mp4");
    if (! std::filesystem::exists (path))
    {
        WARN (path << " is not here; skipped");
        return;
    }
    const auto info = media::openFilm (path);
    REQUIRE (info);
    CHECK (info->containerStart == Rational (time::Int128 (43), time::Int128 (40)));
    CHECK (info->startLabel.empty());
}
