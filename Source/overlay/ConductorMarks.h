#pragma once

#include "overlay/FlashRule.h"
#include "time/Rational.h"
#include "time/Result.h"

#include <cstdint>
#include <string>
#include <vector>

namespace shutterbeat::overlay
{
/// The sentence to be read before punches, flutters or flashes are first switched on.
extern const char* const flashCaution;

/// Which marks a hit is to have.
struct HitMarks
{
    std::int64_t delivered = 0; ///< the hit's delivered frame; may lie outside the picture
    int streamer = 0;           ///< seconds: 0 (none), 2, 3, 4 or 5
    bool punch = false;         ///< a disc that begins on the hit
    int flutter = 0;            ///< punches in turn with as long pauses, in place of the one: 0 (none), 3, 5 or 7
    bool flash = false;         ///< the whole picture, as long as a punch
    int weight = 0;             ///< 0 must, 1 should, 2 may: how broad the streamer is
};

/// One mark as one delivered frame shows it.
struct ShownMark
{
    enum class Kind
    {
        streamer,
        punch,
        flash
    };
    Kind kind = Kind::streamer;
    std::size_t hit = 0;     ///< index into what was planned
    time::Rational progress; ///< of a streamer: 0 at its start, 1 on the hit
    int weight = 0;

    friend bool operator== (const ShownMark&, const ShownMark&) = default;
};

/// How many delivered frames a punch lasts: 2 at 24 to 30, 4 at 48 to 60, and as long at other rates.
int punchFrames (const time::Rational& rate);

/// Which mark is on which delivered frame. A value, worked out once and drawn from.
class MarkPlan
{
public:
    MarkPlan() = default;

    /// What delivered frame `frame` shows: streamers first, then punches, then a flash.
    [[nodiscard]] std::vector<ShownMark> at (std::int64_t frame) const;
    [[nodiscard]] bool empty() const { return runs.empty(); }

private:
    friend Result<MarkPlan> planMarks (const std::vector<HitMarks>& hits, const time::Rational& rate, bool cautionRead);

    struct Run
    {
        ShownMark mark;
        std::int64_t first = 0, end = 0; ///< delivered frames
        std::int64_t hit = 0;            ///< of a streamer: where it arrives
    };
    std::vector<Run> runs; ///< by first
    std::int64_t longest = 0;
};

/// A streamer of n seconds begins round(n * rate) delivered frames before the hit and arrives on it. Punch and flash begin
/// on the hit. The punches of a flutter last half a punch each; the middle one begins on the hit.
/// Error usage: punches, flutters or flashes before the caution was read (the message is the caution); flashes that break
/// the flash rule; a streamer or flutter of another length than those named above.
Result<MarkPlan> planMarks (const std::vector<HitMarks>& hits, const time::Rational& rate, bool cautionRead);
} // namespace shutterbeat::overlay
