#include "fuzz/Target.h"

#include "mix/LinearTimecode.h"

#include <algorithm>
#include <cstring>
#include <vector>

using namespace shutterbeat;

/// Linear timecode in a sound. The first byte chooses the rate and how the rest is taken for samples: as 16 bits, or as floats of
/// any kind, infinite and no numbers among them.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    if (size < 2)
        return 0;
    constexpr int rates[]{ 8000, 22050, 44100, 48000, 96000, 192000 };
    const int rate = rates[data[0] % 6];
    const bool floats = data[0] >= 192;
    const std::size_t width = floats ? 4 : 2;
    std::vector<float> mono ((size - 1) / width);
    for (std::size_t i = 0; i < mono.size(); ++i)
    {
        const auto* at = data + 1 + i * width;
        if (floats)
            std::memcpy (&mono[i], at, 4);
        else
            mono[i] = static_cast<float> (static_cast<std::int16_t> (at[0] | at[1] << 8)) / 32768.0f;
    }
    mix::LtcFinder finder (rate);
    const std::size_t piece = 1 + data[1] * 17u;
    for (std::size_t at = 0; at < mono.size(); at += piece)
        for (const auto& label : finder.feed (std::span (mono).subspan (at, std::min (piece, mono.size() - at))))
        {
            fuzz::must (label.first >= 0 && label.first + 80 <= label.end, "a label has a sample for each of its bits");
            fuzz::must (label.end <= static_cast<std::int64_t> (std::min (at + piece, mono.size())),
                        "a label ends in what was fed");
            fuzz::must (label.text.size() == 11 && label.text < "24" && label.text.substr (3) < "60" && label.text.substr (6) < "60"
                            && label.text.substr (9) < "30",
                        "a label is a time of day");
        }
    return 0;
}
