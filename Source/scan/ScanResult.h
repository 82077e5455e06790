#pragma once

#include "film/Cadence.h"
#include "film/Shot.h"
#include "time/Rational.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::scan
{
/// A shot of one file as the scan found it. Ends are exclusive.
struct FoundShot
{
    std::int64_t firstFile = 0;
    std::int64_t endFile = 0;
    std::int64_t firstFilm = 0; ///< film frames behind the cadence
    std::int64_t endFilm = 0;
    film::ShotKind kind = film::ShotKind::shot;
    double strength = 0; ///< of the change at its head, 0 to 1; the first shot has 1
    double card = 0;     ///< how much it looks like a card, 0 to 1

    friend bool operator== (const FoundShot&, const FoundShot&) = default;
};

/// What else happens along a file.
enum class SpanKind
{
    flash,    ///< a few pictures much brighter than those round them; no cut
    dip,      ///< a few pictures much darker; no cut
    damage,   ///< a few pictures unlike those round them, which go on as before, or that could not be decoded
    black,    ///< nothing to see, dark; a fade through black is one such gap
    white,    ///< nothing to see, bright
    fade,     ///< the picture sinks into black or white, or rises out of it
    iris,     ///< the picture closes to black from its edges, or opens
    dissolve, ///< one shot turns into the next over several pictures, all of the picture at once
    wipe      ///< the same, part after part of the picture
};

/// "flash", "dip", "damage", "black", "white", "fade", "iris", "dissolve" or "wipe".
std::string_view spanKindName (SpanKind kind);

/// A stretch of file frames, end exclusive.
struct Span
{
    std::int64_t first = 0;
    std::int64_t end = 0;
    SpanKind kind = SpanKind::flash;
    double strength = 1; ///< how plain it is, 0 to 1

    friend bool operator== (const Span&, const Span&) = default;
};

/// Pictures missing within a shot, as a cement splice leaves it: the same view goes on a little further along.
struct FoundJoin
{
    std::int64_t frame = 0; ///< first file frame after it
    double strength = 0;    ///< 0 to 1; above about half it is worth a look

    friend bool operator== (const FoundJoin&, const FoundJoin&) = default;
};

/// How sure the cadence of a stretch is, and what it is.
enum class CadenceKind
{
    plain,     ///< moves, and nothing is repeated
    regular,   ///< a cadence beyond doubt
    still,     ///< nothing moves: how many film frames lie in it can't be told
    blended,   ///< film frames are mixed with their neighbours
    irregular, ///< repeats, but in no cadence
    unsure     ///< too short, or too little to go by
};

/// "plain", "regular", "still", "blended", "irregular" or "not sure".
std::string_view cadenceKindName (CadenceKind kind);

/// Neighbouring shots, or parts of one, of the same cadence. Ends are exclusive.
struct CadenceStretch
{
    std::int64_t firstFile = 0;
    std::int64_t endFile = 0;
    CadenceKind kind = CadenceKind::unsure;
    std::vector<int> cycle;              ///< file frames per film frame, when regular
    std::optional<time::Rational> speed; ///< film frames a second it was padded for, when regular and the file's rate is known

    friend bool operator== (const CadenceStretch&, const CadenceStretch&) = default;
};

/// What a scan found in one file.
struct ScanResult
{
    std::int64_t fileFrames = 0;
    std::vector<FoundShot> shots; ///< without gaps, from 0 to fileFrames
    std::vector<Span> spans;      ///< rising by first
    std::vector<FoundJoin> joins; ///< strongest first; they end no shot
    film::Cadence cadence;
    std::vector<CadenceStretch> stretches; ///< without gaps, from 0 to fileFrames
    std::string cadenceSaid;               ///< in words: "measured 2:1:1:1, 20 film frames a second at 25, sure"
    bool cadenceSure = false;              ///< a cadence of repeats was measured beyond doubt
    std::optional<time::Rational>
        askedSpeed;                 ///< film frames a second the file was padded for; only when sure and the same throughout
    std::vector<std::string> notes; ///< sentences for the user
    std::vector<float> curve;       ///< per file frame the measure the threshold cuts, for drawing: 0 to 1
};
} // namespace shutterbeat::scan
