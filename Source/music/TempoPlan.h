#pragma once

#include "music/Meter.h"
#include "time/Rational.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::music
{
/// How the tempo goes on from a change to the next one.
enum class Course
{
    steady,
    rampInTime, ///< tempo linear in time
    rampInBeat  ///< tempo linear in beats
};

/// "steady", "ramp in time", "ramp in beat".
std::string_view courseName (Course course);
Result<Course> parseCourse (std::string_view text);

/// A tempo from a position on. All positions of a plan are exact quarter notes from bar 1 beat 1, below zero before it.
struct TempoChange
{
    time::Rational at;
    time::Rational beatsPerMinute{ 120 };
    time::Rational unit{ 1, 4 }; ///< the note value that is the beat, as a part of a whole note
    Course course = Course::steady;
    std::optional<time::Rational> reached; ///< ramps: the tempo at the end, in the same unit; none: the next change's

    friend bool operator== (const TempoChange&, const TempoChange&) = default;
};

/// The meter from a bar on.
struct MeterChange
{
    std::int64_t bar = 1;
    Meter meter;

    friend bool operator== (const MeterChange&, const MeterChange&) = default;
};

/// The key from a bar on.
struct KeyChange
{
    std::int64_t bar = 1;
    int fifths = 0; ///< sharps, below zero flats, -7 to 7
    bool minor = false;

    friend bool operator== (const KeyChange&, const KeyChange&) = default;
};

/// A stretch that lasts as long as it is given, whatever the tempo: a hold (fermata) on a note, or a free passage.
/// No clicks sound in it; a hold's first note still has its click.
struct Stretch
{
    time::Rational from, to;
    time::Rational seconds;
    bool hold = true;

    friend bool operator== (const Stretch&, const Stretch&) = default;
};

/// What a person sets about a cue's beats; music/TempoMap.h works out all times from it.
struct TempoPlan
{
    time::Rational pickup;                            ///< upbeat before bar 1, in quarter notes; shorter than a bar
    std::vector<MeterChange> meters{ MeterChange{} }; ///< by bar; the first is bar 1's
    std::vector<TempoChange> tempos{ TempoChange{} }; ///< by position; the first also holds before itself
    std::vector<Stretch> stretches;                   ///< by position, apart from each other
    std::vector<KeyChange> keys;                      ///< by bar; may be empty

    friend bool operator== (const TempoPlan&, const TempoPlan&) = default;
};

/// Quarter notes a minute.
time::Rational quartersPerMinute (const time::Rational& beatsPerMinute, const time::Rational& unit);
} // namespace shutterbeat::music
