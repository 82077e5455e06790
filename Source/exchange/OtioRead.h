#pragma once

#include "exchange/CsvTable.h"
#include "time/Rate.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// A clip of a timeline. Times are exact seconds from the timeline's first frame.
struct OtioClip
{
    std::string name, path;              ///< path: the names of what holds it, "tracks / picture"
    std::string media;                   ///< where its media is said to be, else the name its media has; may be empty
    std::size_t track = 0;               ///< of the outermost stack, from 0
    bool video = true;                   ///< the kind of its innermost track
    time::Rational start, duration;      ///< what is seen of it
    time::Rational sourceStart;          ///< in its media
    std::optional<time::Rational> speed; ///< of a time warp: 0 for a freeze
};

/// A marker at its place in the whole timeline.
struct OtioMarker
{
    std::string name, comment, colour, on;   ///< on: the name of what holds it
    time::Rational start, duration;          ///< seconds from the timeline's first frame
    bool outside = false;                    ///< it lies in a part of its clip or stack that is trimmed away
    std::map<std::string, std::string> ours; ///< text members of its metadata under "shutterbeat"
};

/// A timeline as read.
struct OtioTimeline
{
    std::string name;
    time::Rate rate;
    std::optional<time::Rational> globalStart; ///< seconds: the label count of the first frame over the rate
    std::vector<OtioClip> clips;
    std::vector<OtioMarker> markers;
    std::vector<std::string> notes; ///< schemas that mean nothing here, items that could not be placed

    /// The frame at the timeline's rate nearest to a moment.
    [[nodiscard]] std::int64_t frameOf (const time::Rational& seconds) const { return time::roundOf (seconds * rate.perSecond); }
};

/// Reads a timeline: clips, gaps, transitions, stacks and tracks within each other, markers on any of them, of older and newer
/// schemas alike. A marker's time is that of the item that holds it, and is carried outward through every trim (CASES B32).
/// Rates within 0.005 of a rate of timecode are that rate, values within a ten-thousandth of a whole frame are that frame
/// (B33). What is not known is named in the notes, and the rest is read. Error: not JSON, or no timeline in it.
Result<OtioTimeline> readOtio (std::string_view bytes);

/// The rate that a number read from a file means: 23.98 and 23.976024627685547 are 24000/1001. Error: not above zero.
Result<time::Rational> rateFromNumber (double number);
} // namespace shutterbeat::exchange
