#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::overlay
{
/// Something that flashes: brighter than its surroundings from `first` until before `end`.
struct Flash
{
    std::int64_t first = 0, end = 0; ///< delivered frames
    time::Rational area;             ///< part of the picture it covers, 0 to 1
};

/// A place where flashes break the rule.
struct FlashBreach
{
    std::int64_t frame = 0; ///< of the flash that is one too many or too near
    std::string what;       ///< one sentence
};

/// Checks flashes against the limits that are accepted everywhere (WCAG 2 SC 2.3.1 and ITU-R BT.1702): what covers more
/// than a quarter of the picture may flash at most three times within any one second, and the leading edges of two such
/// flashes lie at least 360 ms apart. Flashes whose times overlap add up their areas and count as one. `rate`: delivered
/// frames a second. All exact; in any order.
std::vector<FlashBreach> flashBreaches (std::vector<Flash> flashes, const time::Rational& rate);
} // namespace shutterbeat::overlay
