#include "film/FilmTime.h"

#include <algorithm>

namespace shutterbeat::film
{
namespace
{
// With every T over a denominator of at most 64 bits and below 2^24 seconds, T * R and the like fit 128 bits for every
// final rate that parseRate takes: what passes here never overflows later.
const time::Rational mostSeconds (10'000'000);
const auto mostDenominator = static_cast<time::Int128> (1) << 64;

/// True when fractions over a and over b meet in a denominator that leaves room.
bool haveRoom (time::Int128 a, time::Int128 b)
{
    const auto common = time::Rational (a, b).denominator(); // b without what it shares with a
    return a <= mostDenominator && common <= mostDenominator / a;
}
} // namespace

time::Rational Span::seconds() const
{
    return frames > 0 ? time::Rational (frames) / speed : made;
}

Result<FilmTime> FilmTime::of (std::vector<Span> given, const std::vector<std::string>& names)
{
    FilmTime film;
    film.spans.reserve (given.size());
    for (std::size_t i = 0; i < given.size(); ++i)
    {
        const Span& span = given[i];
        const std::string where = "shot " + (i < names.size() ? names[i] : std::to_string (i + 1));
        if (span.frames < 0 || (span.frames > 0 && span.speed.valid() && span.speed.sign() <= 0))
            return usageError (where, "has no running speed; choose one (16, 18, 200/11, 20, 240/11, 22, 24 film frames a second)");
        if (span.frames == 0 && span.made.valid() && span.made.sign() <= 0)
            return usageError (where, "is made, and a made one needs a length above zero seconds");
        film.spans.push_back ({ span, film.total, film.totalFrames });
        const auto part = span.frames > 0 ? span.speed.numerator() : span.made.denominator();
        const auto before = film.total.denominator();
        film.total += span.seconds();
        film.totalFrames += span.frames;
        if (! film.total.valid() || ! haveRoom (before, part))
            return Error{ ErrorCode::overflow, where,
                          std::string (span.frames > 0 ? "its running speed" : "its made length")
                              + " makes the exact sum of all times too long to hold; round it to a simpler fraction" };
        if (film.total > mostSeconds)
            return usageError (where, "makes the film longer than ten million seconds; look at its running speed and length");
    }
    return film;
}

time::Rational FilmTime::spanStart (std::size_t span) const
{
    return span < spans.size() ? spans[span].start : total;
}

std::int64_t FilmTime::spanFirst (std::size_t span) const
{
    return span < spans.size() ? spans[span].first : totalFrames;
}

std::size_t FilmTime::spanOf (std::int64_t filmFrame) const
{
    // Made spans share their first film frame with the span after them; the last of equals is the photographed one.
    const auto after =
        std::upper_bound (spans.begin(), spans.end(), filmFrame, [] (std::int64_t k, const Placed& p) { return k < p.first; });
    auto i = static_cast<std::size_t> (after - spans.begin());
    while (i > 0 && spans[i - 1].span.frames == 0)
        --i;
    return i > 0 ? i - 1 : 0;
}

time::Rational FilmTime::at (std::int64_t filmFrame) const
{
    if (filmFrame >= totalFrames)
        return total;
    const auto& placed = spans[spanOf (filmFrame)];
    return placed.start + time::Rational (filmFrame - placed.first) / placed.span.speed;
}

Shown FilmTime::shownAt (const time::Rational& seconds) const
{
    const auto after = std::upper_bound (spans.begin(), spans.end(), seconds,
                                         [] (const time::Rational& t, const Placed& p) { return t < p.start; });
    if (after == spans.begin())
        return {};
    auto i = static_cast<std::size_t> (after - spans.begin()) - 1;
    const auto& placed = spans[i];
    if (placed.span.frames == 0)
        return { i, 0 };
    const auto frames = (seconds - placed.start) * placed.span.speed;
    if (frames.valid())
        return { i, std::min (time::floorOf (frames), placed.span.frames - 1) };
    // Only this product was too long; every T can be held and compared.
    std::int64_t low = 0, high = placed.span.frames;
    while (high - low > 1)
    {
        const auto middle = low + (high - low) / 2;
        (at (placed.first + middle) <= seconds ? low : high) = middle;
    }
    return { i, low };
}

std::int64_t deliveredFrame (const time::Rational& seconds, const time::Rational& countingRate)
{
    return time::ceilOf (seconds * countingRate);
}
} // namespace shutterbeat::film
