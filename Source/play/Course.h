#pragma once

#include "film/Timings.h"

#include <memory>
#include <vector>

namespace shutterbeat::play
{
/// How fast the film is run.
enum class Running
{
    delivered, ///< as the final picture runs: every delivered frame for 1/R
    book,      ///< every film frame for 1/r at the book's running speeds, whatever the final rate and fill
    oneSpeed   ///< every film frame for 1/speed; made cards keep their seconds
};

struct Pace
{
    Running running = Running::delivered;
    time::Rational speed{ 18 }; ///< film frames a second, for oneSpeed

    friend bool operator== (const Pace&, const Pace&) = default;
};

/// What is on screen at a moment.
struct OnScreen
{
    film::Position at;
    std::int64_t delivered = 0; ///< delivered frame of its reel
};

/// When each picture of an edition is on screen if it is run at a pace, in exact seconds from the first picture of the first
/// reel, reels one after another. Immutable.
class Course
{
public:
    Course (std::shared_ptr<const film::Timings> timings, const Pace& pace);

    /// Exact seconds of the whole run.
    [[nodiscard]] const time::Rational& length() const { return whole; }
    /// What is on screen from `seconds` on, or with `before` set just before it: what running back comes to there. Outside
    /// the film the first or last picture.
    [[nodiscard]] OnScreen at (const time::Rational& seconds, bool before = false) const;
    /// When what is on screen came there running on, and when it leaves.
    [[nodiscard]] time::Rational startOf (const OnScreen& shown) const;
    [[nodiscard]] time::Rational endOf (const OnScreen& shown) const;

private:
    struct Leg
    {
        time::Rational start;
        time::Rational perSecond; ///< film frames a second; delivered frames in a made one
        std::int64_t pictures = 0;
        film::Position head;
        std::int64_t headDelivered = 0;
    };
    [[nodiscard]] std::int64_t numberIn (const Leg& leg, const OnScreen& shown) const;

    std::shared_ptr<const film::Timings> timings;
    bool asDelivered = true;
    std::vector<Leg> legs; ///< one a shot; none as delivered
    time::Rational whole;
};

/// Film on screen at the head of a position (the last picture for picture end, the first or last for one outside).
OnScreen onScreen (const film::Timings& timings, const film::Position& position);
} // namespace shutterbeat::play
