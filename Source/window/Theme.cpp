#include "window/Theme.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
bool dayInUse = false;

juce::Colour rgb (juce::uint32 value)
{
    return juce::Colour (0xff000000u | value);
}

double luminance (juce::Colour colour)
{
    const auto linear = [] (double c) { return c <= 0.04045 ? c / 12.92 : std::pow ((c + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear (colour.getFloatRed()) + 0.7152 * linear (colour.getFloatGreen())
           + 0.0722 * linear (colour.getFloatBlue());
}
} // namespace

const Theme& dimRoom()
{
    static const Theme colours{ rgb (0x14110f), rgb (0x1d1916), rgb (0x2a2420), rgb (0xefe6d8), rgb (0xb5a99a), rgb (0xe0a33a),
                                rgb (0x6fa3c8), rgb (0xb4e0bc), rgb (0xe07a6e), rgb (0x0a0807), rgb (0x3a322b), rgb (0xefe6d8) };
    return colours;
}

const Theme& dayLight()
{
    static const Theme colours{ rgb (0xf4efe5), rgb (0xfbf8f1), rgb (0xffffff), rgb (0x26211b), rgb (0x6b6155), rgb (0x8f5a06),
                                rgb (0x2c648c), rgb (0x2f6b42), rgb (0x6e1a14), rgb (0x2f2923), rgb (0xe3d9c6), rgb (0x26211b) };
    return colours;
}

const Theme& theme()
{
    return dayInUse ? dayLight() : dimRoom();
}

void useDay (bool on)
{
    dayInUse = on;
}

double contrast (juce::Colour a, juce::Colour b)
{
    const double first = luminance (a) + 0.05, second = luminance (b) + 0.05;
    return first > second ? first / second : second / first;
}
} // namespace shutterbeat::window
