#pragma once

#include "film/Timings.h"
#include "play/Clock.h"

#include <atomic>
#include <memory>
#include <vector>

namespace shutterbeat::tests
{
inline const time::Rate at25{ 25, false };

/// A clock that stands until it is moved.
class ManualClock final : public play::Clock
{
public:
    [[nodiscard]] std::int64_t nanoseconds() const override { return std::atomic_ref (now).load(); }
    [[nodiscard]] std::string name() const override { return "manual clock"; }
    /// Exactly frames / rate seconds on, rounded up to a nanosecond so that the frame has begun.
    void advanceFrames (std::int64_t frames, const time::Rational& rate)
    {
        now += time::ceilOf (time::Rational (frames) / rate * time::Rational (1'000'000'000));
    }
    /// For a test in which threads read the clock while it is moved.
    void advance (std::int64_t nanosecondsOn) { std::atomic_ref (now) += nanosecondsOn; }
    mutable std::int64_t now = 5'000'000'000;
};

/// A print of one file with `frames` film frames, each shown once.
inline film::Print plainPrint (std::int64_t frames)
{
    film::Print print;
    print.id = "print-1";
    film::ReelFile reel;
    reel.path = "film.mp4";
    reel.cadence = film::Cadence::oneToOne (frames);
    print.reels.push_back (reel);
    return print;
}

inline film::Shot plainShot (const std::string& id, std::int64_t first, std::int64_t end)
{
    film::Shot shot;
    shot.id = id;
    shot.name = id;
    shot.print = "print-1";
    shot.first = first;
    shot.end = end;
    return shot;
}

inline film::Shot madeShot (const std::string& id, const time::Rational& seconds)
{
    film::Shot shot;
    shot.id = id;
    shot.name = id;
    shot.kind = film::ShotKind::card;
    shot.made = seconds;
    return shot;
}

inline std::shared_ptr<const film::Timings> timingsFor (std::vector<film::Shot> shots, const time::Rational& speed,
                                                        const time::Rate& rate, std::vector<film::EditionReel> reels = { {} })
{
    film::Edition edition;
    edition.speed = speed;
    edition.shots = std::move (shots);
    edition.reels = std::move (reels);
    auto made = film::Timings::of ({ plainPrint (2000) }, edition, { rate, {} });
    return std::make_shared<const film::Timings> (std::move (made.value()));
}
} // namespace shutterbeat::tests
