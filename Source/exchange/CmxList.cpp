#include "exchange/CmxList.h"

#include "exchange/PlainText.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>

namespace shutterbeat::exchange
{
namespace
{
constexpr std::size_t mostEvents = 999;

/// A shot as an event: delivered frames of its reel.
struct Event
{
    std::size_t shot = 0;
    std::int64_t in = 0, out = 0;
    std::vector<std::string> comments;
};

class CmxWriter
{
public:
    CmxWriter (const spotting::BookTimes& bookTimes, const ListHead& listHead, const std::vector<spotting::RecutRow>& changes)
        : times (bookTimes)
        , head (listHead)
        , timings (bookTimes.timings)
        , changeLines (timings.edition().shots.size())
    {
        // Rows of shots that are there follow the edition; one that was cut out stands behind what it followed.
        std::size_t shot = 0;
        for (const auto& row : changes)
        {
            const bool there = row.newFirst >= 0;
            if (there && shot == changeLines.size())
                break;
            if (row.changed())
                changeLines[there || shot == 0 ? shot : shot - 1].push_back (changeLine (row));
            shot += there ? 1 : 0;
        }
    }

    Written write()
    {
        for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
            writeReel (reel);
        if (wrapped)
            notes.push_back ("the list passes midnight: labels begin again at 00:00:00:00, the events are in order");
        return { std::move (parts), std::move (notes) };
    }

private:
    void writeReel (std::size_t reel)
    {
        auto events = eventsOf (reel);
        for (const auto& row : times.cues)
            if (row.in && row.in->reel == reel)
                eventAt (events, row.in->delivered).comments.push_back (cueLine (row));
        for (const auto& row : times.hits)
            if (row.at && row.at->reel == reel)
                eventAt (events, row.at->delivered).comments.push_back (hitLine (row));
        if (reel + 1 == timings.reelCount())
            addLost (events.back());
        const std::size_t pieces = (events.size() + mostEvents - 1) / mostEvents;
        if (pieces > 1)
            notes.push_back (std::to_string (events.size()) + " events are more than one CMX3600 list holds; they are "
                             + std::to_string (pieces) + " lists, each numbered from 001");
        for (std::size_t piece = 0; piece < pieces; ++piece)
        {
            const auto first = events.begin() + static_cast<std::ptrdiff_t> (piece * mostEvents);
            const auto end = events.begin() + static_cast<std::ptrdiff_t> (std::min (events.size(), (piece + 1) * mostEvents));
            std::string suffix = timings.reelCount() > 1 ? "-reel" + std::to_string (reel + 1) : "";
            if (pieces > 1)
                suffix += "-part" + std::to_string (piece + 1);
            parts.push_back ({ suffix, listText (reel, suffix, { first, end }) });
        }
    }

    /// One event a shot; a shot that no delivered frame shows has none.
    std::vector<Event> eventsOf (std::size_t reel)
    {
        const auto& edition = timings.edition();
        const auto& reels = edition.reels;
        const std::size_t end = reel + 1 < reels.size() ? reels[reel + 1].firstShot : edition.shots.size();
        std::vector<Event> events;
        for (std::size_t shot = reels[reel].firstShot; shot < end; ++shot)
        {
            const auto in = timings.times (timings.shotHead (shot)).delivered;
            const auto out =
                shot + 1 < end ? timings.times (timings.shotHead (shot + 1)).delivered : timings.deliveredLength (reel);
            if (out > in)
            {
                events.push_back ({ shot, in, out, { shotLine (edition.shots[shot]) } });
                events.back().comments.insert (events.back().comments.end(), changeLines[shot].begin(), changeLines[shot].end());
            }
            else
                notes.push_back ("shot " + edition.shots[shot].name
                                 + " is so short that no delivered frame shows it; it has no event");
        }
        if (events.empty())
            events.push_back ({ reels[reel].firstShot, 0, timings.deliveredLength (reel), {} });
        return events;
    }

    static Event& eventAt (std::vector<Event>& events, std::int64_t delivered)
    {
        const auto after = std::upper_bound (events.begin(), events.end(), delivered,
                                             [] (std::int64_t frame, const Event& event) { return frame < event.in; });
        return after == events.begin() ? *after : *std::prev (after);
    }

    std::string label (std::size_t reel, std::int64_t delivered)
    {
        const auto found = time::labelOf (timings.startCount (reel) + delivered, timings.delivery().rate);
        wrapped = wrapped || found.days != 0;
        return found.text;
    }

    /// Text of a comment: one line, and without the bar at which some programs cut comments apart.
    std::string words (const std::string& text)
    {
        std::string line = oneLine (fromUtf8OrLatin1 (text));
        std::replace (line.begin(), line.end(), '|', '/');
        if (line != text)
            notes.push_back ("\"" + line + "\" stands so in the list: its comments hold no line breaks and no |");
        return line;
    }

    /// One word: blanks become hyphens, nothing becomes one hyphen.
    std::string word (const std::string& text)
    {
        std::string one = words (text);
        std::replace (one.begin(), one.end(), ' ', '-');
        return one.empty() ? "-" : one;
    }

    std::string shotLine (const film::Shot& shot)
    {
        const std::string line = "* SHOT " + word (shot.name) + " " + std::string (film::shotKindName (shot.kind));
        return shot.wording.empty() ? line : line + " " + oneLine (fromUtf8OrLatin1 (shot.wording));
    }

    std::string changeLine (const spotting::RecutRow& row)
    {
        std::string line = "* CHANGE " + spotting::whatText (row);
        if (row.newFirst < 0)
            line += " " + word (row.shot);
        if (row.oldFirst >= 0)
            line += ", was film frame " + std::to_string (row.oldFirst) + ", " + std::to_string (row.oldFrames) + " film frames";
        if (row.newFirst >= 0 && row.by != 0)
            line += std::string (", ") + (row.by > 0 ? "+" : "") + std::to_string (row.by);
        return line;
    }

    std::string hitWords (const spotting::HitPoint& hit)
    {
        const std::string text =
            std::string (spotting::weightName (hit.weight)) + " " + word (std::string (spotting::hitKindName (hit.kind)));
        const std::string name = words (hit.label);
        return name.empty() ? text : text + " " + name;
    }

    std::string hitLine (const spotting::HitTimes& row)
    {
        return "* HIT " + label (row.at->reel, row.at->delivered) + " " + hitWords (row.hit);
    }

    std::string cueWords (const spotting::Cue& cue)
    {
        const std::string title = words (cue.title);
        return title.empty() ? word (cue.number) : word (cue.number) + " " + title;
    }

    std::string cueLine (const spotting::CueTimes& row)
    {
        const std::string in = label (row.in->reel, row.in->delivered);
        if (row.out)
            return "* CUE " + in + " " + label (row.out->reel, row.out->delivered) + " " + cueWords (row.cue);
        notes.push_back ("cue " + row.cue.number + " has lost its out; the list ends it where it begins");
        return "* CUE " + in + " " + in + " " + cueWords (row.cue);
    }

    void addLost (Event& last)
    {
        for (const auto& row : times.cues)
            if (! row.in)
            {
                last.comments.push_back ("* LOST CUE " + cueWords (row.cue));
                notes.push_back ("cue " + row.cue.number + " is lost; the list names it at its end: " + row.lost);
            }
        for (const auto& row : times.hits)
            if (! row.at)
            {
                last.comments.push_back ("* LOST HIT " + hitWords (row.hit));
                notes.push_back ("hit " + row.hit.label + " is lost; the list names it at its end: " + row.lost);
            }
    }

    std::string listText (std::size_t reel, const std::string& suffix, const std::vector<Event>& events)
    {
        constexpr const char* end = "\r\n";
        std::string text =
            "TITLE:   " + oneLine (fromUtf8OrLatin1 (head.title)) + (suffix.empty() ? "" : " " + suffix.substr (1)) + end;
        text += timings.delivery().rate.dropFrame ? "FCM: DROP FRAME" : "FCM: NON-DROP FRAME";
        text += end;
        text += "* EDITION " + word (timings.edition().letter) + ", " + spotting::basisText (timings) + ", start " + label (reel, 0)
                + oneLine (head.stampText()) + end;
        for (std::size_t i = 0; i < events.size(); ++i)
        {
            const std::string in = label (reel, events[i].in), out = label (reel, events[i].out);
            text += time::padded (static_cast<std::int64_t> (i) + 1, 3) + "  AX       V     C        " + in + " " + out + " " + in
                    + " " + out + end;
            for (const auto& comment : events[i].comments)
                text += comment + end;
        }
        return text;
    }

    const spotting::BookTimes& times;
    const ListHead& head;
    const film::Timings& timings;
    std::vector<std::vector<std::string>> changeLines; ///< by shot
    std::vector<WrittenPart> parts;
    std::vector<std::string> notes;
    bool wrapped = false;
};
} // namespace

Result<Written> writeCmxList (const spotting::BookTimes& times, const ListHead& head,
                              const std::vector<spotting::RecutRow>& changes)
{
    const auto& rate = times.timings.delivery().rate;
    if (! time::hasTimecode (rate))
        return usageError ("CMX3600 list", "needs timecode, and there is none at " + time::rateName (rate)
                                               + "; choose another final rate, such as 24 or 25");
    return CmxWriter (times, head, changes).write();
}
} // namespace shutterbeat::exchange
