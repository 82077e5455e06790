#include "spotting/ParcelRows.h"

#include <algorithm>
#include <map>

namespace shutterbeat::spotting
{
namespace
{
std::string deliveryText (const std::string& edition, const film::Delivery& delivery)
{
    return "edition " + edition + " at " + time::rateName (delivery.rate) + ", " + film::fillName (delivery.from);
}

std::string nameOf (const SentRow& row)
{
    return (row.cue ? "Cue " : "Hit ") + (row.name.empty() ? row.id : "\"" + row.name + "\"");
}

/// "12 frames later", "1 frame earlier".
std::string shiftText (std::int64_t frames, const std::string& unit)
{
    const auto count = frames < 0 ? -frames : frames;
    return std::to_string (count) + " " + unit + (count == 1 ? "" : "s") + (frames > 0 ? " later" : " earlier");
}

std::string movedText (const SentRow& was, const SentRow& is, bool alike)
{
    std::string text;
    const auto say = [&] (const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
    if (was.lost != is.lost)
        say (is.lost ? "has lost its place" : "has a place again");
    else if (was.reel != is.reel)
        say ("is in reel " + std::to_string (is.reel + 1) + " now");
    else if (! is.lost)
    {
        const auto shift = alike ? is.delivered - was.delivered : is.film - was.film;
        const auto unit = std::string (alike ? "frame" : "film frame");
        if (shift != 0)
            say (shiftText (shift, unit));
        if (alike && was.end && is.end && *is.end - *was.end != shift)
            say ("its end " + (*is.end == *was.end ? std::string ("as before") : shiftText (*is.end - *was.end, unit)));
    }
    if (was.name != is.name)
        say ("was called \"" + was.name + "\"");
    if (was.said != is.said)
        say (is.said + " (was " + was.said + ")");
    return text;
}
} // namespace

SentState sentState (const BookTimes& times)
{
    SentState state{ times.timings.edition().letter, times.timings.delivery(), {} };
    auto& rows = state.rows;
    for (const auto& row : times.cues)
    {
        SentRow sent{ row.cue.id, row.cue.number + (row.cue.title.empty() ? "" : " " + row.cue.title), true, 0, 0, 0, {}, "",
                      ! row.in };
        if (row.in)
        {
            sent.reel = row.in->reel;
            sent.film = row.in->filmFrame;
            sent.delivered = row.in->delivered;
        }
        if (row.in && row.out && row.in->reel == row.out->reel)
            sent.end = row.out->delivered;
        sent.said = std::string (cueKindName (row.cue.kind)) + ", " + std::string (cueStatusName (row.cue.status));
        if (const auto tempo = tempoText (row.cue); ! tempo.empty())
            sent.said += ", tempo " + tempo;
        if (! row.cue.mood.empty())
            sent.said += ", " + row.cue.mood;
        rows.push_back (std::move (sent));
    }
    for (const auto& row : times.hits)
    {
        SentRow sent{ row.hit.id, row.hit.label, false, 0, 0, 0, {}, "", ! row.at };
        if (row.at)
        {
            sent.reel = row.at->reel;
            sent.film = row.at->filmFrame;
            sent.delivered = row.at->delivered;
        }
        sent.said = std::string (hitKindName (row.hit.kind)) + ", " + std::string (weightName (row.hit.weight)) + ", "
                    + (row.hit.agreed ? "agreed" : "open");
        if (row.hit.lead.sign() != 0)
            sent.said += ", lead " + time::fractionText (row.hit.lead) + " s";
        rows.push_back (std::move (sent));
    }
    return state;
}

const Parcel* lastParcel (const std::vector<Parcel>& parcels, const std::string& person)
{
    const Parcel* last = nullptr;
    for (const auto& parcel : parcels)
        if (parcel.person == person && (last == nullptr || parcel.number > last->number))
            last = &parcel;
    return last;
}

std::vector<std::string> changesBetween (const SentState& before, const SentState& after)
{
    std::vector<std::string> changes;
    const bool alike = before.delivery == after.delivery;
    if (! alike || before.edition != after.edition)
        changes.push_back ("The film is delivered as " + deliveryText (after.edition, after.delivery) + " now; it was "
                           + deliveryText (before.edition, before.delivery)
                           + (alike ? "." : ": every timing is new, shifts below are in film frames."));
    std::map<std::string, const SentRow*> was;
    for (const auto& row : before.rows)
        was[row.id] = &row;
    for (const auto& row : after.rows)
    {
        const auto known = was.find (row.id);
        if (known == was.end())
        {
            changes.push_back (nameOf (row) + " is new: " + row.said + ".");
            continue;
        }
        if (const auto moved = movedText (*known->second, row, alike); ! moved.empty())
            changes.push_back (nameOf (row) + ": " + moved + ".");
    }
    for (const auto& row : before.rows)
        if (std::none_of (after.rows.begin(), after.rows.end(), [&] (const SentRow& now) { return now.id == row.id; }))
            changes.push_back (nameOf (row) + " is gone.");
    return changes;
}

std::vector<std::string> changesSince (const Parcel& before, const BookTimes& times)
{
    return changesBetween (before.sent, sentState (times));
}
} // namespace shutterbeat::spotting
