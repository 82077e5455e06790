#pragma once

#include "scan/BlockPicture.h"
#include "scan/Measures.h"

#include <array>
#include <cstdint>
#include <deque>
#include <vector>

namespace shutterbeat::scan
{
using FineGrey = std::array<std::uint8_t, 64 * 48>;
using CoarseGrey = std::array<std::uint8_t, 32 * 24>;

/// One distinct picture of the film, reduced.
struct DistinctPicture
{
    std::int64_t frame = 0; ///< the first file frame that shows it
    bool blank = false;     ///< black or white, nothing to see
    FineGrey fine{};
    CoarsePicture coarse;
};

/// Measures changes between distinct pictures (repeats already left out), a few pictures at a time.
class ChangeTracker
{
public:
    /// The next distinct picture; writes cut, slow and returns of the frames that can be judged by now.
    void push (std::int64_t frame, bool blank, const FineGrey& fine, const CoarseGrey& coarse, Measures& out);
    /// After the last one.
    void finish (Measures& out);

private:
    struct Leaving // what lay before a change, for finding the same picture again soon after
    {
        std::int64_t frame = 0;
        std::uint64_t ordinal = 0;
        std::array<CoarsePicture, 3> before;
        std::size_t count = 0;
    };

    [[nodiscard]] const DistinctPicture* picture (std::int64_t ordinal) const;
    void judge (std::int64_t ordinal, Measures& out);
    void judgeSlow (std::int64_t ordinal, Measures& out);
    void judgeReturns (std::int64_t ordinal, Measures& out);

    std::deque<DistinctPicture> recent; // the last `kept` distinct pictures
    std::int64_t next = 0;              // ordinal of the next one
    std::vector<Leaving> leavings;
    std::vector<std::int64_t> arrivals; // ordinals of changes whose returns wait for later pictures
};
} // namespace shutterbeat::scan
