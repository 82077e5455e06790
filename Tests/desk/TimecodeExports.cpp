#include "exchange/SampleBook.h"

#include "desk/Export.h"
#include "exchange/WavRead.h"
#include "mix/LinearTimecode.h"
#include "time/Clock.h"
#include "time/Timecode.h"

#include <filesystem>
#include <fstream>
#include <unistd.h>

using namespace shutterbeat;
using time::Rational;

namespace
{
std::string outPath (const std::string& name)
{
    return (std::filesystem::temp_directory_path() / ("shutterbeat-ltc-" + std::to_string (getpid()) + "-" + name)).string();
}

std::string bytesOf (const std::string& path)
{
    std::ifstream file (path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), {} };
}

/// The samples of a WAV file of 24 bits, one channel, that ends with its data.
std::vector<float> samplesOf (const std::string& bytes, std::int64_t count)
{
    std::vector<float> samples;
    const auto first = bytes.find ("data") + 8;
    for (std::int64_t i = 0; i < count; ++i)
    {
        const auto at = first + static_cast<std::size_t> (3 * i);
        const auto byte = [&] (std::size_t k) { return static_cast<std::int32_t> (static_cast<unsigned char> (bytes[at + k])); };
        const std::int32_t value = byte (0) | byte (1) << 8 | byte (2) << 16;
        samples.push_back (static_cast<float> (value >= 0x800000 ? value - 0x1000000 : value) / 8388608.0f);
    }
    return samples;
}
} // namespace

TEST_CASE ("linear timecode is as long as the picture and labels every frame of it once, at every rate that has it")
{
    for (const std::string rate : { "23.976", "24", "25", "29.97", "29.97df", "30", "50", "59.94df" })
    {
        INFO (rate);
        const auto book = tests::plainBook ({ 800, 400 }, Rational (20), rate, "00:59:30:00"); // 60 s, across the hour
        const auto times = tests::timed (book);
        const auto path = outPath (rate + ".wav");
        const auto exported = desk::exportBook ({ book, "ladder.shutterbeat", "" }, "ltc", path, {});
        REQUIRE (exported.ok());
        const auto bytes = bytesOf (path);
        std::filesystem::remove (path);
        const auto info = exchange::readWavInfo (bytes);
        REQUIRE (info.ok());
        const auto& perSecond = times.timings.delivery().rate.perSecond;
        const auto frames = times.timings.deliveredLength();
        CHECK (info->samples == time::sampleAt (Rational (frames) / perSecond, 48000));
        CHECK (info->bits == 24);
        CHECK (info->timeReference == time::sampleAt (Rational (times.timings.startCount()) / perSecond, 48000));
        // libltc knows nothing of us: it gives the labels it hears.
        const auto labels = time::halfLabelRate (times.timings.delivery().rate);
        const auto each = times.timings.delivery().rate == labels ? 1 : 2;
        mix::LtcFinder finder (48000, time::labelsPerSecond (labels));
        const auto found = finder.feed (samplesOf (bytes, info->samples));
        REQUIRE (found.size() >= static_cast<std::size_t> (frames / each) - 3);
        std::int64_t before = -1;
        for (const auto& label : found)
        {
            const auto count = time::parseLabel (label.text, labels);
            REQUIRE (count.ok());
            CHECK (label.dropFrame == labels.dropFrame);
            if (before >= 0)
                REQUIRE (count->value == before + 1); // none skipped, none twice
            before = count->value;
            // It begins on its delivered frame, to a sample or two of the decoder.
            const auto frame = (count->value - times.timings.startCount() / each) * each;
            CHECK (std::abs (label.first - time::sampleAt (Rational (frame) / perSecond, 48000)) <= 4);
        }
        CHECK (exported->notes.empty() == (each == 1));
    }
}

TEST_CASE ("linear timecode is refused at a rate without timecode, and a stopped one leaves nothing behind")
{
    const desk::OpenBook open{ tests::plainBook ({ 200 }, Rational (18), "18"), "ladder.shutterbeat", "" };
    const auto path = outPath ("18.wav");
    const auto refused = desk::exportBook (open, "ltc", path, {});
    REQUIRE_FALSE (refused.ok());
    CHECK (refused.error().code == ErrorCode::usage);
    CHECK (refused.error().text().find ("choose a final rate with timecode") != std::string::npos);
    CHECK_FALSE (std::filesystem::exists (path));
    const desk::OpenBook other{ tests::plainBook ({ 200 }, Rational (20), "25"), "ladder.shutterbeat", "" };
    const auto stopped = desk::exportBook (other, "ltc", path, {}, [] (double, const std::string&) { return false; });
    REQUIRE_FALSE (stopped.ok());
    CHECK (stopped.error().code == ErrorCode::cancelled);
    CHECK_FALSE (std::filesystem::exists (path));
    CHECK_FALSE (std::filesystem::exists (path + ".part"));
    // Reels are files of their own.
    auto book = tests::plainBook ({ 100, 100 }, Rational (20), "25");
    auto edition = book.editions[0];
    edition.reels.push_back ({ 1, "02:00:00:00" });
    book.editions = std::vector{ edition };
    const auto reels = desk::exportBook ({ book, "ladder.shutterbeat", "" }, "ltc", path, {});
    REQUIRE (reels.ok());
    CHECK (reels->files.size() == 2);
    for (const auto& file : reels->files)
        std::filesystem::remove (file);
}
