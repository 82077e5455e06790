#pragma once

#include "Catch.h"
#include "film/Timings.h"

#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// A print of one reel whose file repeats nothing.
inline film::Print print (std::int64_t filmFrames, const std::string& id = "p1", const time::Gauge& gauge = {})
{
    film::ReelFile reel;
    reel.path = id + ".mov";
    reel.cadence = film::Cadence::oneToOne (filmFrames);
    return { id, "print " + id, gauge, { reel }, {}, {} };
}

inline film::Shot shot (const std::string& id, std::int64_t first, std::int64_t end, const std::string& from = "p1")
{
    film::Shot s;
    s.id = id;
    s.name = id;
    s.print = from;
    s.first = first;
    s.end = end;
    return s;
}

inline film::Shot made (const std::string& id, const time::Rational& seconds)
{
    film::Shot s;
    s.id = id;
    s.name = id;
    s.kind = film::ShotKind::card;
    s.made = seconds;
    return s;
}

inline film::Shot atSpeed (film::Shot s, const time::Rational& speed)
{
    s.speed = speed;
    return s;
}

inline film::Edition edition (std::vector<film::Shot> shots, const time::Rational& speed = 18)
{
    film::Edition e;
    e.speed = speed;
    e.shots = std::move (shots);
    return e;
}

/// "25", "25 f 24", "29.97df f 30": a final rate, true or frame for frame.
inline film::Delivery delivery (const std::string& text)
{
    const auto space = text.find (" f ");
    film::Delivery d;
    const auto rate = time::parseRate (text.substr (0, space));
    REQUIRE (rate);
    d.rate = rate->value;
    if (space != std::string::npos)
    {
        const auto from = film::parseFill ("from:" + text.substr (space + 3));
        REQUIRE (from);
        d.from = *from;
    }
    return d;
}

inline film::Timings timings (film::Edition e, const std::string& rate, std::vector<film::Print> prints = { print (1'000'000) })
{
    auto made = film::Timings::of (std::move (prints), std::move (e), delivery (rate));
    INFO ((made ? "" : made.error().text()));
    REQUIRE (made);
    return std::move (*made);
}

/// One uncut film.
inline film::Timings oneSpeed (std::int64_t frames, const time::Rational& speed, const std::string& rate)
{
    return timings (edition ({ shot ("s1", 0, frames) }, speed), rate);
}

inline film::PlaceTimes timesAt (const film::Timings& t, std::int64_t filmFrame, std::size_t reel = 0)
{
    const auto at = t.atFilmFrame (filmFrame, reel);
    REQUIRE (at);
    return t.times (*at);
}

inline film::Position found (const film::Timings& t, const std::string& text)
{
    const auto typed = film::parsePlace (text);
    INFO (text << (typed ? "" : ": " + typed.error().text()));
    REQUIRE (typed);
    const auto at = t.find (*typed);
    INFO ((at ? "" : at.error().text()));
    REQUIRE (at);
    return *at;
}

inline Error refusal (const film::Timings& t, const std::string& text)
{
    const auto typed = film::parsePlace (text);
    INFO (text);
    if (! typed)
        return typed.error();
    const auto at = t.find (*typed);
    REQUIRE_FALSE (at);
    return at.error();
}
} // namespace shutterbeat::tests
