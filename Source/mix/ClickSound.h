#pragma once

#include "time/Rational.h"

#include <string>
#include <vector>

namespace shutterbeat::mix
{
/// What kind of click it is: an accent is higher, a subdivision or a free click softer.
enum class ClickKind
{
    plain,
    accent,
    soft
};

/// Decibels below full scale that a click has unless another level is chosen, and the most it can be given. Players hear it
/// over headphones for hours (handbook 6.2): it starts low, is never raised by the program, and is capped.
inline constexpr int usualClickLevel = -20;
inline constexpr int highestClickLevel = -6;

/// What has to be said wherever a click level can be set.
std::string clickCaution();

/// One click: a short dying stroke that is loudest at its very first sample, so that its time can be measured to the sample.
/// `level` is its peak in decibels below full scale, lowered to highestClickLevel when above.
std::vector<float> clickSound (ClickKind kind, int samplesPerSecond, const time::Rational& level);

/// 10^(decibels / 20).
double factorOf (const time::Rational& decibels);
} // namespace shutterbeat::mix
