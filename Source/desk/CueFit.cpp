#include "desk/CueFit.h"

#include "film/Place.h"
#include "music/FrameClick.h"
#include "music/RampLaw.h"
#include "spotting/Edit.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using time::Rational;

Result<const spotting::CueTimes*> rowOf (const spotting::BookTimes& times, const std::string& cue)
{
    const auto* row = spotting::cueRow (times, cue);
    if (row == nullptr)
        return usageError ("cue " + cue, "the book does not have it");
    if (! row->in)
        return usageError ("cue " + row->cue.number, "has lost its place: " + row->lost);
    return row;
}

double seconds (const Rational& x)
{
    return static_cast<double> (music::toLongDouble (x));
}

double weightOf (spotting::Weight weight, const HitWeights& weights)
{
    return weight == spotting::Weight::must ? weights.must : weight == spotting::Weight::should ? weights.should : weights.may;
}

/// When the music should strike, from the cue's in.
Rational momentOf (const spotting::HitTimes& hit, const spotting::CueTimes& cue)
{
    return hit.at->clock + hit.hit.lead - cue.in->clock;
}

/// The hits of a cue that have a place, in order of the moment they are wanted.
std::vector<FittedHit> hitsOf (const spotting::BookTimes& times, const spotting::CueTimes& cue, const HitWeights& weights,
                               std::vector<std::string>& leftOut)
{
    std::vector<FittedHit> hits;
    for (const auto row : cue.hits)
    {
        const auto& hit = times.hits[row];
        const auto name = hit.hit.label.empty() ? hit.hit.id : hit.hit.label;
        if (! hit.at)
            leftOut.push_back (name + " is lost: " + hit.lost);
        else if (hit.at->reel != cue.in->reel)
            leftOut.push_back (name + " lies in another reel than its cue");
        else
            hits.push_back ({ row,
                              { seconds (momentOf (hit, cue)), weightOf (hit.hit.weight, weights), hit.hit.earlyMs / 1000.0,
                                hit.hit.lateMs / 1000.0, hit.hit.weight == spotting::Weight::must } });
    }
    std::stable_sort (hits.begin(), hits.end(),
                      [] (const FittedHit& a, const FittedHit& b) { return a.target.seconds < b.target.seconds; });
    return hits;
}

Result<std::optional<double>> startOf (const spotting::BookTimes& times, const spotting::CueTimes& cue, const std::string& start)
{
    if (start == "free")
        return std::optional<double>{};
    if (start == "in")
        return std::optional<double> (0);
    const auto typed = film::parsePlace (start);
    if (! typed)
        return typed.error();
    const auto position = times.timings.find (*typed);
    if (! position)
        return position.error();
    const auto at = times.timings.times (*position);
    if (at.reel != cue.in->reel)
        return usageError ("start " + start, "lies in another reel than the cue");
    return std::optional<double> (seconds (at.clock - cue.in->clock));
}

/// Strong beats: bar starts cost nothing, the middle of an even bar a little, other beats more, in seconds.
std::vector<double> dearnessOf (const music::Meter& meter, double grid)
{
    const auto beats = static_cast<int> (music::beatLengths (meter).size());
    std::vector<double> dear;
    for (double beat = 0; beat < beats - 1e-9; beat += grid)
        dear.push_back (beat == 0 ? 0 : beats % 2 == 0 && beat == beats / 2 ? .02 : beat == static_cast<int> (beat) ? .04 : .08);
    return dear;
}

std::string namesOf (const spotting::BookTimes& times, const std::vector<FittedHit>& hits, const std::vector<std::size_t>& which)
{
    std::string text;
    for (std::size_t i = 0; i < which.size(); ++i)
    {
        const auto row = hits[which[i]].row;
        text += (i > 0 ? " and " : "") + (row < times.hits.size() ? hitAtText (times.hits[row]) : std::string ("the cue's in"));
    }
    return text;
}
} // namespace

std::string hitAtText (const spotting::HitTimes& hit)
{
    return (hit.hit.label.empty() ? hit.hit.id : hit.hit.label) + (hit.at ? " at " + time::clockText (hit.at->clock) : "");
}

Result<TempoAnswer> fitTempo (const spotting::BookTimes& times, const std::string& cue, const TempoWish& wish)
{
    const auto row = rowOf (times, cue);
    if (! row)
        return row.error();
    TempoAnswer answer;
    answer.hits = hitsOf (times, **row, wish.weights, answer.leftOut);
    if (answer.hits.empty())
        return usageError ("cue " + (*row)->cue.number,
                           "has no hit with a place to fit to; give hits to it with: shutterbeat hits BOOK set HIT --cue "
                               + (*row)->cue.number);
    const auto start = startOf (times, **row, wish.start);
    if (! start)
        return start.error();
    auto fit = wish.fit;
    fit.start = *start;
    if (wish.strong)
        fit.dearness = dearnessOf (wish.meter, fit.grid);
    std::vector<music::FitTarget> targets;
    for (auto& hit : answer.hits)
    {
        hit.target.must = hit.target.must && wish.mustsBind;
        targets.push_back (hit.target);
    }
    auto curve = music::tempoCurve (targets, fit);
    if (! curve)
        return curve.error();
    answer.curve = std::move (*curve);
    std::vector<double> tempos;
    for (const auto& point : answer.curve)
        tempos.push_back (point.beatsPerMinute);
    answer.chance = music::chanceLine (targets, fit, tempos);
    answer.chanceOfFit = music::chanceOfFit (targets, fit);
    const auto rate = times.timings.delivery().rate.perSecond;
    for (const auto& point : music::bestTempos (targets, fit, answer.curve, wish.listed))
    {
        ListedTempo listed;
        listed.point = point;
        listed.beatsPerMinute = music::nearestPart (point.beatsPerMinute, 10'000'000);
        listed.start = music::nearestPart (point.start, 1'000'000'000);
        const auto click = music::nearestClick (listed.beatsPerMinute, rate);
        listed.click = music::clickText (click);
        listed.clickTempo = music::beatsPerMinute (click, rate);
        const auto near = std::lower_bound (tempos.begin(), tempos.end(), point.beatsPerMinute);
        listed.chance = answer.chance[static_cast<std::size_t> (std::min (near, tempos.end() - 1) - tempos.begin())];
        listed.landings = music::landingsOf (targets, fit, point);
        listed.within = static_cast<std::size_t> (
            std::count_if (listed.landings.begin(), listed.landings.end(), [] (const music::Landing& l) { return l.within; }));
        answer.best.push_back (std::move (listed));
    }
    if (answer.best.empty())
    {
        const auto obstacle = music::obstacleTo (targets, fit);
        const std::string range = time::decimalText (music::nearestPart (fit.lowest, 100), 2) + " to "
                                  + time::decimalText (music::nearestPart (fit.highest, 100), 2) + " beats a minute";
        if (! obstacle || obstacle->targets.empty())
            answer.obstacle = "no tempo from " + range + " meets all musts within their limits, and no single one is to blame";
        else if (! obstacle->alone)
            answer.obstacle = "no tempo from " + range + " meets all musts; without "
                              + namesOf (times, answer.hits, obstacle->targets) + " the others fit";
        else
            answer.obstacle = "no tempo from " + range + " puts " + namesOf (times, answer.hits, obstacle->targets)
                              + (obstacle->targets.size() > 1 ? " both" : "") + " on beats within the limits";
    }
    return answer;
}

Result<BarsAnswer> fitBars (const spotting::BookTimes& times, const std::string& cue, const BarsWish& wish)
{
    const auto row = rowOf (times, cue);
    if (! row)
        return row.error();
    BarsAnswer answer;
    answer.in = (*row)->in->clock;
    answer.hits = hitsOf (times, **row, wish.weights, answer.leftOut);
    const FittedHit* firstMust = nullptr;
    for (const auto& hit : answer.hits)
        if (hit.target.must && (firstMust == nullptr || hit.target.seconds < firstMust->target.seconds))
            firstMust = &hit;
    auto bars = wish.bars;
    bars.frame = Rational (1) / times.timings.delivery().rate.perSecond;
    // Less than a bar before its first must, the cue's in can be no bar start: what lies between is an upbeat.
    const double shortestBar = 60.0 * bars.beatsPerBar / (time::toDouble (bars.preferred) * (1 + bars.band));
    const bool room = firstMust == nullptr || firstMust->target.seconds >= shortestBar;
    if (wish.fromIn && ! room && firstMust->target.seconds >= .25)
        answer.notes.push_back ("bar 1 begins on " + hitAtText (times.hits[firstMust->row])
                                + ": the cue's in is less than a bar before it");
    if (wish.fromIn && room)
        answer.hits.insert (answer.hits.begin(), { times.hits.size(), { 0, 1, 0, 0, true } });
    std::stable_sort (answer.hits.begin(), answer.hits.end(),
                      [] (const FittedHit& a, const FittedHit& b) { return a.target.seconds < b.target.seconds; });
    std::vector<music::BarTarget> targets;
    for (const auto& hit : answer.hits)
        targets.push_back ({ hit.row < times.hits.size() ? momentOf (times.hits[hit.row], **row) : Rational (0), hit.target.weight,
                             hit.target.early, hit.target.late, hit.target.must });
    auto fitted = music::fitBars (targets, bars);
    if (! fitted)
        return usageError ("cue " + (*row)->cue.number, fitted.error().text());
    answer.bars = std::move (*fitted);
    if (answer.bars.obstacle)
        answer.obstacle = "no bars fit between "
                          + namesOf (times, answer.hits, { answer.bars.obstacle->from, answer.bars.obstacle->to }) + ": "
                          + answer.bars.obstacle->why;
    return answer;
}

Result<RefitAnswer> refit (const spotting::BookTimes& times, const std::string& cue, const WrittenOn& first,
                           const WrittenOn& second, music::RefitWish wish)
{
    const auto row = rowOf (times, cue);
    if (! row)
        return row.error();
    if (! (*row)->cue.tempo)
        return usageError ("cue " + (*row)->cue.number, "has no tempo map to refit; fit one tempo or bars first");
    const auto momentOfHit = [&] (const std::string& id) -> Result<Rational>
    {
        for (const auto index : (*row)->hits)
            if (const auto& hit = times.hits[index]; hit.hit.id == id)
            {
                if (! hit.at)
                    return usageError ("hit " + id, "is lost: " + hit.lost);
                return momentOf (hit, **row);
            }
        return usageError ("hit " + id, "is not a hit of cue " + (*row)->cue.number);
    };
    const auto a = momentOfHit (first.hit), b = momentOfHit (second.hit);
    if (! a)
        return a.error();
    if (! b)
        return b.error();
    const auto& map = *(*row)->cue.tempo;
    RefitAnswer answer;
    answer.wish = wish;
    answer.wish.firstBar = first.bar;
    answer.wish.endBar = second.bar;
    answer.wish.frame = Rational (1) / times.timings.delivery().rate.perSecond;
    answer.wish.change = (*b - *a) - (map.timeOf (map.barStart (second.bar)) - map.timeOf (map.barStart (first.bar)));
    answer.change = answer.wish.change;
    auto ways = music::refitWays (map, answer.wish);
    if (! ways)
        return ways.error();
    answer.ways = std::move (*ways);
    return answer;
}

Result<spotting::Book> withPinnedTempo (const spotting::Book& book, const std::string& cue, const music::TempoMap& map)
{
    const auto* found = spotting::cueOf (book, cue);
    if (found == nullptr)
        return usageError ("cue " + cue, "the book does not have it");
    const auto timings = spotting::timingsOf (book);
    if (! timings)
        return timings.error();
    auto changed = *found;
    changed.tempo = map;
    return spotting::setCue (book, changed, *timings);
}

Result<spotting::Book> withTempo (const spotting::Book& book, const std::string& cue, const Result<music::TempoMap>& map,
                                  const Rational& fromIn)
{
    if (! map)
        return map.error();
    auto changed = withPinnedTempo (book, cue, *map);
    if (! changed)
        return changed;
    auto cues = changed->cues.list();
    for (auto& each : cues)
        if (each.id == cue)
            each.barOne = { "", {}, fromIn };
    changed->cues = std::move (cues);
    return changed;
}
} // namespace shutterbeat::desk
