#include "scan/MatchRuns.h"

#include <algorithm>
#include <map>

namespace shutterbeat::scan
{
namespace
{
constexpr std::int64_t shortest = 3;    // film frames of a run inside a shot
constexpr double headOnly = 0.4;        // how exact a card is that was laid by its head for want of better
constexpr std::int64_t shownAgain = 12; // film frames
constexpr std::int64_t blurred = 6;     // textured frames beside a run that may belong to it: a dissolve, damage

std::size_t shotAt (const PrintFrames& print, std::int64_t frame)
{
    const auto after = std::upper_bound (print.shots.begin(), print.shots.end(), frame,
                                         [] (std::int64_t n, const film::ScannedShot& s) { return n < s.first; });
    return static_cast<std::size_t> (after - print.shots.begin()) - 1;
}

bool isDark (const PrintFrames& print, std::int64_t frame)
{
    return textureOf (print.frames[static_cast<std::size_t> (frame)]) < print.dark;
}

/// Whether a shot shows one picture from head to tail.
bool isStill (const PrintFrames& print, const film::ScannedShot& shot)
{
    constexpr float stillOne = 0.03F;
    const auto middle = (shot.first + shot.end) / 2;
    for (const auto frame : { shot.first, (shot.first + middle) / 2, (middle + shot.end) / 2, shot.end - 1 })
        if (distance (print.frames[static_cast<std::size_t> (frame)], print.frames[static_cast<std::size_t> (middle)]) > stillOne)
            return false;
    return true;
}

/// Whether a run that shows old frame `fromOld` in new frame `fromNew` may go on to the next of both, on either side.
bool goesOn (const PrintFrames& before, const PrintFrames& after, std::int64_t fromOld, std::int64_t fromNew, std::int64_t step,
             std::int64_t& textured)
{
    const auto o = fromOld + step, n = fromNew + step;
    if (o < 0 || n < 0 || o >= static_cast<std::int64_t> (before.frames.size())
        || n >= static_cast<std::int64_t> (after.frames.size()))
        return false;
    const bool newDark = isDark (after, n), oldDark = isDark (before, o);
    const bool sameNew = shotAt (after, n) == shotAt (after, fromNew), sameOld = shotAt (before, o) == shotAt (before, fromOld);
    if (! newDark && ! (sameNew && sameOld && textured-- > 0))
        return false;
    return (sameNew && sameOld) || (newDark && oldDark);
}
} // namespace

std::vector<MatchedRun> runsOf (const std::vector<std::int32_t>& path)
{
    std::vector<MatchedRun> runs;
    for (std::size_t n = 0; n < path.size(); ++n)
    {
        if (path[n] < 0)
            continue;
        if (n > 0 && path[n - 1] >= 0 && path[n] == path[n - 1] + 1)
            ++runs.back().frames;
        else
            runs.push_back ({ static_cast<std::int64_t> (n), path[n], 1, 1, 1, false });
    }
    return runs;
}

void dropStrays (const PrintFrames& after, std::vector<MatchedRun>& runs)
{
    const auto isStray = [&] (const MatchedRun& run)
    {
        const auto& shot = after.shots[shotAt (after, run.newFirst)];
        if (run.frames < shortest && run.frames < shot.end - shot.first)
            return true;
        // Near-black frames belong to what stands beside them.
        for (std::int64_t k = 0; k < run.frames; ++k)
            if (! isDark (after, run.newFirst + k))
                return false;
        return true;
    };
    runs.erase (std::remove_if (runs.begin(), runs.end(), isStray), runs.end());
    // Within a shot the longest run has its pictures to itself: a still goes on, it does not begin again.
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < runs.size(); ++i)
        order.push_back (i);
    std::stable_sort (order.begin(), order.end(), [&] (std::size_t a, std::size_t b) { return runs[a].frames > runs[b].frames; });
    std::map<std::size_t, std::vector<std::size_t>> taken; // by new shot
    for (const auto i : order)
    {
        MatchedRun& run = runs[i];
        auto& others = taken[shotAt (after, run.newFirst)];
        for (const auto k : others)
        {
            const MatchedRun& other = runs[k];
            const auto overlapFirst = std::max (run.oldFirst, other.oldFirst);
            const auto overlapEnd = std::min (run.oldFirst + run.frames, other.oldFirst + other.frames);
            if (overlapFirst >= overlapEnd)
                continue;
            const auto lost = overlapEnd - overlapFirst;
            // All of a shot shown again is meant.
            if (lost >= shownAgain && 3 * lost > 2 * other.frames)
                continue;
            if (overlapFirst == run.oldFirst)
            {
                run.oldFirst += lost;
                run.newFirst += lost;
            }
            run.frames -= lost;
        }
        if (run.frames > 0)
            others.push_back (i);
    }
    runs.erase (std::remove_if (runs.begin(), runs.end(), [] (const MatchedRun& run) { return run.frames < shortest; }),
                runs.end());
}

void extendRuns (const PrintFrames& before, const PrintFrames& after, std::vector<MatchedRun>& runs)
{
    for (std::size_t i = 0; i < runs.size(); ++i)
    {
        MatchedRun& run = runs[i];
        const auto from = i > 0 ? runs[i - 1].newFirst + runs[i - 1].frames : 0;
        std::int64_t textured = blurred;
        while (run.newFirst > from && goesOn (before, after, run.oldFirst, run.newFirst, -1, textured))
        {
            --run.newFirst;
            --run.oldFirst;
            ++run.frames;
        }
        const auto to = i + 1 < runs.size() ? runs[i + 1].newFirst : static_cast<std::int64_t> (after.frames.size());
        textured = blurred;
        while (run.newFirst + run.frames < to
               && goesOn (before, after, run.oldFirst + run.frames - 1, run.newFirst + run.frames - 1, 1, textured))
            ++run.frames;
    }
}

void layCards (const PrintFrames& before, const PrintFrames& after, std::vector<MatchedRun>& runs)
{
    constexpr auto nothing = static_cast<std::size_t> (-1);
    for (std::size_t s = 0; s < after.shots.size(); ++s)
    {
        const auto& card = after.shots[s];
        if (card.kind != film::ShotKind::card)
            continue;
        // The old card that most of it shows.
        std::map<std::size_t, std::int64_t> shown;
        double sure = 0;
        bool turned = false;
        int parts = 0;
        std::int64_t most = 0;
        double exact = 0;
        for (const auto& run : runs)
        {
            // What goes on from the shot beside it, into a dissolve, is no part of the card.
            const auto within = std::min (run.newFirst + run.frames, card.end) - std::max (run.newFirst, card.first);
            parts += 2 * within > run.frames ? 1 : 0;
            if (within > most)
            {
                most = within;
                exact = run.exact;
            }
            for (auto n = std::max (run.newFirst, card.first); n < std::min (run.newFirst + run.frames, card.end); ++n)
            {
                ++shown[shotAt (before, run.oldFirst + n - run.newFirst)];
                sure = std::max (sure, run.sure);
                turned = run.mirrored;
            }
        }
        std::size_t old = nothing;
        for (const auto& [shot, frames] : shown)
            if (old == nothing || frames > shown[old])
                old = shot;
        if (old == nothing || before.shots[old].kind != film::ShotKind::card || 2 * shown[old] < card.end - card.first)
            continue;
        // One run that knows its frames (a card may fade, or have a moving ground) stands.
        const auto& was = before.shots[old];
        const bool whole = card.end - card.first == was.end - was.first;
        if (parts <= 1 && exact >= doubtfulFrame && ! whole)
            continue;
        // Runs give up what they have of it.
        std::vector<MatchedRun> others;
        for (const auto& run : runs)
        {
            const auto end = run.newFirst + run.frames;
            if (run.newFirst < card.first)
            {
                others.push_back (run);
                others.back().frames = std::min (end, card.first) - run.newFirst;
            }
            if (end > card.end)
            {
                others.push_back (run);
                others.back().newFirst = std::max (run.newFirst, card.end);
                others.back().oldFirst += others.back().newFirst - run.newFirst;
                others.back().frames = end - others.back().newFirst;
            }
        }
        others.push_back ({ card.first, was.first, std::min (card.end - card.first, was.end - was.first), sure,
                            whole || isStill (before, was) ? 1 : headOnly, turned });
        std::sort (others.begin(), others.end(), [] (const MatchedRun& a, const MatchedRun& b) { return a.newFirst < b.newFirst; });
        // What goes on from the run before is one run with it.
        runs.clear();
        for (const auto& run : others)
            if (! runs.empty() && runs.back().newFirst + runs.back().frames == run.newFirst
                && runs.back().oldFirst + runs.back().frames == run.oldFirst && runs.back().mirrored == run.mirrored)
            {
                runs.back().frames += run.frames;
                runs.back().sure = std::min (runs.back().sure, run.sure);
                runs.back().exact = std::min (runs.back().exact, run.exact);
            }
            else
                runs.push_back (run);
    }
}

std::vector<CardSuccessor> cardSuccessors (const PrintFrames& before, const PrintFrames& after, const std::vector<MatchedRun>& runs)
{
    // How much of each shot of either print is matched, and the old shot that stands at either end of each new one.
    std::vector<std::int64_t> oldTaken (before.shots.size()), newTaken (after.shots.size());
    constexpr auto nothing = static_cast<std::size_t> (-1);
    std::vector<std::size_t> headOf (after.shots.size(), nothing), tailOf (after.shots.size(), nothing);
    for (const auto& run : runs)
        for (std::int64_t k = 0; k < run.frames; ++k)
        {
            const auto oldShot = shotAt (before, run.oldFirst + k);
            const auto newShot = shotAt (after, run.newFirst + k);
            ++oldTaken[oldShot];
            ++newTaken[newShot];
            if (headOf[newShot] == nothing)
                headOf[newShot] = oldShot;
            tailOf[newShot] = oldShot;
        }
    std::vector<CardSuccessor> found;
    const auto isFree = [] (const film::ScannedShot& shot, std::int64_t taken)
    { return shot.kind == film::ShotKind::card && 4 * taken < shot.end - shot.first; };
    for (std::size_t s = 0; s < after.shots.size(); ++s)
    {
        if (! isFree (after.shots[s], newTaken[s]))
            continue;
        const auto earlier = s > 0 ? tailOf[s - 1] : nothing;
        const auto later = s + 1 < after.shots.size() ? headOf[s + 1] : nothing;
        const auto freeOld = [&] (std::size_t o) { return o < before.shots.size() && isFree (before.shots[o], oldTaken[o]); };
        const auto behind = earlier != nothing && freeOld (earlier + 1) ? earlier + 1 : nothing;
        const auto ahead = later != nothing && later > 0 && freeOld (later - 1) ? later - 1 : nothing;
        if (behind != nothing && behind == ahead)
            found.push_back ({ behind, s, 0.9 });
        else if (behind != nothing && ahead == nothing)
            found.push_back ({ behind, s, 0.45 });
        else if (ahead != nothing && behind == nothing)
            found.push_back ({ ahead, s, 0.45 });
    }
    // One successor each: the surer one.
    std::stable_sort (found.begin(), found.end(), [] (const CardSuccessor& a, const CardSuccessor& b) { return a.sure > b.sure; });
    std::vector<bool> given (before.shots.size());
    std::vector<CardSuccessor> kept;
    for (const auto& one : found)
        if (! given[one.oldShot])
        {
            given[one.oldShot] = true;
            kept.push_back (one);
        }
    std::sort (kept.begin(), kept.end(), [] (const CardSuccessor& a, const CardSuccessor& b) { return a.newShot < b.newShot; });
    return kept;
}
} // namespace shutterbeat::scan
