#include "desk/TimecodeChannels.h"

#include "mix/LinearTimecode.h"

#include <algorithm>
#include <cstdlib>

namespace shutterbeat::desk
{
namespace
{
constexpr int lookedAt = 20; // seconds
constexpr int wanted = 10;   // labels on end

/// A channel as it is listened to for labels that follow one another.
struct Listened
{
    explicit Listened (int rate)
        : finder (rate)
    {
    }

    mix::LtcFinder finder;
    std::int64_t end = 0;
    int run = 0;
    bool found = false;
};
} // namespace

Result<std::vector<int>> timecodeChannels (media::SoundReader& reader)
{
    const auto& info = reader.info();
    if (info.channels < 2)
        return std::vector<int>{};
    std::vector<Listened> channels;
    for (int c = 0; c < info.channels; ++c)
        channels.emplace_back (info.rate);
    const auto wide = static_cast<std::size_t> (info.channels);
    std::vector<float> block (static_cast<std::size_t> (info.rate) * wide), mono (static_cast<std::size_t> (info.rate));
    const auto end = std::min (info.samples, std::int64_t{ lookedAt } * info.rate);
    for (std::int64_t at = 0; at < end; at += info.rate)
    {
        if (const auto read = reader.read (at, block); ! read)
            return read.error();
        for (std::size_t c = 0; c < wide; ++c)
        {
            auto& one = channels[c];
            if (one.found)
                continue;
            for (std::size_t i = 0; i < mono.size(); ++i)
                mono[i] = block[i * wide + c];
            for (const auto& label : one.finder.feed (mono))
            {
                // The next label begins where the last ended, to two milliseconds.
                one.run = std::abs (label.first - one.end) * 500 < info.rate ? one.run + 1 : 1;
                one.end = label.end;
                one.found = one.found || one.run >= wanted;
            }
        }
    }
    std::vector<int> found;
    for (int c = 0; c < info.channels; ++c)
        if (channels[static_cast<std::size_t> (c)].found)
            found.push_back (c);
    // A file of timecode alone is heard as it is.
    if (found.size() == channels.size())
        found.clear();
    return found;
}
} // namespace shutterbeat::desk
