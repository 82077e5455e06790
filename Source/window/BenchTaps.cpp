#include "spotting/Edit.h"
#include "window/Bench.h"

#include <cstdlib>

namespace shutterbeat::window
{
void Bench::tapHit()
{
    if (! needFilm())
        return;
    film::Position at = transport.position();
    if (transport.playing())
    {
        const auto now = machine.nanoseconds();
        const auto meant = (keyDown ? *keyDown : now) - tapLate;
        // Somebody who taps early means a picture that is still to come.
        if (meant > now)
            at = transport.shownAfter (meant - now).at;
        else if (const auto seen = screen.at (meant))
            at = seen->at;
    }
    spotting::HitPoint hit;
    hit.kind = spotting::HitKind::action;
    hit.weight = spotting::Weight::should;
    hit.place = keptPlace (hit.kind, at);
    hit.askedBy = person;
    auto edited = spotting::addHits (book(), person, { hit });
    if (! edited)
        return complain (edited.error().text());
    did ("add hit", std::move (edited->book), edited->ids);
    page = LedgerPage::hits;
    say ("Hit at " + whereText (at) + ". Enter names it.");
}

double Bench::tapSeconds() const
{
    const auto now = machine.nanoseconds();
    const auto meant = (keyDown ? *keyDown : now) - tapLate;
    return time::toDouble (transport.seconds()) - static_cast<double> (now - meant) / 1e9 * time::toDouble (transport.factor());
}

// ---- Calibrating taps

void Bench::setTapLate (std::int64_t nanoseconds)
{
    tapLate = nanoseconds;
    calibration.reset();
    panel = Panel::ledger;
    if (onCommand)
        onCommand();
    constexpr std::int64_t millisecond = 1'000'000;
    const auto size = std::to_string (std::abs (nanoseconds) / millisecond);
    say (nanoseconds == 0  ? "Taps are taken as they come."
         : nanoseconds > 0 ? "Taps come " + size + " ms late; hits are placed that much earlier."
                           : "Taps come " + size + " ms early; hits are placed that much later.");
}

void Bench::startCalibration()
{
    calibrationStart = machine.nanoseconds() + calibrationInterval;
    calibration.emplace (calibrationStart, calibrationInterval);
    transport.pause();
    panel = Panel::taps;
    changed();
}

void Bench::calibrationTap()
{
    if (! calibration)
        return startCalibration();
    calibration->tap (keyDown ? *keyDown : machine.nanoseconds());
    changed();
}
} // namespace shutterbeat::window
