#pragma once

#include "film/Place.h"
#include "music/TempoMap.h"
#include "spotting/Hit.h"

#include <optional>
#include <string>
#include <string_view>

namespace shutterbeat::spotting
{
/// What fills a cue.
enum class CueKind
{
    music,
    tacet,
    seenMusic, ///< "seen music"
    effect
};

/// How far a cue has come.
enum class CueStatus
{
    planned,
    written,
    mockedUp, ///< "mocked up"
    recorded,
    placed,
    approved
};

std::string_view cueKindName (CueKind kind);
Result<CueKind> parseCueKind (std::string_view text);
std::string_view cueStatusName (CueStatus status);
Result<CueStatus> parseCueStatus (std::string_view text);

/// What bar 1 beat 1 of a cue is pinned to: a hit with its lead, or a place, or (neither) the cue's in.
struct BarOne
{
    std::string hit;                  ///< id
    std::optional<film::Place> place; ///< when no hit is named
    time::Rational seconds;           ///< exact seconds from there; above zero is later

    friend bool operator== (const BarOne&, const BarOne&) = default;
};

/// One piece of music (or silence that is meant).
struct Cue
{
    std::string id;
    std::string number; ///< free text, such as 1M1
    std::string title;
    film::Place in;
    film::Place out; ///< exclusive: the first place that is not in the cue
    CueKind kind = CueKind::music;
    std::string mood;
    CueStatus status = CueStatus::planned;
    std::string version;
    std::optional<music::TempoMap> tempo; ///< none until chosen
    BarOne barOne;
    std::string note;
    Unknown unknown;

    friend bool operator== (const Cue&, const Cue&) = default;
};
} // namespace shutterbeat::spotting
