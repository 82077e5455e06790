#pragma once

#include "music/TempoPlan.h"

#include <memory>

namespace shutterbeat::music
{
/// Where in a bar: "bar 12 beat 3".
struct BarBeat
{
    std::int64_t bar = 1;    ///< 0 and below before bar 1; a pickup is the end of bar 0
    int beat = 1;            ///< from 1
    time::Rational past;     ///< quarter notes after that beat
    time::Rational fraction; ///< the same as a part of the beat, 0 up to below 1

    friend bool operator== (const BarBeat&, const BarBeat&) = default;
};

/// "bar 12 beat 3", "bar 12 beat 3+1/2".
std::string barBeatText (const BarBeat& at);
/// Reads "12", "12.3" (bar and beat), "12.3+1/2", "bar 12 beat 3". Error: none of these, or a beat below 1.
Result<BarBeat> parseBarBeat (std::string_view text);

/// Beats and bars to exact seconds and back. Positions are quarter notes from bar 1 beat 1, seconds are counted from there
/// too; both are below zero before it. Immutable; copies share what was worked out.
/// A steady stretch is exact. A ramp's time is worked out in long double and set to the nearest nanosecond, and what
/// follows is exact from there (DESIGN 8); so is the start of a stretch whose fraction has outgrown 10^12.
class TempoMap
{
public:
    /// Error: an order that is broken, a tempo outside 1 to 1000 beats or 4000 quarter notes a minute, a ramp without an
    /// end, stretches that overlap each other or a change, a pickup of a bar or more, and the like; each names its place.
    static Result<TempoMap> of (TempoPlan plan);
    /// One tempo of quarter notes in 4/4. Error: as of().
    static Result<TempoMap> steady (const time::Rational& beatsPerMinute);

    [[nodiscard]] const TempoPlan& plan() const { return data->plan; }
    /// The tempo that bar 1 (or the pickup) begins with.
    [[nodiscard]] const TempoChange& opening() const { return data->plan.tempos.front(); }

    /// Exact seconds of a position; at a stretch's start its beginning.
    [[nodiscard]] time::Rational timeOf (const time::Rational& quarters) const;
    /// The position at a moment: exact in steady stretches, within a nanosecond's music in ramps.
    [[nodiscard]] time::Rational beatOf (const time::Rational& seconds) const;
    /// Quarter notes a minute right after a position; in a ramp the nearest millionth.
    [[nodiscard]] time::Rational tempoAt (const time::Rational& quarters) const;
    /// The hold or free passage that a position lies in, or null.
    [[nodiscard]] const Stretch* stretchAt (const time::Rational& quarters) const;

    [[nodiscard]] const Meter& meterOf (std::int64_t bar) const;
    /// Position of a bar's beat 1, of bars below 1 too.
    [[nodiscard]] time::Rational barStart (std::int64_t bar) const;
    [[nodiscard]] BarBeat barBeatOf (const time::Rational& quarters) const;
    /// Error: a beat that the bar does not have.
    [[nodiscard]] Result<time::Rational> positionOf (const BarBeat& at) const;
    /// Where the written music begins: bar 1 beat 1, or before it by the pickup.
    [[nodiscard]] time::Rational start() const { return -data->plan.pickup; }

    /// A run of one law of tempo, for who writes the map down in steps.
    struct Piece
    {
        time::Rational from, to;    ///< position; the last piece has no end: to equals from
        time::Rational seconds;     ///< of `from`
        time::Rational duration;    ///< from `from` to `to`; 0 in the last
        time::Rational first, last; ///< quarter notes a minute at both ends
        Course course = Course::steady;
        bool stretch = false;
    };
    [[nodiscard]] const std::vector<Piece>& pieces() const { return data->pieces; }

    friend bool operator== (const TempoMap& a, const TempoMap& b) { return a.data == b.data || a.plan() == b.plan(); }

private:
    struct Data
    {
        TempoPlan plan;
        std::vector<Piece> pieces;            ///< by position; the first reaches back without end
        std::vector<time::Rational> barHeads; ///< position of each meter change
    };

    TempoMap() = default;
    std::shared_ptr<const Data> data;
};

/// The same bars with every tempo times `factor`, stretches shortened alike: how bars stay on the picture when its speed
/// changes. Error: a tempo out of range.
Result<TempoMap> scaled (const TempoMap& map, const time::Rational& factor);
} // namespace shutterbeat::music
