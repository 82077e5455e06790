#include "spotting/Times.h"

#include "music/NoteValue.h"
#include "spotting/CardEdit.h"
#include "time/Clock.h"

#include <algorithm>
#include <set>
#include <unordered_map>

namespace shutterbeat::spotting
{
namespace
{
bool earlier (const std::optional<film::PlaceTimes>& a, const std::optional<film::PlaceTimes>& b)
{
    if (! a || ! b)
        return a.has_value() && ! b.has_value();
    if (a->reel != b->reel)
        return a->reel < b->reel;
    if (a->clock != b->clock)
        return a->clock < b->clock;
    return a->filmFrame < b->filmFrame;
}

/// Works out when bar 1 beat 1 comes; hits must be known.
void pinBarOne (CueTimes& row, const BookTimes& times)
{
    const auto& pin = row.cue.barOne;
    std::optional<film::PlaceTimes> at;
    time::Rational lead;
    if (! pin.hit.empty())
    {
        const auto hit =
            std::find_if (times.hits.begin(), times.hits.end(), [&] (const HitTimes& h) { return h.hit.id == pin.hit; });
        if (hit == times.hits.end())
            row.barOneLost = "the book has no hit " + pin.hit;
        else if (! hit->at)
            row.barOneLost = "its hit " + pin.hit + ": " + hit->lost;
        else
        {
            at = hit->at;
            lead = hit->hit.lead;
        }
    }
    else if (pin.place)
    {
        if (const auto position = times.timings.find (*pin.place))
            at = times.timings.times (*position);
        else
            row.barOneLost = position.error().text();
    }
    else if (! row.in)
        row.barOneLost = row.lost;
    else
        at = row.in;
    if (at && row.in && at->reel != row.in->reel)
        row.barOneLost = "it lies in another reel than the cue's in";
    else if (at)
        row.barOne = at->clock + lead + pin.seconds;
}
} // namespace

Result<BookTimes> timesOf (const Book& book, const Asked& asked)
{
    auto timings = timingsOf (book, asked);
    if (! timings)
        return timings.error();
    return timesWith (book, std::move (*timings), {});
}

BookTimes timesWith (const Book& book, film::Timings timings, std::vector<HitTimes> known)
{
    BookTimes times{ std::move (timings), {}, {}, {} };
    times.notes = times.timings.notes();
    std::unordered_map<std::string, std::size_t> knownAt;
    for (std::size_t i = 0; i < known.size(); ++i)
        knownAt[known[i].hit.id] = i;
    times.hits.reserve (book.hits.size());
    std::size_t notShown = 0;
    for (const auto& hit : book.hits)
    {
        const auto before = knownAt.find (hit.id);
        const bool same = before != knownAt.end() && known[before->second].hit.place == hit.place;
        HitTimes row = same ? std::move (known[before->second]) : HitTimes{ hit, {}, "", times.timings.placeText (hit.place) };
        row.hit = hit;
        if (! same)
        {
            if (const auto position = times.timings.find (hit.place))
                row.at = times.timings.times (*position);
            else
                row.lost = position.error().text();
        }
        if (! row.at)
            times.notes.push_back ("hit " + hit.id + " (" + hit.label + ") has lost its picture: " + row.lost);
        if (row.at && row.at->notShown)
            ++notShown;
        times.hits.push_back (std::move (row));
    }
    if (notShown > 0)
        times.notes.push_back (std::to_string (notShown)
                               + " hit(s) lie on film frames that no delivered frame shows; they take the next frame shown");
    std::stable_sort (times.hits.begin(), times.hits.end(),
                      [] (const HitTimes& a, const HitTimes& b) { return earlier (a.at, b.at); });
    for (const auto& cue : book.cues)
    {
        CueTimes row{ cue, {}, {}, "", {}, {}, {}, "", untilText (book, times.timings.edition(), cue.out) };
        const auto in = times.timings.find (cue.in);
        const auto out = times.timings.find (cue.out);
        if (in)
            row.in = times.timings.times (*in);
        else
            row.lost = "its in: " + in.error().text();
        if (out)
            row.out = times.timings.times (*out);
        else
            row.lost += (row.lost.empty() ? "" : "; ") + ("its out: " + out.error().text());
        if (! row.lost.empty())
            times.notes.push_back ("cue " + cue.number + " has lost its place: " + row.lost);
        if (row.in && row.out && row.in->reel == row.out->reel)
            row.length = row.out->clock - row.in->clock;
        for (std::size_t i = 0; i < times.hits.size(); ++i)
            if (times.hits[i].hit.cue == cue.id)
                row.hits.push_back (i);
        if (cue.tempo)
            pinBarOne (row, times);
        if (! row.barOneLost.empty())
            times.notes.push_back ("bar 1 of cue " + cue.number + " has lost its place: " + row.barOneLost);
        times.cues.push_back (std::move (row));
    }
    std::stable_sort (times.cues.begin(), times.cues.end(),
                      [] (const CueTimes& a, const CueTimes& b) { return earlier (a.in, b.in); });
    return times;
}

std::optional<time::Rational> fromCueStart (const CueTimes& cue, const HitTimes& hit)
{
    if (! cue.in || ! hit.at || cue.in->reel != hit.at->reel)
        return {};
    return hit.at->clock - cue.in->clock;
}

std::string tempoText (const Cue& cue)
{
    if (! cue.tempo)
        return "";
    const auto& opening = cue.tempo->opening();
    const bool quarter = opening.unit == time::Rational (1, 4);
    return (cue.tempo->plan().tempos.size() > 1 ? "from " : "") + time::decimalText (opening.beatsPerMinute, 2)
           + (quarter ? "" : " " + music::noteValueName (opening.unit));
}

std::string basisText (const film::Timings& timings)
{
    const auto& edition = timings.edition();
    std::set<time::Rational> speeds;
    for (const auto& shot : edition.shots)
        if (! shot.made)
            speeds.insert (film::speedOf (edition, shot));
    std::string text;
    if (speeds.size() == 1)
        text = film::speedSeenText (*speeds.begin(), timings.delivery());
    else if (! speeds.empty())
        text = film::speedSeenText (*speeds.begin(), timings.delivery()) + " to "
               + film::speedSeenText (*speeds.rbegin(), timings.delivery());
    return (text.empty() ? "made pictures only" : text + " film frames a second") + ", final rate "
           + time::rateName (timings.delivery().rate) + ", "
           + (timings.delivery().from ? "frame for frame from " + time::rateName ({ *timings.delivery().from, false })
                                      : "true fill");
}

const CueTimes* cueRow (const BookTimes& times, const std::string& id)
{
    const auto row = std::find_if (times.cues.begin(), times.cues.end(), [&] (const CueTimes& c) { return c.cue.id == id; });
    return row == times.cues.end() ? nullptr : &*row;
}

std::string reelText (const film::Timings& timings, std::size_t reel)
{
    const auto delivered = timings.deliveredLength (reel);
    const auto start = timings.timecodeOf (0, reel);
    return std::to_string (timings.filmTime (reel).frames()) + " film frames, " + std::to_string (delivered) + " delivered frames, "
           + time::clockText (timings.clockOf (delivered)) + (start.empty() ? "" : ", picture starts at " + start);
}
} // namespace shutterbeat::spotting
