#include "music/TempoPlan.h"

#include <array>

namespace shutterbeat::music
{
namespace
{
constexpr std::array<std::string_view, 3> courseNames{ "steady", "ramp in time", "ramp in beat" };
} // namespace

std::string_view courseName (Course course)
{
    return courseNames[static_cast<std::size_t> (course)];
}

Result<Course> parseCourse (std::string_view text)
{
    for (std::size_t i = 0; i < courseNames.size(); ++i)
        if (courseNames[i] == text)
            return static_cast<Course> (i);
    return usageError ("course \"" + std::string (text) + "\"", "is none of: steady, ramp in time, ramp in beat");
}

time::Rational quartersPerMinute (const time::Rational& beatsPerMinute, const time::Rational& unit)
{
    return beatsPerMinute * unit * time::Rational (4);
}
} // namespace shutterbeat::music
