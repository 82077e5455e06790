#include "sheets/RecutReport.h"

#include "time/Clock.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::sheets
{
namespace
{
const Style plain{ Face::words, 9 };
constexpr double shotWide = 74, shotHigh = 55.5;

std::string framesText (std::int64_t frames)
{
    return counted (static_cast<std::size_t> (frames < 0 ? -frames : frames), "film frame", "film frames");
}

std::string shiftText (std::int64_t frames)
{
    return frames == 0 ? "where it was" : framesText (frames) + (frames > 0 ? " later" : " earlier");
}

/// The picture of a film frame counted over all reels of an edition, or null.
std::shared_ptr<const SheetPicture> pictureOf (const film::Timings& timings, const PictureAt& pictureAt, std::int64_t frame)
{
    if (! pictureAt || frame < 0)
        return nullptr;
    std::int64_t counted = 0;
    const auto& shots = timings.edition().shots;
    for (std::size_t i = 0; i < shots.size(); ++i)
    {
        if (counted == frame && ! shots[i].made)
            return pictureAt (timings.shotHead (i));
        counted += shots[i].frames();
    }
    return nullptr;
}

std::string placeText (const spotting::CarriedPlace& place)
{
    using spotting::Fate;
    if (place.fate == Fate::lost)
        return "lost: " + place.why;
    if (place.fate == Fate::back)
        return "found again";
    std::string text = place.frames != 0 ? shiftText (place.frames)
                       : place.delivered != 0
                           ? std::to_string (place.delivered < 0 ? -place.delivered : place.delivered) + " delivered frame(s) "
                                 + (place.delivered > 0 ? "later, same pictures" : "earlier, same pictures")
                           : "where it was";
    if (place.trimmed != 0)
        text += ", kept on its cut, picture " + std::string (place.trimmed > 0 ? "trimmed by " : "longer by ")
                + framesText (place.trimmed);
    return text;
}

bool unchanged (const spotting::CarriedPlace& place)
{
    return place.fate == spotting::Fate::unmoved && place.frames == 0 && place.delivered == 0 && place.trimmed == 0;
}

/// One changed shot: its picture then, its picture now, and what happened.
void addShot (SheetPages& pages, const film::Timings& before, const spotting::RecutRow& row, const PictureAt& then,
              const PictureAt& now)
{
    auto& words = pages.words;
    const auto old = pictureOf (before, then, row.oldFirst), fresh = pictureOf (pages.times.timings, now, row.newFirst);
    const double left = 2 * shotWide + 32, room = pages.width() - left;
    const auto what = spotting::whatText (row);
    std::string facts;
    if (row.oldFirst >= 0)
        facts += "was film frame " + std::to_string (row.oldFirst) + ", " + framesText (row.oldFrames);
    if (row.newFirst >= 0)
        facts +=
            (facts.empty() ? "" : "; ") + ("is film frame " + std::to_string (row.newFirst) + ", " + framesText (row.newFrames));
    if (row.by != 0)
        facts += "; its pictures are " + shiftText (row.by);
    pages.add (
        shotHigh + 4,
        [=, &words] (cairo_t* cairo, double x, double y)
        {
            // A missing side is an empty frame, so that then and now stay in their columns.
            for (const auto& [picture, at] : { std::pair (old, x), std::pair (fresh, x + shotWide + 12) })
                if (picture)
                    drawFitted (cairo, picture, at, y, shotWide, shotHigh);
                else
                {
                    fillBox (cairo, at, y, shotWide, 0.6, hairline);
                    fillBox (cairo, at, y + shotHigh, shotWide, 0.6, hairline);
                    words.line (cairo, "not there", label, at + shotWide / 2, y + shotHigh / 2 + 3, Align::centre);
                }
            words.line (cairo, words.fitted ("Shot " + row.shot, { Face::words, 11, true }, room), { Face::words, 11, true },
                        x + left, y + 11);
            const bool gone = row.newFirst < 0;
            const double high = words.block (cairo, what, { Face::words, 10, true, gone ? rose : night }, x + left, y + 16, room);
            words.block (cairo, facts, { Face::words, 8.5, false, quiet }, x + left, y + 18 + high, room);
        },
        12);
}

/// A line of a list: a name, and what became of it.
void addLine (SheetPages& pages, const std::string& name, const std::string& text, bool bad)
{
    auto& words = pages.words;
    const double left = 190, room = pages.width() - left;
    const Style style{ Face::words, 9, false, bad ? rose : black };
    const auto parts = words.pieces (text, style, room, 6);
    for (std::size_t i = 0; i < parts.size(); ++i)
        pages.add (
            words.measure (parts[i], style, room).height + 2,
            [=, &words] (cairo_t* cairo, double x, double y)
            {
                if (i == 0)
                    words.line (cairo, words.fitted (name, { Face::words, 9, true }, left - 12), { Face::words, 9, true }, x,
                                y + 9.5);
                words.block (cairo, parts[i], style, x + left, y, room);
            },
            i == 0 ? 3 : 0);
}

std::string changeText (const spotting::InsideChange& change)
{
    std::string text = (change.bar.empty() ? "at " + time::clockText (change.cueSeconds) : change.bar) + ":";
    if (change.out > 0)
        text += " " + framesText (change.out) + " out";
    if (change.in > 0)
        text += std::string (change.out > 0 ? "," : "") + " " + framesText (change.in) + " in";
    return text;
}

std::string insideText (const spotting::CarriedCue& cue)
{
    std::string text;
    for (const auto& change : cue.inside)
        text += "; " + changeText (change);
    return text;
}

/// A change inside a cue and what may be done about it, each way with its cost before it.
void addRemedies (SheetPages& pages, const spotting::CarriedCue& cue, const spotting::InsideRemedies& found)
{
    const auto& change = cue.inside[found.change];
    const bool longer = change.seconds.sign() > 0;
    addLine (pages, cue.cue.number,
             changeText (change) + ", the picture " + time::secondsText (longer ? change.seconds : -change.seconds) + " s "
                 + (longer ? "longer" : "shorter"),
             false);
    for (const auto& way : found.ways)
        addLine (pages, "", time::decimalText (time::Rational (std::llround (way.cost * 100), 100), 2) + "   " + way.text, false);
    for (const auto& note : found.notes)
        addLine (pages, "", "(" + note + ")", false);
}
} // namespace

Result<Sheet> recutReport (const spotting::BookTimes& times, const film::Timings& before, const SheetHead& head,
                           const spotting::Carried& carried, const std::vector<spotting::RecutRow>& rows,
                           const std::vector<spotting::InsideRemedies>& remedies, const PictureAt& then, const PictureAt& now)
{
    SheetPages pages (times, head, "Recut report");
    const auto kept = [] (const spotting::RecutRow& row) { return row.what == std::vector<std::string>{ "kept" }; };
    const auto changed = static_cast<std::size_t> (
        std::count_if (rows.begin(), rows.end(), [&] (const spotting::RecutRow& row) { return ! kept (row); }));
    pages.opening ({ { "From", "edition " + carried.before + ", " + framesText (carried.changes.oldFrames) },
                     { "To", "edition " + carried.after + ", " + framesText (carried.changes.newFrames) } });
    pages.heading ("Shots", changed == 0
                                ? "Every shot is there as it was."
                                : counted (changed, "shot changed", "shots changed") + " of " + std::to_string (rows.size())
                                      + ". At the left each as it was, beside it as it is.");
    // Neighbours that were kept and lie as much later are one line.
    for (std::size_t i = 0; i < rows.size();)
    {
        if (! kept (rows[i]))
        {
            addShot (pages, before, rows[i++], then, now);
            continue;
        }
        std::size_t end = i;
        while (end < rows.size() && kept (rows[end]) && rows[end].by == rows[i].by)
            ++end;
        addLine (pages, end - i == 1 ? "Shot " + rows[i].shot : "Shots " + rows[i].shot + " to " + rows[end - 1].shot,
                 "kept, " + shiftText (rows[i].by), false);
        i = end;
    }

    const auto lost = static_cast<std::size_t> (std::count_if (
        carried.hits.begin(), carried.hits.end(), [] (const auto& hit) { return hit.place.fate == spotting::Fate::lost; }));
    pages.heading ("Hits", std::to_string (carried.hits.size()) + " carried over"
                               + (lost > 0 ? ", " + counted (lost, "has lost its picture", "have lost their pictures") : "")
                               + ". Those that stayed where they were are not listed.");
    for (const auto& hit : carried.hits)
    {
        if (unchanged (hit.place) && (! hit.interval || *hit.interval == 0))
            continue;
        auto text = placeText (hit.place);
        if (hit.interval && *hit.interval != 0)
            text += ", " + framesText (*hit.interval) + (*hit.interval > 0 ? " more" : " fewer") + " since the hit before";
        addLine (pages, hit.hit.label.empty() ? hit.hit.id : hit.hit.label, text, hit.place.fate == spotting::Fate::lost);
    }
    pages.heading ("Cues");
    for (const auto& cue : carried.cues)
    {
        auto text = "in " + placeText (cue.in) + "; out " + placeText (cue.out);
        if (cue.seconds && cue.seconds->sign() != 0)
            text += "; " + time::secondsText (cue.seconds->sign() < 0 ? -*cue.seconds : *cue.seconds) + " s "
                    + (cue.seconds->sign() > 0 ? "longer" : "shorter");
        text += insideText (cue);
        addLine (pages, cue.cue.number + (cue.cue.title.empty() ? "" : "  " + cue.cue.title), text,
                 cue.in.fate == spotting::Fate::lost || cue.out.fate == spotting::Fate::lost);
    }
    if (carried.cues.empty())
        pages.paragraph ("The book has no cues.", plain);
    if (! remedies.empty())
        pages.heading ("What may be done",
                       "For each change inside a cue, the least change first. Costs are weights to compare by: 1 is a "
                       "clear but small blemish.");
    for (const auto& found : remedies)
        addRemedies (pages, carried.cues[found.cue], found);
    if (! carried.conflicts.empty())
        pages.heading ("To look at");
    for (const auto& conflict : carried.conflicts)
        pages.paragraph (conflict, { Face::words, 9, false, rose }, 4);
    return pages.finish();
}
} // namespace shutterbeat::sheets
