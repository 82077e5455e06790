#pragma once

#include "time/Rational.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>

namespace shutterbeat::film
{
/// A photographed picture: moves with it wherever it goes.
struct PicturePlace
{
    std::string print;          ///< id
    std::int64_t filmFrame = 0; ///< source film frame of the print
    int instance = 0;           ///< which use of that picture in the edition, from 0

    friend bool operator== (const PicturePlace&, const PicturePlace&) = default;
};

/// Which end of a shot.
enum class Edge
{
    head, ///< its first frame
    tail  ///< one past its last: the head of its successor
};

/// An edge of a shot plus an offset in film frames, or in seconds inside a made one: stands as long as the shot does.
struct EdgePlace
{
    std::string shot; ///< id
    Edge edge = Edge::head;
    std::variant<std::int64_t, time::Rational> offset = std::int64_t{ 0 }; ///< film frames, or exact seconds
    int instance = 0;                                                      ///< which use of that shot, from 0

    friend bool operator== (const EdgePlace&, const EdgePlace&) = default;
};

/// Before picture start or after picture end, in exact seconds anchored to it (DESIGN 6).
struct OutsidePlace
{
    bool afterEnd = false;  ///< from picture end, else from picture start
    time::Rational seconds; ///< below zero before picture start, zero or above after picture end

    friend bool operator== (const OutsidePlace&, const OutsidePlace&) = default;
};

/// Where a hit or the end of a cue is pinned. Never a time: times are computed from it.
using Place = std::variant<PicturePlace, EdgePlace, OutsidePlace>;

/// A place as a person writes it, before it is looked up in an edition.
struct TypedPlace
{
    enum class Kind
    {
        filmFrame, ///< film:1000
        fileFrame, ///< file:1389
        timecode,  ///< tc:01:00:55:14
        feet,      ///< feet:62+08
        edge,      ///< edge:B.head+0, edge:B.tail-1/2s, edge:B#2.head+0 for the second use of B
        seconds,   ///< -4.0s before picture start, 12.5s in the picture
        afterEnd   ///< end+2s, end+0
    };
    Kind kind = Kind::filmFrame;
    int reel = 1;           ///< r2:film:1000 is the second reel's
    std::int64_t frame = 0; ///< filmFrame, fileFrame
    time::Rational seconds; ///< seconds, afterEnd
    std::string text;       ///< timecode, feet; the shot's id or name for edge, with its #2 if it has one
    EdgePlace edge;         ///< edge; its shot is empty, and its instance 0, until looked up
};

/// What a bare number means.
enum class BareNumber
{
    filmFrame, ///< in a book
    fileFrame  ///< for a file
};

/// Reads film:1000, file:1389, tc:01:00:55:14, feet:62+08, edge:B.head+0, -4.0s, 12.5s, end+2s, a bare number, and any of
/// these after rN: for reel N. Error: none of these; the message lists them.
Result<TypedPlace> parsePlace (std::string_view text, BareNumber bare = BareNumber::filmFrame);

/// The offset of an edge place: "+0", "-6", "+3/2s".
std::string offsetText (const std::variant<std::int64_t, time::Rational>& offset);
} // namespace shutterbeat::film
