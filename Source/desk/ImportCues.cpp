#include "desk/ImportFiles.h"

#include "exchange/CsvList.h"
#include "exchange/TimedText.h"
#include "spotting/Edit.h"
#include "spotting/ShotEdit.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
using Kind = ImportChange::Kind;

bool samePlace (const film::Timings& timings, const film::Place& a, const film::Place& b)
{
    const auto first = timings.find (a), second = timings.find (b);
    return first && second && first->reel == second->reel && first->time == second->time
           && first->outsideSeconds == second->outsideSeconds;
}

/// Takes over one member and tells what changed.
template <class T, class Text>
void take (std::string& changed, const std::set<std::string>& given, const char* column, T& member, const T& value, Text text)
{
    if (! given.contains (column) || member == value)
        return;
    changed += (changed.empty() ? "" : ", ") + std::string (column) + " " + text (member) + " to " + text (value);
    member = value;
}

std::string cueName (const spotting::Cue& cue)
{
    return "cue " + cue.number + (cue.title.empty() ? "" : " " + cue.title);
}

/// Where an end of a listed cue lies; nothing when the list does not say.
Result<std::optional<film::Place>> endOf (const film::Timings& made, const ListedPlace& listed)
{
    if (listed.place.empty() && listed.timecode.empty() && listed.feet.empty() && ! listed.filmFrame && ! listed.delivered)
        return std::optional<film::Place>();
    const auto place = placeOf (made, listed);
    if (! place)
        return place.error();
    return std::optional<film::Place> (*place);
}
} // namespace

Result<Done> importCues (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    auto list = exchange::readCueList (bytes);
    if (! list)
        return list.error();
    plan.bad = list->bad;
    for (const auto& column : list->notUsed)
        plan.notes.push_back ("column \"" + column + "\" means nothing here and was passed over");
    if (list->cues.empty())
        return Done{};
    const auto asked = basisOf (wish.asked, list->cues[0].edition, list->cues[0].finalRate, list->cues[0].fill);
    if (! asked)
        return asked.error();
    const auto made = spotting::timingsOf (open.book, *asked), now = spotting::timingsOf (open.book);
    if (! made)
        return made.error();
    if (! now)
        return now.error();
    const std::set<std::string> given (list->columns.begin(), list->columns.end());
    for (const auto& listed : list->cues)
    {
        const auto fail = [&] (const std::string& why) { plan.bad.push_back ({ listed.line, why }); };
        const auto in = endOf (
            *made, { listed.inPlace, listed.inTimecode, listed.inFeet, listed.inReel, listed.inFilmFrame, {}, listed.inDelivered });
        const auto out = endOf (
            *made,
            { listed.outPlace, listed.outTimecode, listed.outFeet, listed.outReel, listed.outFilmFrame, {}, listed.outDelivered });
        if (listed.lost.empty() && (! in || ! out))
        {
            fail (in ? out.error().text() : in.error().text());
            continue;
        }
        const auto* known = spotting::cueOf (plan.book, listed.id);
        if (known == nullptr && ! listed.number.empty())
            if (const auto byNumber = spotting::cueNamed (plan.book, listed.number))
                known = spotting::cueOf (plan.book, byNumber->id);
        spotting::Cue cue = known != nullptr ? *known : spotting::Cue{};
        std::string changed;
        const auto end = [&] (const char* name, film::Place& place, const Result<std::optional<film::Place>>& value)
        {
            if (! value || ! *value || (known != nullptr && samePlace (*now, place, **value)))
                return;
            if (known != nullptr)
                changed += (changed.empty() ? "" : ", ") + std::string (name) + " " + now->placeText (place) + " to "
                           + now->placeText (**value);
            place = **value;
        };
        end ("in", cue.in, in);
        end ("out", cue.out, out);
        take (changed, given, "number", cue.number, listed.number, inQuotes);
        take (changed, given, "title", cue.title, listed.title, inQuotes);
        take (changed, given, "kind", cue.kind, listed.kind, [] (auto kind) { return std::string (spotting::cueKindName (kind)); });
        take (changed, given, "status", cue.status, listed.status,
              [] (auto status) { return std::string (spotting::cueStatusName (status)); });
        take (changed, given, "version", cue.version, listed.version, inQuotes);
        take (changed, given, "mood", cue.mood, listed.mood, inQuotes);
        take (changed, given, "note", cue.note, listed.note, inQuotes);
        if (known != nullptr && changed.empty())
        {
            plan.changes.push_back ({ Kind::same, listed.line, cueName (cue) });
            continue;
        }
        if (known == nullptr && (! in || ! *in || ! out || ! *out))
        {
            fail ("a new cue needs an in and an out");
            continue;
        }
        if (known != nullptr)
        {
            auto book = spotting::setCue (plan.book, cue, *now);
            if (! book)
            {
                fail (book.error().text());
                continue;
            }
            plan.book = std::move (*book);
            plan.changes.push_back ({ Kind::changed, listed.line, cueName (cue) + ": " + changed });
            continue;
        }
        if (listed.bpm)
            plan.notes.push_back (cueName (cue) + " comes without its tempo; tempo maps come from MIDI or MusicXML");
        auto edited = spotting::addCue (plan.book, wish.person, cue, *now);
        if (! edited)
        {
            fail (edited.error().text());
            continue;
        }
        plan.book = std::move (edited->book);
        plan.changes.push_back (
            { Kind::added, listed.line, cueName (cue) + " from " + now->placeText (cue.in) + " to " + now->placeText (cue.out) });
    }
    return Done{};
}

Result<Done> importWordings (const OpenBook& open, std::string_view bytes, const ImportWish& wish, ImportPlan& plan)
{
    auto texts = exchange::readTimedTexts (bytes);
    if (! texts)
        return texts.error();
    plan.bad = texts->bad;
    const auto made = spotting::timingsOf (open.book, wish.asked);
    if (! made)
        return made.error();
    const auto reel = std::min (wish.reel, made->reelCount() - 1);
    const auto& edition = made->edition();
    const auto end = reel + 1 < edition.reels.size() ? edition.reels[reel + 1].firstShot : edition.shots.size();
    std::map<std::string, std::string> wordings; // by shot
    std::map<std::string, std::int64_t> lines;
    for (const auto& text : texts->texts)
    {
        std::optional<std::size_t> best;
        time::Rational longest;
        for (std::size_t i = edition.reels[reel].firstShot; i < end; ++i)
        {
            if (edition.shots[i].kind != film::ShotKind::card)
                continue;
            const auto from = made->clockOf (made->times (made->shotHead (i)).delivered);
            const auto to =
                made->clockOf (i + 1 < end ? made->times (made->shotHead (i + 1)).delivered : made->deliveredLength (reel));
            const auto over = std::min (to, text.end) - std::max (from, text.start);
            if (over > longest)
            {
                longest = over;
                best = i;
            }
        }
        if (! best)
        {
            plan.bad.push_back ({ text.line, "no card is on the screen while it stands" });
            continue;
        }
        // What our own lists write for a card that nobody has read is no wording.
        if (text.text == "[card " + edition.shots[*best].name + "]")
            continue;
        // Two texts over one card are its lines.
        auto& wording = wordings[edition.shots[*best].id];
        wording += (wording.empty() ? "" : "\n") + text.text;
        lines.emplace (edition.shots[*best].id, text.line);
    }
    for (const auto& shot : edition.shots)
    {
        const auto found = wordings.find (shot.id);
        if (found == wordings.end())
            continue;
        if (shot.wording == found->second)
            plan.changes.push_back ({ Kind::same, lines[shot.id], "card " + shot.name });
        else
        {
            spotting::ShotWords words;
            words.wording = found->second;
            auto book = spotting::setShots (plan.book, edition.letter, { shot.id }, words);
            if (! book)
                return book.error();
            plan.book = std::move (*book);
            plan.changes.push_back ({ shot.wording.empty() ? Kind::added : Kind::changed, lines[shot.id],
                                      "card " + shot.name + ": " + (shot.wording.empty() ? "" : inQuotes (shot.wording) + " to ")
                                          + inQuotes (found->second) });
        }
        wordings.erase (found);
    }
    return Done{};
}
} // namespace shutterbeat::desk
