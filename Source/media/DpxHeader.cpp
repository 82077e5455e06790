#include "media/DpxHeader.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <fstream>

namespace shutterbeat::media
{
namespace
{
using time::Int128;
using time::Rational;

// Byte offsets of ST 268-1: motion-picture film header, frame rate of original; television header, time code and
// temporal sampling rate.
constexpr std::size_t filmRateAt = 1724;
constexpr std::size_t timecodeAt = 1920;
constexpr std::size_t videoRateAt = 1940;
constexpr std::size_t headerBytes = 2048;
constexpr std::uint32_t unwritten = 0xffffffff;

/// The exact rate that a header's single-precision number stands for.
std::optional<Rational> rateOf (std::uint32_t bits)
{
    const float value = std::bit_cast<float> (bits);
    if (bits == unwritten || ! std::isfinite (value) || value < 1.0F || value > 240.0F)
        return {};
    // A float is a fraction over a power of two; 2^16 keeps more of it than the usual rates differ by.
    const Rational written (Int128 (std::llround (static_cast<double> (value) * 65536.0)), Int128 (65536));
    std::optional<Rational> nearest;
    Rational least = written / Rational (2500);
    const auto offer = [&] (const Rational& rate)
    {
        const auto off = rate > written ? rate - written : written - rate;
        if (off < least)
        {
            least = off;
            nearest = rate;
        }
    };
    for (int whole = 1; whole <= 240; ++whole)
        offer (Rational (whole));
    for (const int whole : { 24, 30, 48, 60, 120 })
        offer ({ Int128 (whole) * 1000, Int128 (1001) });
    offer ({ Int128 (200), Int128 (11) });
    offer ({ Int128 (240), Int128 (11) });
    return nearest ? nearest : written;
}

std::string timecodeOf (std::uint32_t bits)
{
    if (bits == unwritten)
        return {};
    std::string text;
    for (const int shift : { 24, 16, 8, 0 })
    {
        const auto tens = bits >> (shift + 4) & 15;
        const auto ones = bits >> shift & 15;
        if (tens > 9 || ones > 9)
            return {};
        text += (text.empty() ? "" : ":") + std::to_string (tens) + std::to_string (ones);
    }
    return text;
}
} // namespace

std::optional<DpxHeader> readDpxHeader (const std::string& path)
{
    std::array<char, headerBytes> bytes{};
    std::ifstream file (path, std::ios::binary);
    if (! file.read (bytes.data(), bytes.size()))
        return {};
    const std::string_view magic (bytes.data(), 4);
    if (magic != "SDPX" && magic != "XPDS")
        return {};
    const bool bigFirst = magic == "SDPX";
    const auto word = [&] (std::size_t at)
    {
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < 4; ++i)
            value = value << 8 | static_cast<std::uint8_t> (bytes[at + (bigFirst ? i : 3 - i)]);
        return value;
    };
    DpxHeader header;
    header.rate = rateOf (word (filmRateAt));
    if (! header.rate)
        header.rate = rateOf (word (videoRateAt));
    header.timecode = timecodeOf (word (timecodeAt));
    return header;
}
} // namespace shutterbeat::media
