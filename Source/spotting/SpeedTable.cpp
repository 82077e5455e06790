#include "spotting/SpeedTable.h"

#include "spotting/ShotEdit.h"
#include "spotting/Times.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace shutterbeat::spotting
{
namespace
{
using time::Rational;

constexpr int framesAFoot = 16; // 35 mm

Rational lengthAt (const film::Edition& edition, const std::optional<Rational>& speed)
{
    Rational seconds;
    for (const auto& shot : edition.shots)
        seconds += shot.made ? *shot.made : Rational (shot.frames()) / (speed ? *speed : film::speedOf (edition, shot));
    return seconds;
}

/// Delivered seconds: all reels, each a whole number of delivered frames.
Rational deliveredSeconds (const film::Timings& timings)
{
    Rational seconds;
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
        seconds += timings.clockOf (timings.deliveredLength (reel));
    return seconds;
}
} // namespace

std::vector<SpeedRow> speedTable (const film::Edition& edition)
{
    const std::vector<Rational> archive{ Rational (16), Rational (200, 11), Rational (20), Rational (240, 11) };
    std::vector<Rational> speeds = archive;
    // 64/3 is 80 feet a minute.
    for (const auto& usual : { Rational (18), Rational (64, 3), Rational (22), Rational (24), Rational (25), edition.speed })
        if (usual.sign() > 0 && std::find (speeds.begin(), speeds.end(), usual) == speeds.end())
            speeds.push_back (usual);
    std::sort (speeds.begin(), speeds.end(), [] (const Rational& a, const Rational& b) { return a < b; });
    std::vector<SpeedRow> rows;
    for (const auto& speed : speeds)
        rows.push_back ({ speed, speed * Rational (60, framesAFoot), Rational (1000 * framesAFoot) / speed / Rational (60),
                          lengthAt (edition, speed), std::find (archive.begin(), archive.end(), speed) != archive.end(),
                          speed == edition.speed });
    return rows;
}

std::vector<SpeedRun> speedRuns (const film::Edition& edition)
{
    std::vector<SpeedRun> runs;
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        const auto speed = film::speedOf (edition, shot);
        if (runs.empty() || (! shot.made && ! (speed == runs.back().speed)))
            runs.push_back ({ i, i, speed, 0, Rational (0) });
        SpeedRun& run = runs.back();
        run.end = i + 1;
        run.frames += shot.frames();
        run.seconds += shot.made ? *shot.made : Rational (shot.frames()) / speed;
    }
    return runs;
}

Result<Book> setSceneSpeed (const Book& book, const std::string& edition, const std::string& first, const std::string& last,
                            const std::optional<Rational>& speed)
{
    const auto* in = editionOf (book, edition);
    if (in == nullptr)
        return usageError ("edition " + edition, "the book does not have it");
    const auto at = [&] (const std::string& id)
    { return std::find_if (in->shots.begin(), in->shots.end(), [&] (const auto& shot) { return shot.id == id; }); };
    const auto from = at (first);
    const auto to = at (last);
    for (const auto& [found, id] : { std::pair (from, first), std::pair (to, last) })
        if (found == in->shots.end())
            return usageError ("shot " + id, "edition " + edition + " does not have it");
    if (to < from)
        return usageError ("shot " + to->name, "comes before shot " + from->name + "; name the earlier one first");
    std::vector<std::string> shots;
    for (auto shot = from; shot <= to; ++shot)
        shots.push_back (shot->id);
    ShotWords words;
    words.speed = speed;
    return setShots (book, edition, shots, words);
}

Result<Book> setWholeSpeed (const Book& book, const std::string& edition, const Rational& speed)
{
    auto changed = setRunningSpeed (book, edition, speed);
    if (! changed)
        return changed;
    auto editions = changed->editions.list();
    for (auto& e : editions)
        if (e.letter == edition)
            for (auto& shot : e.shots)
                shot.speed.reset();
    changed->editions = std::move (editions);
    return changed;
}

Result<SpeedEffect> speedEffect (const Book& before, const Book& after)
{
    const auto old = timesOf (before);
    if (! old)
        return old.error();
    const auto now = timesOf (after);
    if (! now)
        return now.error();
    SpeedEffect effect;
    effect.before = deliveredSeconds (old->timings);
    effect.after = deliveredSeconds (now->timings);
    effect.factor = effect.after / effect.before;
    effect.soundSpeed = effect.before / effect.after;
    effect.cents = 1200 * std::log2 (time::toDouble (effect.soundSpeed));
    std::map<std::string, const HitTimes*> was;
    for (const auto& hit : old->hits)
        if (hit.at)
            was[hit.hit.id] = &hit;
    for (const auto& hit : now->hits)
        if (const auto found = was.find (hit.hit.id); hit.at && found != was.end())
        {
            const auto& at = *found->second->at;
            effect.hits.push_back ({ hit.hit.id, hit.hit.label, at.clock, hit.at->clock, at.timecode, hit.at->timecode });
            effect.moved += at.clock == hit.at->clock && at.timecode == hit.at->timecode ? 0U : 1U;
        }
    return effect;
}
} // namespace shutterbeat::spotting
