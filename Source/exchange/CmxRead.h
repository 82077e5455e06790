#pragma once

#include "exchange/CmxComments.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::exchange
{
/// How an event comes in.
enum class CmxTransition
{
    cut,
    dissolve,
    wipe,
    key
};

/// A speed line: frames of the source a second, as written. Zero is a freeze, below zero it runs backwards.
struct CmxSpeed
{
    time::Rational framesPerSecond;
    std::string text; ///< "036.0", so that a round trip repeats the line
    std::string reel, at;
};

/// A line of a list with four timecodes, and what the lines below say of it. Counts are frames from 00:00:00:00.
struct CmxEvent
{
    std::int64_t line = 1;
    std::int64_t number = 0;
    std::string reel, channel;
    CmxTransition transition = CmxTransition::cut;
    std::string transitionCode;        ///< as written: "C", "W001", "KB"
    std::int64_t transitionFrames = 0; ///< how long it takes
    std::int64_t sourceIn = 0, sourceOut = 0, recordIn = 0, recordOut = 0;
    bool dropFrame = false; ///< how its labels count
    std::optional<CmxSpeed> speed;
    std::string fromClip, toClip;
    std::vector<std::string> comments; ///< lines below it as they are, speed and FCM lines apart

    [[nodiscard]] bool picture() const; ///< its channel has video
    [[nodiscard]] bool black() const;   ///< reel BL or BLACK
    /// Record frames: they rule the picture's clock whatever a speed line or the source says.
    [[nodiscard]] std::int64_t length() const { return recordOut - recordIn; }
    /// Source speed over playing speed: 3/2 for `M2 AX 036.0` at 24, 0 for a freeze; 1 without a speed line.
    [[nodiscard]] time::Rational speedFactor (const time::Rate& rate) const;
};

/// A locator comment of another system: `* LOC: 01:00:01:14 RED text`.
struct CmxLocator
{
    std::int64_t line = 1;
    std::int64_t count = 0;
    std::string colour, text;
};

/// A stretch of the picture as a list has it, in record frames from the list's first picture.
struct CmxShot
{
    enum class Kind
    {
        shot,
        black, ///< an event of reel BL
        hole   ///< nothing stands there in the list
    };
    Kind kind = Kind::shot;
    std::int64_t start = 0, length = 0;
    std::optional<std::size_t> event; ///< index into CmxList::events; none for a hole
};

/// A CMX3600 list as read.
struct CmxList
{
    std::string title;
    time::Rate rate;
    std::vector<CmxEvent> events; ///< in the list's order
    std::vector<CmxHit> hits;     ///< `* HIT` comments
    std::vector<CmxCue> cues;     ///< `* CUE` comments
    std::vector<CmxLocator> locators;
    std::vector<BadLine> bad;
    std::vector<std::string> warnings;

    /// Record count of the first picture: where the film starts.
    [[nodiscard]] std::int64_t start() const;
    /// The picture in order of record time: shots, black and holes. A dissolve or wipe begins with the frame at which its
    /// new picture comes in; lines without length have no shot.
    [[nodiscard]] std::vector<CmxShot> shots() const;
};

/// Reads a CMX3600 list (handbook 7.1): cuts, dissolves, wipes, keys, speed lines, comments, locators. Takes any line ends, a
/// byte order mark, blank lines, `*` with or without a blank, UTF-8 else Latin-1, any case of key words. The list does not
/// say its rate: `rate` does; at 29.97 and 59.94 an FCM line says how what follows counts, until the next. Bad lines are
/// named with number and reason, good ones kept. Error: a rate without timecode, or not one readable event.
Result<CmxList> readCmxList (std::string_view bytes, const time::Rate& rate);

/// The list as text again: unchanged lists say the same events, speed lines and comments. FCM comes from how each event
/// counts. CRLF, UTF-8.
std::string cmxListText (const CmxList& list);
} // namespace shutterbeat::exchange
