#include "play/Transport.h"

#include "play/Reels.h"

#include <algorithm>

namespace shutterbeat::play
{
const std::vector<time::Rational>& shuttleSteps()
{
    static const std::vector<time::Rational> steps{ -8, -4, -2, -1, { -1, 2 }, 0, { 1, 2 }, 1, 2, 4, 8 };
    return steps;
}

// ---- Timings, pace and clock

void Transport::setTimings (std::shared_ptr<const film::Timings> changed)
{
    if (! changed)
        return clear();
    const bool same = timings != nullptr;
    film::Position there = changed->shotHead (0);
    std::int64_t held = 0; // delivered frames that a repeated picture has already been on screen
    const auto again = [&] (const film::Position& position) { return changed->find (timings->placeAt (position)); };
    std::optional<Range> kept;
    if (same)
    {
        held = now.delivered - timings->times (now.at).delivered;
        if (const auto found = again (now.at))
            there = *found;
        else
        {
            const auto spot = reelSpotOf (*changed, play::deliveredInAll (*timings, now.at));
            if (const auto near = changed->atDelivered (spot.delivered, spot.reel))
                there = *near;
        }
        if (theLoop)
        {
            const auto in = again (theLoop->in), out = again (theLoop->out);
            if (in && out)
                kept = Range{ *in, *out };
        }
    }
    const bool sameRate = same && timings->delivery() == changed->delivery();
    timings = std::move (changed);
    auto shown = onScreen (*timings, there);
    if (sameRate && held > 0)
        if (const auto still = timings->pictureAt (shown.delivered + held, shown.at.reel); still && still->shot == shown.at.shot)
            shown.delivered += held;
    show (shown);
    theLoop.reset();
    remake();
    setLoop (kept);
    anchorHere();
}

void Transport::clear()
{
    timings.reset();
    course.reset();
    theLoop.reset();
    now = {};
    isPlaying = false;
    lastSeconds = 0;
}

void Transport::setPace (const Pace& pace)
{
    if (pace == thePace)
        return;
    update();
    thePace = pace;
    if (! timings)
        return;
    remake();
    anchorHere();
}

void Transport::remake()
{
    course.emplace (timings, thePace);
    if (theLoop)
    {
        loopIn = course->startOf (onScreen (*timings, theLoop->in));
        // A loop up to picture end holds the last picture too.
        loopOut = theLoop->out.where == film::Position::Where::end ? course->endOf (onScreen (*timings, theLoop->out))
                                                                   : course->startOf (onScreen (*timings, theLoop->out));
    }
}

void Transport::setClock (const Clock& clock)
{
    if (&clock == theClock)
        return;
    update();
    theClock = &clock;
    anchor (lastSeconds);
}

std::int64_t Transport::deliveredInAll() const
{
    return timings ? deliveredBefore (*timings, now.at.reel) + now.delivered : 0;
}

// ---- Running

time::Rational Transport::secondsNow() const
{
    const auto elapsed = times * time::Rational (std::max<std::int64_t> (0, theClock->nanoseconds() - anchorNanoseconds), second);
    const auto exact = anchorSeconds + elapsed;
    // A book of so many odd speeds that its times fill 128 bits leaves no room for the clock's: then to the nanosecond.
    return exact.valid() ? exact
                         : time::Rational (static_cast<std::int64_t> (time::toDouble (anchorSeconds) * 1e9), second) + elapsed;
}

time::Rational Transport::loopStart() const
{
    return std::max (time::Rational (0), loopIn - rollSeconds);
}

void Transport::anchor (const time::Rational& seconds)
{
    ++runCount;
    anchorNanoseconds = theClock->nanoseconds();
    anchorSeconds = lastSeconds = seconds;
    inLoop =
        theLoop && (times.sign() < 0 ? loopStart() < seconds && seconds <= loopOut : loopStart() <= seconds && seconds < loopOut);
}

/// From the begin of what is on screen, or from its end when running back: it stays there for its whole time.
void Transport::anchorHere()
{
    if (course)
        anchor (isPlaying && times.sign() < 0 ? course->endOf (now) : course->startOf (now));
}

void Transport::playAt (const time::Rational& factor)
{
    if (! timings)
        return;
    if (factor.sign() == 0)
        return pause();
    if (isPlaying)
    {
        update();
        if (! isPlaying)
            return playAt (factor);
        const auto there = lastSeconds;
        times = factor;
        heading = factor.sign();
        return anchor (there);
    }
    times = factor;
    heading = factor.sign();
    isPlaying = true;
    if (heading > 0 && course->endOf (now) >= course->length())
        show (course->at (0));
    else if (heading < 0 && course->startOf (now).sign() <= 0)
        show (course->at (course->length(), true));
    anchorHere();
    if (theLoop && ! inLoop)
    {
        const auto from = heading > 0 ? loopStart() : loopOut;
        show (course->at (from, heading < 0));
        anchor (from);
    }
}

void Transport::pause()
{
    update();
    isPlaying = false;
    if (course)
        anchorHere();
}

void Transport::toggle()
{
    isPlaying ? pause() : play();
}

void Transport::shuttle (int direction)
{
    const auto& steps = shuttleSteps();
    const auto here = factor();
    // The next step beyond the speed it runs at, which may be one between them.
    if (direction > 0)
    {
        const auto next = std::upper_bound (steps.begin(), steps.end(), here);
        playAt (next == steps.end() ? steps.back() : *next);
    }
    else
    {
        const auto next = std::lower_bound (steps.begin(), steps.end(), here);
        playAt (next == steps.begin() ? steps.front() : *std::prev (next));
    }
}

void Transport::crawl (int direction)
{
    step (direction < 0 ? -1 : 1);
    playAt ({ direction < 0 ? -1 : 1, 4 });
}

void Transport::setPreRoll (const time::Rational& seconds)
{
    rollSeconds = std::max (time::Rational (0), seconds);
}

void Transport::playFromBefore()
{
    if (! timings)
        return;
    pause();
    const auto from = std::max (time::Rational (0), course->startOf (now) - rollSeconds);
    times = 1;
    heading = 1;
    isPlaying = true;
    show (course->at (from));
    anchor (from);
}

bool Transport::setLoop (const std::optional<Range>& range)
{
    if (! range || ! timings)
    {
        theLoop.reset();
        inLoop = false;
        return true;
    }
    if (! comesBefore (range->in, range->out))
        return false;
    update();
    const auto before = theLoop;
    theLoop = range;
    remake();
    if (loopOut <= loopIn)
    {
        theLoop = before;
        remake();
        return false;
    }
    anchor (lastSeconds);
    return true;
}

/// Where a moment of the run lies when the loop has turned. Rounds that have gone by whole are left out; the rest of a
/// round stays exact.
time::Rational Transport::turned (const time::Rational& seconds) const
{
    const bool back = times.sign() < 0;
    const auto first = loopStart();
    if (! inLoop || (back ? seconds > first : seconds < loopOut))
        return seconds;
    const auto round = loopOut - first;
    const auto over = back ? first - seconds : seconds - loopOut;
    const auto rest = over - time::Rational (time::floorOf (over / round)) * round;
    return back ? loopOut - rest : first + rest;
}

OnScreen Transport::shownAfter (std::int64_t nanoseconds) const
{
    if (! isPlaying || ! course)
        return now;
    return course->at (turned (lastSeconds + times * time::Rational (nanoseconds, 1'000'000'000)), times.sign() < 0);
}

bool Transport::update()
{
    if (! timings || ! isPlaying)
        return false;
    auto there = secondsNow();
    const bool back = times.sign() < 0;
    if (const auto inside = turned (there); inside != there)
        anchor (there = inside);
    const bool ended = back ? there.sign() <= 0 : there >= course->length();
    const auto shown = course->at (there, back);
    lastSeconds = std::clamp (there, time::Rational (0), course->length());
    const bool another = ended || shown.delivered != now.delivered || shown.at.reel != now.at.reel || shown.at.shot != now.at.shot
                         || shown.at.frameInShot != now.at.frameInShot;
    if (another)
        show (shown);
    if (ended)
    {
        isPlaying = false;
        anchorHere();
    }
    return another;
}

// ---- Moves

void Transport::goTo (const film::Position& position)
{
    if (! timings)
        return;
    const auto there = onScreen (*timings, position);
    heading = comesBefore (there.at, now.at) ? -1 : 1;
    show (there);
    if (isPlaying)
        heading = times.sign();
    anchorHere();
}

void Transport::goToDelivered (std::int64_t inAll)
{
    if (! timings)
        return;
    const auto spot = reelSpotOf (*timings, inAll);
    if (const auto at = timings->atDelivered (spot.delivered, spot.reel))
    {
        goTo (*at);
        // On a repeated picture it stands on the very frame asked for.
        now.delivered = spot.delivered;
        anchorHere();
    }
}

void Transport::step (std::int64_t filmFrames)
{
    if (! timings)
        return;
    pause();
    goTo (stepped (*timings, now.at, filmFrames));
    heading = filmFrames < 0 ? -1 : 1;
}

bool Transport::goToNext (const std::vector<film::Position>& stops)
{
    const film::Position* best = nullptr;
    for (const auto& stop : stops)
        if (comesBefore (now.at, stop) && (best == nullptr || comesBefore (stop, *best)))
            best = &stop;
    if (best == nullptr)
        return false;
    goTo (*best);
    return true;
}

bool Transport::goToPrevious (const std::vector<film::Position>& stops)
{
    const film::Position* best = nullptr;
    for (const auto& stop : stops)
        if (comesBefore (stop, now.at) && (best == nullptr || comesBefore (*best, stop)))
            best = &stop;
    if (best == nullptr)
        return false;
    goTo (*best);
    return true;
}
} // namespace shutterbeat::play
