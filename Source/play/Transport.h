#pragma once

#include "film/Timings.h"
#include "play/Clock.h"
#include "play/Course.h"

#include <memory>
#include <optional>
#include <vector>

namespace shutterbeat::play
{
/// A stretch of the film: from a place up to, not including, another.
struct Range
{
    film::Position in, out;
};

/// Where the film stands and how it runs. Knows no pictures and no threads: it reads a clock when it is asked.
/// Playing as delivered shows delivered frame j for exactly its time; what j shows is for Timings to say (DESIGN 2).
class Transport
{
public:
    /// The clock has to outlive the transport, or its place be taken by another first.
    explicit Transport (const Clock& clock)
        : theClock (&clock)
    {
    }

    /// Another clock from now on. The film stands where the old one says it does, to the nanosecond, and runs on from there.
    void setClock (const Clock& clock);
    [[nodiscard]] const Clock& clock() const { return *theClock; }

    /// Takes new timings and stays on the picture that was on screen, or on the nearest there is. Playing goes on. A loop
    /// keeps its pictures; it ends when they are gone.
    void setTimings (std::shared_ptr<const film::Timings> timings);
    /// No film.
    void clear();
    [[nodiscard]] bool ready() const { return timings != nullptr; }

    [[nodiscard]] bool playing() const { return isPlaying; }
    /// How many times the pace: 1 when playing on, -2 when shuttling back at twice the pace, 0 when standing.
    [[nodiscard]] time::Rational factor() const { return isPlaying ? times : time::Rational (0); }
    /// The picture that is on screen.
    [[nodiscard]] const film::Position& position() const { return now.at; }
    /// The delivered frame that is on screen, from picture start of its reel.
    [[nodiscard]] std::int64_t delivered() const { return now.delivered; }
    /// The same over all reels.
    [[nodiscard]] std::int64_t deliveredInAll() const;
    /// Exact seconds of the run at the last update() or move, over all reels; what sounds are placed by when it runs as
    /// delivered.
    [[nodiscard]] const time::Rational& seconds() const { return lastSeconds; }
    /// Rises at every start, stop, jump, change of speed or clock and turn of a loop: what runs along with the film, as sounds
    /// do, is then to be placed anew, at the moment below.
    [[nodiscard]] std::uint64_t runs() const { return runCount; }
    /// The run stands, or stood, at `seconds` when the clock said `nanoseconds`.
    struct Moment
    {
        time::Rational seconds;
        std::int64_t nanoseconds = 0;
    };
    [[nodiscard]] Moment lastStart() const { return { anchorSeconds, anchorNanoseconds }; }
    /// -1 when the last move was back, else 1: where reading ahead goes.
    [[nodiscard]] int direction() const { return heading; }

    /// Takes another pace and stays on the picture on screen; playing goes on.
    void setPace (const Pace& pace);
    [[nodiscard]] const Pace& pace() const { return thePace; }

    /// Starts from what is on screen; from the first picture when the last is on screen; from the loop's begin when it
    /// stands outside the loop.
    void play() { playAt (1); }
    /// Plays at `factor` times the pace, below zero back; 0 pauses. While playing only the speed changes.
    void playAt (const time::Rational& factor);
    void pause();
    void toggle();
    /// One step faster on (1) or back (-1) along shuttleSteps(); through standing still on the way from one to the other.
    void shuttle (int direction);
    /// One film frame at once, then on at a quarter of the pace until pause(): for a key that is held down.
    void crawl (int direction);

    /// Seconds by which playFromBefore() and every round of a loop begin earlier; at or above zero.
    void setPreRoll (const time::Rational& seconds);
    [[nodiscard]] const time::Rational& preRoll() const { return rollSeconds; }
    /// Plays from the pre-roll before what is on screen.
    void playFromBefore();

    /// Plays this stretch over and over; none: straight on. False when its out is not after its in; nothing changes then.
    bool setLoop (const std::optional<Range>& range);
    [[nodiscard]] const std::optional<Range>& loop() const { return theLoop; }

    /// Reads the clock. True when another delivered frame is to be shown, or playing has ended at the film's end.
    bool update();

    /// What would be on screen this many nanoseconds after the last update() if nothing is touched.
    [[nodiscard]] OnScreen shownAfter (std::int64_t nanoseconds) const;

    /// Shows the picture at a position (the last picture for picture end, the first or last for one outside).
    /// While playing, playing goes on from there.
    void goTo (const film::Position& position);
    /// To a delivered frame over all reels, counted as it is shown; outside: the first or the last.
    void goToDelivered (std::int64_t deliveredInAll);
    /// Film frames forward or back; stops playing.
    void step (std::int64_t filmFrames);
    /// To the first stop after, or the last before, the picture on screen; false when there is none.
    bool goToNext (const std::vector<film::Position>& stops);
    bool goToPrevious (const std::vector<film::Position>& stops);

private:
    void show (const OnScreen& shown) { now = shown; }
    void anchor (const time::Rational& seconds);
    void anchorHere();
    [[nodiscard]] time::Rational secondsNow() const;
    [[nodiscard]] time::Rational loopStart() const;
    [[nodiscard]] time::Rational turned (const time::Rational& seconds) const;
    void remake();

    const Clock* theClock;
    std::shared_ptr<const film::Timings> timings;
    std::optional<Course> course;
    Pace thePace;
    OnScreen now;
    bool isPlaying = false;
    time::Rational times{ 1 };
    int heading = 1;
    time::Rational rollSeconds;
    std::optional<Range> theLoop;
    time::Rational loopIn, loopOut; ///< of theLoop, in seconds of the run
    bool inLoop = false;            ///< played from inside the loop: it turns at its end
    std::int64_t anchorNanoseconds = 0;
    time::Rational anchorSeconds; ///< where the run stood at anchorNanoseconds
    time::Rational lastSeconds;
    std::uint64_t runCount = 0;
};

/// The speeds of shuttle(): -8, -4, -2, -1, -1/2, 0, 1/2, 1, 2, 4, 8 times the pace.
const std::vector<time::Rational>& shuttleSteps();
} // namespace shutterbeat::play
