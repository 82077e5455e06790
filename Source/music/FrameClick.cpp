#include "music/FrameClick.h"

#include "time/Text.h"

#include <algorithm>

namespace shutterbeat::music
{
Result<FrameClick> parseClick (std::string_view text)
{
    const auto parts = time::splitAt (time::trimmed (text), '-');
    const auto frames = time::parseWhole (parts[0]);
    const auto eighths = parts.size() == 2   ? time::parseWhole (parts[1])
                         : parts.size() == 1 ? std::optional<std::int64_t> (0)
                                             : std::nullopt;
    if (! frames || ! eighths || *frames < 0 || *frames > 999 || *eighths < 0 || *eighths > 7 || *frames * 8 + *eighths == 0)
        return usageError ("click \"" + std::string (text) + "\"",
                           "is not one; write frames and eighths from beat to beat, such as 12-4");
    return FrameClick{ *frames * 8 + *eighths };
}

std::string clickText (const FrameClick& click)
{
    return std::to_string (click.eighths / 8) + "-" + std::to_string (click.eighths % 8);
}

time::Rational beatsPerMinute (const FrameClick& click, const time::Rational& framesPerSecond)
{
    return time::Rational (60) / secondsPerBeat (click, framesPerSecond);
}

time::Rational secondsPerBeat (const FrameClick& click, const time::Rational& framesPerSecond)
{
    return time::Rational (click.eighths, 8) / framesPerSecond;
}

FrameClick nearestClick (const time::Rational& wanted, const time::Rational& framesPerSecond)
{
    const auto eighths = time::floorOf (time::Rational (480) * framesPerSecond / wanted);
    const FrameClick faster{ std::max<std::int64_t> (1, eighths) }, slower{ faster.eighths + 1 };
    return beatsPerMinute (faster, framesPerSecond) - wanted <= wanted - beatsPerMinute (slower, framesPerSecond) ? faster : slower;
}
} // namespace shutterbeat::music
