#pragma once

#include "time/Timecode.h"

namespace shutterbeat::mix
{
/// A label taken apart, wrapped into the day.
struct LabelFields
{
    int hours = 0, minutes = 0, seconds = 0, frames = 0;
};

/// Of the count-th label after midnight. Only when hasTimecode (rate).
inline LabelFields fieldsOf (std::int64_t count, const time::Rate& rate)
{
    const auto text = time::labelOf (count, rate).text; // hh:mm:ss:ff
    const auto two = [&] (std::size_t at) { return (text[at] - '0') * 10 + (text[at + 1] - '0'); };
    return { two (0), two (3), two (6), two (9) };
}
} // namespace shutterbeat::mix
