#include "scan/MatchDoubts.h"

#include "scan/MatchRefine.h"

#include <algorithm>
#include <cstdlib>
#include <tuple>
#include <utility>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t fewest = 4; // frames worth a question: a few beside a cut are as the path has them
constexpr float doubtWorth = 20;   // as much as a picture or two say by chance
constexpr float decided = 2 * doubtWorth;
constexpr double eitherWay = 0.5;    // how exact they are then
constexpr float onePicture = 0.004F; // distance below which it makes no difference
constexpr float leap = 0.42F;        // from one frame to the next: a cut

class Borders
{
public:
    Borders (const PrintFrames& old, const PrintFrames& now, const std::vector<Question>& all)
        : before (old)
        , after (now)
        , questions (all)
    {
    }

    /// How many frames from `first` on, in steps of one on or back, may as well lie `by` frames on as `own`.
    [[nodiscard]] std::int64_t contested (std::int64_t first, std::int64_t step, std::int64_t frames, std::int64_t own,
                                          std::int64_t by) const
    {
        float against = 0;
        std::int64_t found = 0, differing = 0, worth = 0;
        for (std::int64_t k = 0; k < frames && against < decided; ++k)
        {
            const auto n = first + step * k, there = n + by;
            // Over a cut of the old print nothing goes on by chance.
            if (! has (there) || ! has (there - step) || distance (old (there), old (there - step)) > leap)
                break;
            against += frameCost (before, after, questions, n, by) - frameCost (before, after, questions, n, own);
            const bool shown = textureOf (after.frames[static_cast<std::size_t> (n)]) > after.dark;
            differing += shown && distance (old (there), old (n + own)) > onePicture ? 1 : 0;
            if (against < doubtWorth)
            {
                found = k + 1;
                worth = differing;
            }
        }
        return worth >= fewest ? found : 0;
    }

private:
    [[nodiscard]] bool has (std::int64_t frame) const
    {
        return frame >= 0 && frame < static_cast<std::int64_t> (before.frames.size());
    }
    [[nodiscard]] const Fingerprint& old (std::int64_t frame) const { return before.frames[static_cast<std::size_t> (frame)]; }

    const PrintFrames& before;
    const PrintFrames& after;
    const std::vector<Question>& questions;
};
} // namespace

void doubtBorders (const PrintFrames& before, const PrintFrames& after, const std::vector<Question>& questions,
                   std::vector<MatchedRun>& runs)
{
    const Borders borders (before, after, questions);
    // How many frames at each run's head and tail are in doubt.
    std::vector<std::int64_t> heads (runs.size()), tails (runs.size());
    for (std::size_t i = 1; i < runs.size(); ++i)
    {
        const auto &earlier = runs[i - 1], &later = runs[i];
        const auto border = later.newFirst, earlierBy = earlier.oldFirst - earlier.newFirst, laterBy = later.oldFirst - border;
        const auto apart = std::abs (earlierBy - laterBy);
        if (earlier.newFirst + earlier.frames != border || apart < 2 || apart > closeBy || earlier.mirrored != later.mirrored)
            continue;
        // What is in doubt as a whole needs no second question.
        const auto sure = [] (const MatchedRun& run) { return run.exact >= doubtfulFrame && run.sure >= doubtfulShot; };
        if (sure (later))
            heads[i] = borders.contested (border, 1, std::min (later.frames, closeBy), laterBy, earlierBy);
        if (sure (earlier))
            tails[i - 1] = borders.contested (border - 1, -1, std::min (earlier.frames, closeBy), earlierBy, laterBy);
    }
    std::vector<MatchedRun> all;
    for (std::size_t i = 0; i < runs.size(); ++i)
    {
        const auto& run = runs[i];
        const auto head = std::min (heads[i], run.frames), tail = std::min (tails[i], run.frames - head);
        for (const auto& [from, frames, contested] :
             { std::tuple (std::int64_t{ 0 }, head, true), std::tuple (head, run.frames - head - tail, false),
               std::tuple (run.frames - tail, tail, true) })
        {
            if (frames == 0)
                continue;
            all.push_back (run);
            all.back().newFirst += from;
            all.back().oldFirst += from;
            all.back().frames = frames;
            if (contested)
                all.back().exact = std::min (run.exact, eitherWay);
        }
    }
    runs = std::move (all);
}
} // namespace shutterbeat::scan
