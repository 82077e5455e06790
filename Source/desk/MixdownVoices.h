#pragma once

#include "desk/Mixdown.h"
#include "desk/Progress.h"
#include "mix/Mixer.h"
#include "mix/Stretch.h"

#include <memory>
#include <utility>
#include <vector>

namespace shutterbeat::desk
{
/// How many times as long a piece of film lasts at one delivery as at another: 24/25 from 24 to 25 frame for frame from 24.
time::Rational lengthFactor (const film::Delivery& from, const film::Delivery& to);

/// The sounds and clicks of a mixdown. Sounds that are re-timed alike are mixed first and re-timed as one, so that stems stay
/// together. One thread at a time, blocks in order.
class MixdownVoices
{
public:
    /// `samples`: first and end of the file on the film's grid. Fills made.sounds and made.notes. Error: as writeMixdown.
    static Result<MixdownVoices> of (const OpenBook& open, const spotting::BookTimes& times, const MixdownWish& wish,
                                     const std::vector<time::Rational>& reelStarts, std::pair<std::int64_t, std::int64_t> samples,
                                     std::vector<mix::Click> clicks, Mixdown& made, const Progress& progress);

    /// Adds samples `first` on. Error: a sound that can't be read any more.
    Result<Done> add (std::int64_t first, std::span<float> stereo);

private:
    std::vector<std::shared_ptr<mix::Mixer>> mixers; ///< on the film's grid, those at another speed with their pitch
    std::vector<mix::Stretch> stretched;             ///< read in order from the file's first sample
    std::vector<float> block;                        ///< kept for its room
};
} // namespace shutterbeat::desk
