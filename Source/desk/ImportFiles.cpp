#include "desk/ImportFiles.h"

#include "exchange/Chapters.h"
#include "exchange/CmxRead.h"
#include "exchange/CsvList.h"
#include "exchange/OtioRead.h"
#include "exchange/WavRead.h"
#include "spotting/SoundEdit.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using exchange::BadLine;

/// What a hit of a list is besides its place, when it only has words.
IncomingHit worded (std::int64_t line, const std::string& label)
{
    IncomingHit found;
    found.line = line;
    found.hit.label = label;
    found.given = { "place", "label" };
    return found;
}

/// Finds where the hit lies in the book's edition and keeps it, or names the line.
void keep (std::vector<IncomingHit>& hits, IncomingHit hit, const Result<film::Place>& place, const film::Timings& now,
           ImportPlan& plan)
{
    if (! place)
    {
        plan.bad.push_back ({ hit.line, place.error().text() });
        return;
    }
    hit.hit.place = edgeWhereUsual (now, *place, hit.hit.kind);
    if (const auto position = now.find (hit.hit.place))
        hit.where = *position;
    hits.push_back (std::move (hit));
}

std::string withReel (const std::optional<std::int64_t>& reel, const std::string& place)
{
    return reel && *reel > 1 ? "r" + std::to_string (*reel) + ":" + place : place;
}

/// The cue that a list names by id or number; "" and a note when the book has none.
std::string cueOf (const spotting::Book& book, const std::string& id, const std::string& number, ImportPlan& plan)
{
    if (! id.empty() && spotting::cueOf (book, id) != nullptr)
        return id;
    const auto& name = number.empty() ? id : number;
    if (name.empty())
        return "";
    if (const auto cue = spotting::cueNamed (book, name))
        return cue->id;
    const auto note = "the book has no cue " + name + "; hits that name it come in without a cue";
    if (std::find (plan.notes.begin(), plan.notes.end(), note) == plan.notes.end())
        plan.notes.push_back (note);
    return "";
}

/// The reel in whose delivered frames a label count lies; the wish's reel when none.
std::size_t reelOfCount (const film::Timings& timings, std::int64_t count, std::size_t otherwise)
{
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
        if (count >= timings.startCount (reel) && count < timings.startCount (reel) + timings.deliveredLength (reel))
            return reel;
    return std::min (otherwise, timings.reelCount() - 1);
}
} // namespace

Result<spotting::Asked> basisOf (spotting::Asked asked, const std::string& edition, const std::string& finalRate,
                                 const std::string& fill)
{
    if (! edition.empty() && ! asked.edition)
        asked.edition = edition;
    if (! finalRate.empty() && ! asked.rate)
    {
        const auto rate = time::parseRate (finalRate);
        if (! rate)
            return rate.error();
        asked.rate = rate->value;
    }
    if (! fill.empty() && ! asked.fill)
    {
        const auto from = film::parseFill (fill);
        if (! from)
            return from.error();
        asked.fill = *from;
    }
    return asked;
}

Result<film::Place> placeOf (const film::Timings& made, const ListedPlace& listed)
{
    std::string text;
    if (! listed.place.empty())
        text = listed.place; // its own reel stands in it
    else if (listed.filmFrame)
        text = withReel (listed.reel, "film:" + std::to_string (*listed.filmFrame));
    else if (listed.fileFrame)
        text = withReel (listed.reel, "file:" + std::to_string (*listed.fileFrame));
    else if (listed.delivered)
        return placeOfDelivered (made,
                                 static_cast<std::size_t> (std::clamp<std::int64_t> (
                                     listed.reel.value_or (1) - 1, 0, static_cast<std::int64_t> (made.reelCount()) - 1)),
                                 *listed.delivered);
    else if (! listed.timecode.empty())
        text = withReel (listed.reel, "tc:" + listed.timecode);
    else if (! listed.feet.empty())
        text = withReel (listed.reel, "feet:" + listed.feet);
    else
        return usageError ("place", "is missing");
    const auto typed = film::parsePlace (text);
    return typed ? made.placeFor (*typed) : typed.error();
}

Result<std::vector<IncomingHit>> hitsOfCsv (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    auto list = exchange::readHitList (bytes);
    if (! list)
        return list.error();
    plan.bad = list->bad;
    for (const auto& column : list->notUsed)
        plan.notes.push_back ("column \"" + column + "\" means nothing here and was passed over");
    const std::set<std::string> columns (list->columns.begin(), list->columns.end());
    std::vector<IncomingHit> hits;
    const auto now = spotting::timingsOf (open.book);
    if (! now)
        return now.error();
    if (list->hits.empty())
        return hits;
    const auto& first = list->hits.front();
    const auto asked = basisOf (wish.asked, first.edition, first.finalRate, first.fill);
    if (! asked)
        return asked.error();
    const auto made = spotting::timingsOf (open.book, *asked);
    if (! made)
        return made.error();
    for (const auto& listed : list->hits)
    {
        IncomingHit found;
        found.line = listed.line;
        found.given = columns;
        auto& hit = found.hit;
        hit.id = listed.id;
        hit.kind = listed.kind;
        hit.weight = listed.weight;
        hit.label = listed.label;
        hit.lead = listed.lead;
        hit.earlyMs = listed.earlyMs;
        hit.lateMs = listed.lateMs;
        hit.note = listed.note;
        hit.askedBy = listed.askedBy;
        hit.agreed = listed.agreed;
        hit.typed = listed.typed;
        hit.cue = cueOf (open.book, listed.cueId, listed.cue, plan);
        if (columns.contains ("cue_id"))
            found.given.insert ("cue");
        // A lost hit of ours has no place but its id: it stays as the book has it.
        if (const auto* known = spotting::hitOf (open.book, listed.id); known != nullptr && ! listed.lost.empty())
        {
            found.given.erase ("place");
            hits.push_back (std::move (found));
            continue;
        }
        found.given.insert ("place");
        keep (hits, std::move (found),
              placeOf (*made, { listed.place, listed.timecode, listed.feet, listed.reel, listed.filmFrame, listed.fileFrame,
                                listed.deliveredFrame }),
              *now, plan);
    }
    return hits;
}

Result<std::vector<IncomingHit>> hitsOfCmx (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    const auto made = spotting::timingsOf (open.book, wish.asked), now = spotting::timingsOf (open.book);
    if (! made)
        return made.error();
    if (! now)
        return now.error();
    auto list = exchange::readCmxList (bytes, made->delivery().rate);
    if (! list)
        return list.error();
    plan.bad = list->bad;
    plan.notes.insert (plan.notes.end(), list->warnings.begin(), list->warnings.end());
    std::vector<IncomingHit> hits;
    const auto add = [&] (IncomingHit hit, std::int64_t count)
    {
        const auto reel = reelOfCount (*made, count, wish.reel);
        keep (hits, std::move (hit), placeOfDelivered (*made, reel, count - made->startCount (reel)), *now, plan);
    };
    for (const auto& listed : list->hits)
    {
        auto hit = worded (listed.line, listed.text);
        hit.hit.kind = listed.kind;
        hit.hit.weight = listed.weight;
        hit.given.insert ({ "kind", "weight" });
        add (std::move (hit), listed.count);
    }
    for (const auto& locator : list->locators)
        add (worded (locator.line, locator.text.empty() ? locator.colour : locator.text), locator.count);
    if (list->hits.empty() && list->locators.empty())
        plan.notes.push_back ("the list has " + std::to_string (list->events.size())
                              + " events and no hits; a list of pictures is compared with an edition, not imported");
    return hits;
}

Result<std::vector<IncomingHit>> hitsOfOtio (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    auto timeline = exchange::readOtio (bytes);
    if (! timeline)
        return timeline.error();
    auto asked = wish.asked;
    if (! asked.rate)
    {
        // The book's own rate keeps its drop-frame and its fill.
        const auto& delivery = open.book.delivery;
        if (delivery.rate.perSecond != timeline->rate.perSecond)
            asked.rate = timeline->rate;
    }
    const auto made = spotting::timingsOf (open.book, asked), now = spotting::timingsOf (open.book);
    if (! made)
        return made.error();
    if (! now)
        return now.error();
    plan.notes.insert (plan.notes.end(), timeline->notes.begin(), timeline->notes.end());
    std::size_t reel = std::min (wish.reel, made->reelCount() - 1);
    if (timeline->globalStart)
        reel = reelOfCount (*made, timeline->frameOf (*timeline->globalStart), wish.reel);
    std::vector<IncomingHit> hits;
    for (const auto& marker : timeline->markers)
    {
        if (marker.ours.contains ("cue") && ! marker.ours.contains ("hit"))
            continue; // a cue of ours; the cue list brings those
        if (marker.outside)
        {
            plan.notes.push_back ("marker \"" + marker.name + "\" on \"" + marker.on
                                  + "\" lies in a part that is trimmed away; left out");
            continue;
        }
        auto hit = worded (0, marker.name.empty() ? marker.comment : marker.name);
        if (! marker.comment.empty() && ! marker.name.empty())
            hit.hit.note = marker.comment;
        const auto text = [&] (const char* member)
        {
            const auto found = marker.ours.find (member);
            return found != marker.ours.end() ? found->second : std::string();
        };
        if (marker.ours.contains ("hit"))
        {
            hit.hit.id = text ("hit");
            hit.hit.label = text ("label");
            if (const auto kind = spotting::parseHitKind (text ("kind")))
                hit.hit.kind = *kind;
            if (const auto weight = spotting::parseWeight (text ("weight")))
                hit.hit.weight = *weight;
            hit.given.insert ({ "kind", "weight" });
        }
        const auto frame = timeline->frameOf (marker.start);
        auto place = placeOfDelivered (*made, reel, frame);
        // Our own place is finer than a frame; it holds unless the marker was moved since.
        if (const auto typed = film::parsePlace (text ("place")))
            if (const auto own = made->placeFor (*typed))
                if (const auto position = made->find (*own); position && made->times (*position).delivered == frame)
                    place = *own;
        keep (hits, std::move (hit), place, *now, plan);
    }
    return hits;
}

Result<std::vector<IncomingHit>> hitsOfChapters (const OpenBook& open, std::string_view bytes, const ImportWish& wish,
                                                 ImportPlan& plan)
{
    auto list = exchange::readChapters (bytes);
    if (! list)
        return list.error();
    const auto made = spotting::timingsOf (open.book, wish.asked), now = spotting::timingsOf (open.book);
    if (! made)
        return made.error();
    if (! now)
        return now.error();
    plan.bad = list->bad;
    plan.notes.insert (plan.notes.end(), list->notes.begin(), list->notes.end());
    std::vector<IncomingHit> hits;
    for (const auto& chapter : list->chapters)
        keep (hits, worded (chapter.line, chapter.title),
              placeOfDelivered (*made, std::min (wish.reel, made->reelCount() - 1),
                                time::roundOf (chapter.start * made->delivery().rate.perSecond)),
              *now, plan);
    return hits;
}

Result<std::vector<IncomingHit>> hitsOfWav (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    auto info = exchange::readWavInfo (bytes);
    if (! info)
        return info.error();
    const auto made = spotting::timingsOf (open.book, wish.asked), now = spotting::timingsOf (open.book);
    if (! made)
        return made.error();
    if (! now)
        return now.error();
    plan.notes.insert (plan.notes.end(), info->notes.begin(), info->notes.end());
    const auto reel = std::min (wish.reel, made->reelCount() - 1);
    time::Rational start;
    if (info->timeReference && *info->timeReference != 0)
    {
        const auto stamped = spotting::placeOfTimeStamp (*made, reel, *info->timeReference, info->samplesPerSecond);
        if (stamped)
            start = *stamped;
        plan.notes.push_back (stamped ? "its time stamp places the sound " + time::decimalText (start, 3) + " s from picture start"
                                      : "its time stamp was not used (" + stamped.error().text()
                                            + "); it is taken to begin at picture start");
    }
    std::vector<IncomingHit> hits;
    std::int64_t number = 0;
    for (const auto& cue : info->cues)
    {
        const auto seconds = start + time::Rational (cue.sample, info->samplesPerSecond);
        // The frame that is seen at that sample; a point set half a sample early still means the frame that follows.
        const auto frame = time::floorOf (seconds * made->delivery().rate.perSecond
                                          + made->delivery().rate.perSecond / time::Rational (2 * info->samplesPerSecond));
        keep (hits, worded (++number, cue.label), placeOfDelivered (*made, reel, frame), *now, plan);
    }
    if (info->cues.empty())
        plan.notes.push_back ("the sound has no cue points");
    return hits;
}
} // namespace shutterbeat::desk
