#include "desk/ExportTimecode.h"

#include "exchange/WavFile.h"
#include "mix/LinearTimecode.h"
#include "store/PartFile.h"
#include "time/Clock.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;
constexpr int samplesPerSecond = 48000;
constexpr std::int64_t block = 65536;

Result<Done> writeReel (const spotting::BookTimes& times, std::size_t reel, const mix::LinearTimecode& code,
                        const std::string& path, const Progress& progress)
{
    const auto& timings = times.timings;
    const auto& rate = timings.delivery().rate;
    const auto samples = time::sampleAt (timings.clockOf (timings.deliveredLength (reel)), samplesPerSecond);
    exchange::WavLook look;
    look.samplesPerSecond = samplesPerSecond;
    look.description = "Linear timecode from " + timings.timecodeOf (0, reel);
    look.timeReference = time::sampleAt (time::Rational (timings.startCount (reel)) / rate.perSecond, samplesPerSecond);
    store::PartFile file (path);
    if (const auto begun = file.write (exchange::wavHead (look, samples)); ! begun)
        return begun;
    std::vector<float> mono;
    std::string bytes;
    for (std::int64_t at = 0; at < samples; at += block)
    {
        if (progress && ! progress (static_cast<double> (at) / static_cast<double> (samples), "linear timecode"))
            return Error{ ErrorCode::cancelled, path, "stopped; nothing was written" };
        mono.resize (static_cast<std::size_t> (std::min (block, samples - at)));
        code.render (time::Rational (samplesPerSecond), at, mono);
        bytes.clear();
        exchange::appendSamples (bytes, mono);
        if (at + block >= samples && samples % 2 == 1)
            bytes += '\0'; // chunks are even
        if (const auto written = file.write (bytes); ! written)
            return written;
    }
    return file.finish();
}
} // namespace

Result<Exported> writeLinearTimecode (const spotting::BookTimes& times, const std::string& path, const Progress& progress)
{
    Exported exported;
    const auto reels = times.timings.reelCount();
    for (std::size_t reel = 0; reel < reels; ++reel)
    {
        const auto code = mix::LinearTimecode::of (times.timings.delivery().rate, times.timings.startCount (reel));
        if (! code)
            return code.error();
        const fs::path whole (path);
        const auto target =
            reels == 1
                ? path
                : (whole.parent_path() / (whole.stem().string() + "-reel" + std::to_string (reel + 1) + whole.extension().string()))
                      .string();
        if (const auto written = writeReel (times, reel, *code, target, progress); ! written)
            return written.error();
        exported.files.push_back (target);
        if (reel == 0)
            exported.notes = code->notes();
    }
    return exported;
}
} // namespace shutterbeat::desk
