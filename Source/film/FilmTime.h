#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::film
{
/// A stretch of one running speed, or a made stretch with a length in seconds.
struct Span
{
    std::int64_t frames = 0; ///< film frames; 0 when made
    time::Rational speed;    ///< film frames a second; not used when made
    time::Rational made;     ///< exact seconds when frames is 0

    /// Exact seconds.
    [[nodiscard]] time::Rational seconds() const;
};

/// What a delivered frame shows.
struct Shown
{
    std::size_t span = 0;
    std::int64_t frameInSpan = 0; ///< for a made span: always 0
};

/// The exact time of every film frame of one reel from its picture start (DESIGN 2). Immutable.
class FilmTime
{
public:
    FilmTime() = default;

    /// `names` are what the user calls the spans, for errors; else they are numbered.
    /// Error (overflow): so many odd speeds that exact times would need more than 128 bits; says which span to round.
    /// Error (usage): a speed or a made length that is not above zero, or more than ten million seconds in all.
    static Result<FilmTime> of (std::vector<Span> spans, const std::vector<std::string>& names = {});

    [[nodiscard]] std::int64_t frames() const { return totalFrames; }
    [[nodiscard]] const time::Rational& length() const { return total; } ///< seconds, made spans included
    [[nodiscard]] std::size_t spanCount() const { return spans.size(); }

    /// T of the head of a span; span may be spanCount(), which gives length().
    [[nodiscard]] time::Rational spanStart (std::size_t span) const;
    /// Film frames before a span.
    [[nodiscard]] std::int64_t spanFirst (std::size_t span) const;

    /// T(k) for film frame k, 0 to frames(); frames() gives length(). Made spans before k count, at k they come first.
    [[nodiscard]] time::Rational at (std::int64_t filmFrame) const;
    /// The photographed span that holds film frame k, 0 to frames() - 1.
    [[nodiscard]] std::size_t spanOf (std::int64_t filmFrame) const;

    /// The last film frame with T <= seconds, or the made span there. Only for 0 <= seconds < length().
    [[nodiscard]] Shown shownAt (const time::Rational& seconds) const;

private:
    struct Placed
    {
        Span span;
        time::Rational start;
        std::int64_t first = 0;
    };
    std::vector<Placed> spans;
    time::Rational total;
    std::int64_t totalFrames = 0;
};

/// Delivered frame at which what begins at `seconds` first appears: ceil(T * R).
std::int64_t deliveredFrame (const time::Rational& seconds, const time::Rational& countingRate);
} // namespace shutterbeat::film
