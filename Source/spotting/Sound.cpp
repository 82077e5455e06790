#include "spotting/Sound.h"

#include "spotting/Named.h"
#include "time/Text.h"

namespace shutterbeat::spotting
{
namespace
{
constexpr std::array<std::string_view, 4> soundKinds{ "mock-up", "take", "mix", "stem" };
constexpr std::array<std::string_view, 5> placings{ "WAV time stamp", "LTC", "pop", "name", "by hand" };
} // namespace

std::string_view soundKindName (SoundKind kind)
{
    return soundKinds[static_cast<std::size_t> (kind)];
}

Result<SoundKind> parseSoundKind (std::string_view text)
{
    return named<SoundKind> (soundKinds, "sound kind", text);
}

std::string_view placedByName (PlacedBy placed)
{
    return placings[static_cast<std::size_t> (placed)];
}

Result<PlacedBy> parsePlacedBy (std::string_view text)
{
    return named<PlacedBy> (placings, "way of placing", text);
}

time::Rational lengthOf (const Sound& sound)
{
    return { time::Int128 (sound.samples), time::Int128 (sound.rate) };
}

Result<time::Rational> parseSoundOffset (std::string_view text)
{
    const auto no = [&]
    {
        return usageError ("\"" + std::string (text) + "\"", "is no time of a sound; use seconds such as -4.5s or 1001/24000s, "
                                                             "or samples at a rate such as 192000@48000");
    };
    text = time::trimmed (text);
    if (const auto at = text.find ('@'); at != std::string_view::npos)
    {
        const auto samples = time::parseWhole (text.substr (0, at));
        const auto rate = time::parseWhole (text.substr (at + 1));
        if (! samples || ! rate || *rate < 1 || *rate > 1'000'000)
            return no();
        return time::Rational (time::Int128 (*samples), time::Int128 (*rate));
    }
    if (text.empty() || text.back() != 's')
        return no();
    const auto seconds = time::parseRational (text.substr (0, text.size() - 1));
    if (! seconds || ! seconds->valid())
        return no();
    return *seconds;
}

std::string soundOffsetText (const time::Rational& seconds, int rate)
{
    const auto samples = seconds * time::Rational (rate);
    if (samples.valid() && samples.isWhole() && ! seconds.isWhole())
        return time::fractionText (samples) + "@" + std::to_string (rate);
    return time::fractionText (seconds) + "s";
}
} // namespace shutterbeat::spotting
