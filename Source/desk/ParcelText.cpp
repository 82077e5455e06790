#include "desk/ParcelText.h"

#include "desk/Revisions.h"
#include "exchange/PlainText.h"

#include <algorithm>

namespace shutterbeat::desk
{
namespace
{
constexpr std::size_t lineWidth = 90;

/// A paragraph of short lines, the first after `first`, the others below it.
std::string wrapped (const std::string& text, const std::string& first)
{
    const std::string below (exchange::lettersIn (first), ' ');
    std::string all, line = first;
    bool fresh = true;
    std::size_t at = 0;
    while (at < text.size())
    {
        const auto space = std::min (text.find (' ', at), text.size());
        const auto word = text.substr (at, space - at);
        if (! fresh && exchange::lettersIn (line) + 1 + exchange::lettersIn (word) > lineWidth)
        {
            all += line + "\n";
            line = below;
            fresh = true;
        }
        line += (fresh ? "" : " ") + word;
        fresh = false;
        at = space + 1;
    }
    return all + line + "\n";
}
} // namespace

std::string personName (const spotting::Book& book, const std::string& id)
{
    for (const auto& person : book.people)
        if (person.id == id && ! person.name.empty())
            return person.name;
    return id;
}

std::string parcelText (const MadeParcel& made, const spotting::BookTimes& times, const std::vector<ParcelItem>& items)
{
    const auto& timings = times.timings;
    const auto& parcel = made.parcel;
    const auto revision = exchange::oneLine (revisionText (made.book));
    std::string text = exchange::oneLine (made.book.title) + "\nParcel " + std::to_string (parcel.number) + " for "
                       + personName (made.book, parcel.person) + (parcel.stamped.empty() ? "" : ", " + parcel.stamped) + "\n\n";
    text += wrapped ("Edition " + parcel.sent.edition + ", " + spotting::basisText (timings)
                         + (revision.empty() ? "" : ", revision " + revision) + ".",
                     "");
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
        text += wrapped ((timings.reelCount() > 1 ? "Reel " + std::to_string (reel + 1) + ": " : "")
                             + spotting::reelText (timings, reel) + ".",
                         "");
    if (made.first)
        text += "\nThis is your first parcel.\n";
    else
    {
        text += "\nWHAT CHANGED SINCE PARCEL " + std::to_string (parcel.number - 1) + "\n";
        if (made.changes.empty())
            text += "Nothing: every cue and hit is where it was.\n";
        for (const auto& change : made.changes)
            text += wrapped (exchange::oneLine (change), "- ");
    }
    text += "\nWHAT IS IN IT\n";
    std::size_t longest = 0;
    for (const auto& item : items)
        longest = std::max (longest, exchange::lettersIn (item.name));
    for (const auto& item : items)
        text += wrapped (item.what, item.name + std::string (longest - exchange::lettersIn (item.name) + 2, ' '));
    const bool page = std::any_of (items.begin(), items.end(), [] (const ParcelItem& item) { return item.name == "page.html"; });
    const bool click =
        std::any_of (items.begin(), items.end(), [] (const ParcelItem& item) { return item.name.rfind ("click-", 0) == 0; });
    text += "\nSENDING BACK\n";
    if (page)
        text += wrapped ("Say what you think of the hits on page.html, save, and send the file it gives you.", "- ");
    text += wrapped ("Music: begin file names with the cue's number ("
                         + std::string (times.cues.empty() ? "1M1" : times.cues[0].cue.number)
                         + " ...), or keep the time stamp of the WAV file.",
                     "- ");
    if (click)
        text += "\n" + wrapped ("Before you put headphones on: start the clicks softly. They sound at one level all the time.", "");
    return text;
}
} // namespace shutterbeat::desk
