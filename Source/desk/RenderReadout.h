#pragma once

#include "desk/Render.h"
#include "desk/RenderPlan.h"
#include "overlay/ConductorMarks.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// What the overlay says on each delivered frame of a reel, from the book's times.
class RenderReadout
{
public:
    /// `times` must outlive it.
    RenderReadout (const spotting::BookTimes& times, std::size_t reel, spotting::Weight countdownTo, std::string receiver);

    /// `frame` is what that delivered frame shows. Ask in rising order of delivered frames.
    [[nodiscard]] overlay::Readout at (const RenderedFrame& frame);

private:
    struct Next
    {
        std::int64_t delivered = 0;
        const spotting::HitPoint* hit = nullptr;
        bool wording = false;
    };
    [[nodiscard]] const spotting::CueTimes* cueAt (std::int64_t delivered) const;

    const spotting::BookTimes& times;
    std::size_t reel;
    std::string receiver;
    time::Gauge gauge;
    std::vector<Next> hits; ///< by delivered frame
    std::size_t coming = 0;
};

/// "12|3", empty before the pickup and where the cue has no tempo. `clock` is from picture start.
std::string barText (const spotting::CueTimes& cue, const time::Rational& clock);

/// The marks that the hits of a reel are to have.
std::vector<overlay::HitMarks> hitMarks (const spotting::BookTimes& times, std::size_t reel, const MarkWish& wish);
} // namespace shutterbeat::desk
