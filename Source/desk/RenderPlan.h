#pragma once

#include "film/Timings.h"
#include "time/Result.h"

#include <cstdint>
#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// What a frame of a rendered movie shows.
struct RenderedFrame
{
    enum class Kind
    {
        leader, ///< the countdown
        pop,    ///< the one frame two seconds before or after
        black,  ///< nothing: leader beyond the pop, a made black
        film,   ///< a frame of a reel's file
        card    ///< a made card
    };
    Kind kind = Kind::black;
    std::int64_t delivered = 0; ///< from picture start; below zero in the leader

    // film
    std::string print;          ///< id
    std::size_t reelFile = 0;   ///< of the print
    std::int64_t fileFrame = 0; ///< of that file

    std::size_t shot = 0; ///< card: index in the edition

    std::optional<std::int64_t> filmFrame; ///< of the reel, inside the picture

    // leader
    int second = 0;        ///< seconds left, rounded up
    int frameOfSecond = 0; ///< from 0

    /// Whether both show the same picture (a countdown never does).
    [[nodiscard]] bool looksLike (const RenderedFrame& other) const;
};

/// A reel of an edition as one movie: leader, picture, what follows it.
class RenderPlan
{
public:
    /// leaderSeconds: 0 (none) to 60, counted in labels of the final rate, so that the movie's start label is picture start
    /// minus the leader; at a rate without timecode in seconds. pop: one frame two seconds before picture start and one two
    /// seconds after picture end, counted at the rate that delivered frames are counted at (48 frames at 24 and at 23.976
    /// from 24); asks for a leader of more than two seconds, and 10 is taken when none is given.
    /// Error usage: no such reel, a leader that can't be.
    static Result<RenderPlan> of (const film::Timings& timings, std::size_t reel, int leaderSeconds, bool pop);

    [[nodiscard]] std::int64_t leaderFrames() const { return leader; }
    [[nodiscard]] std::int64_t pictureFrames() const { return length; }
    [[nodiscard]] std::int64_t frames() const { return leader + length + tail; }
    /// Delivered frames of the pops: the one before picture start is below zero.
    [[nodiscard]] std::optional<std::int64_t> popBefore() const { return before; }
    [[nodiscard]] std::optional<std::int64_t> popAfter() const { return after; }
    /// Label of the movie's first frame with its days wrapped away; empty at a rate without timecode.
    [[nodiscard]] std::string startLabel() const;
    /// Frames in a second of the countdown.
    [[nodiscard]] int framesInSecond() const { return inSecond; }

    /// What movie frame i (0 to frames() - 1) shows. Error: a print that lacks a frame the edition names.
    [[nodiscard]] Result<RenderedFrame> at (std::int64_t i) const;

private:
    explicit RenderPlan (const film::Timings& from, std::size_t which)
        : timings (&from)
        , reel (which)
    {
    }
    [[nodiscard]] Result<RenderedFrame> picture (std::int64_t delivered) const;
    [[nodiscard]] Result<RenderedFrame> source (RenderedFrame frame, const std::string& print, std::int64_t sourceFrame) const;

    const film::Timings* timings;
    std::size_t reel;
    std::int64_t leader = 0, length = 0, tail = 0;
    std::optional<std::int64_t> before, after;
    int inSecond = 24, longest = 1;
};
} // namespace shutterbeat::desk
