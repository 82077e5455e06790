#include "desk/ExportTimecode.h"

#include "exchange/WavFile.h"
#include "mix/LinearTimecode.h"
#include "time/Clock.h"

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;
constexpr int samplesPerSecond = 48000;
constexpr std::int64_t block = 65536;

/// Written beside its place and renamed when it is whole; gone otherwise.
class PartFile
{
public:
    explicit PartFile (std::string target)
        : path (std::move (target))
        , part (path + ".part")
        , file (part, std::ios::binary | std::ios::trunc)
    {
    }
    PartFile (const PartFile&) = delete;
    PartFile& operator= (const PartFile&) = delete;
    ~PartFile()
    {
        if (done)
            return;
        file.close();
        std::error_code ignored;
        fs::remove (part, ignored);
    }

    bool write (const std::string& bytes)
    {
        file.write (bytes.data(), static_cast<std::streamsize> (bytes.size()));
        return file.good();
    }

    Result<Done> finish()
    {
        file.close();
        std::error_code failed;
        if (! file.fail())
            fs::rename (part, path, failed);
        if (file.fail() || failed)
            return cannotWrite (path, failed ? failed.message() : "the disk may be full; free some space or choose another folder");
        done = true;
        return Done{};
    }

private:
    std::string path, part;
    std::ofstream file;
    bool done = false;
};

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
    PartFile file (path);
    if (! file.write (exchange::wavHead (look, samples)))
        return cannotWrite (path, "the file can't be made; choose another folder");
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
        if (! file.write (bytes))
            return cannotWrite (path, "the disk may be full; free some space or choose another folder");
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
