#pragma once

#include "media/FrameIndex.h"
#include "time/Rational.h"

#include <vector>

namespace shutterbeat::media
{
/// Pictures a second from the two rates a container gives: its base rate r and its mean rate. Where interlaced pictures
/// are coded as fields r is the field rate, twice the mean, and the mean is right; invalid or zero rates are passed over.
/// Zero when neither can be used.
time::Rational frameRateOf (const time::Rational& r, const time::Rational& mean);

/// How the presented pictures really follow each other.
struct MeasuredRate
{
    time::Rational rate;
    bool variable = false;
};

/// The rate whose even steps all timestamps lie on, within one unit of the container's clock (at least 1.1 ms): the
/// first of `told` that fits, then the usual rates of film and video. Where none fits the rate is that which strays
/// least, if by less than half a picture, else that of the commonest step, and `variable` is set. Frames without a timestamp are
/// passed over; with fewer than two that have one the rate is the first of `told` that is a usual one, else the first
/// (25 if that can't be used).
MeasuredRate measureRate (const std::vector<PresentedFrame>& frames, const time::Rational& timeBase,
                          const std::vector<time::Rational>& told);
} // namespace shutterbeat::media
