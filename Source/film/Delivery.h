#pragma once

#include "time/Rate.h"

#include <optional>
#include <string>

namespace shutterbeat::film
{
/// The rate of the delivered picture and how it is filled (DESIGN: final rate, fill).
struct Delivery
{
    time::Rate rate{ time::Rational (24), false };
    /// Frame for frame from this rate; none: true fill, which keeps the duration.
    std::optional<time::Rational> from;

    /// The rate at which delivered frames are computed: `from`, else the final rate.
    [[nodiscard]] time::Rational countingRate() const { return from ? *from : rate.perSecond; }

    friend bool operator== (const Delivery&, const Delivery&) = default;
};

/// From 24, 30, 48 or 60 at 23.976, 29.97, 47.952 and 59.94; else true.
std::optional<time::Rational> usualFill (const time::Rate& rate);

/// Reads "true" or "from:RATE". Error: neither, or a rate that parseRate refuses or that counts drop-frame.
Result<std::optional<time::Rational>> parseFill (std::string_view text);

/// "true" or "from:30".
std::string fillName (const std::optional<time::Rational>& from);

/// A running speed as it is seen after the fill: r * R / Q, "18 (17.982)"; just "18" when nothing changes.
std::string speedSeenText (const time::Rational& running, const Delivery& delivery);
} // namespace shutterbeat::film
