#include "exchange/TextList.h"

#include "exchange/PlainText.h"
#include "time/Clock.h"

#include <algorithm>
#include <set>

namespace shutterbeat::exchange
{
namespace
{
/// Filled up with blanks to so many letters, at the left or at the right.
std::string wide (const std::string& text, std::size_t letters, bool right = false)
{
    const std::string blanks (letters - std::min (letters, lettersIn (text)), ' ');
    return right ? blanks + text : text + blanks;
}

std::string placeText (const film::PlaceTimes& at)
{
    const auto code = at.timecode.empty() ? "frame " + std::to_string (at.delivered) : at.timecode;
    return code + (at.reel > 0 ? " (reel " + std::to_string (at.reel + 1) + ")" : "");
}

class TextSetter
{
public:
    explicit TextSetter (const spotting::BookTimes& bookTimes)
        : times (bookTimes)
    {
        for (const auto& row : times.hits)
            if (row.at)
            {
                placeWidth = std::max (placeWidth, lettersIn (placeText (*row.at)));
                frameWidth = std::max (frameWidth, std::to_string (row.at->delivered).size());
            }
    }

    void head (const ListHead& head)
    {
        const auto title = head.title.empty() ? std::string ("Untitled") : oneLine (head.title);
        line (title + ", edition " + times.timings.edition().letter);
        line (spotting::basisText (times.timings));
        for (std::size_t reel = 0; reel < times.timings.reelCount(); ++reel)
            line ((times.timings.reelCount() > 1 ? "reel " + std::to_string (reel + 1) + ": " : "")
                  + spotting::reelText (times.timings, reel));
        if (! head.revision.empty())
            line ("revision " + oneLine (head.revision));
        if (! head.stamped.empty())
            line (head.stamped);
    }

    void cue (const spotting::CueTimes& row)
    {
        const auto& cue = row.cue;
        line ("");
        line (oneLine (cue.number) + (cue.title.empty() ? "" : "  " + oneLine (cue.title)));
        std::string facts (spotting::cueKindName (cue.kind));
        facts += ", " + std::string (spotting::cueStatusName (cue.status));
        facts += cue.version.empty() ? "" : ", version " + oneLine (cue.version);
        if (const auto tempo = spotting::tempoText (cue); ! tempo.empty())
            facts += ", " + tempo + " a minute";
        line (facts);
        if (row.in && row.out)
            line (placeText (*row.in) + " to " + placeText (*row.out)
                  + (row.length ? ", " + time::clockText (*row.length) : std::string()));
        for (const auto* words : { &cue.mood, &cue.note, &row.lost })
            if (! words->empty())
                line (oneLine (*words));
        if (! row.until.empty())
            line ("until the title: " + oneLine (row.until));
        for (const auto i : row.hits)
            if (times.hits[i].at)
                hit (times.hits[i], spotting::fromCueStart (row, times.hits[i]));
    }

    void hit (const spotting::HitTimes& row, const std::optional<time::Rational>& clock)
    {
        const auto& hit = row.hit;
        std::string text = "  ";
        if (row.at)
            text += wide (placeText (*row.at), placeWidth) + "  " + wide (std::to_string (row.at->delivered), frameWidth, true)
                    + "  " + wide (clock ? time::clockText (*clock) : "other reel", 10, true) + "  ";
        text += wide (std::string (spotting::weightName (hit.weight)), 6) + "  "
                + wide (std::string (spotting::hitKindName (hit.kind)), 10) + "  " + oneLine (hit.label);
        if (hit.lead.sign() != 0)
            text += " (music " + time::decimalText (hit.lead.sign() < 0 ? -hit.lead : hit.lead, 3) + " s "
                    + (hit.lead.sign() < 0 ? "before" : "after") + " the picture)";
        text += hit.agreed ? "" : " (open)";
        line (text.substr (0, text.find_last_not_of (' ') + 1));
        if (! hit.note.empty())
            line ("      " + oneLine (hit.note));
        if (! row.lost.empty())
            line ("      " + oneLine (row.lost));
    }

    void heading (const std::string& words)
    {
        line ("");
        line (words);
    }

    std::string all;

private:
    void line (const std::string& words) { all += words + "\n"; }

    const spotting::BookTimes& times;
    std::size_t placeWidth = 0, frameWidth = 0;
};
} // namespace

Written writeTextList (const spotting::BookTimes& times, const ListHead& head)
{
    TextSetter setter (times);
    setter.head (head);
    std::set<std::size_t> shown;
    for (const auto& row : times.cues)
    {
        setter.cue (row);
        for (const auto i : row.hits)
            if (times.hits[i].at)
                shown.insert (i);
    }
    for (const bool lost : { false, true })
    {
        bool first = true;
        for (std::size_t i = 0; i < times.hits.size(); ++i)
            if (const auto& row = times.hits[i]; ! shown.contains (i) && ! row.at.has_value() == lost)
            {
                if (first)
                    setter.heading (lost ? "Lost in this edition" : "Hits of no cue, counted from picture start");
                first = false;
                setter.hit (row, row.at ? std::optional (row.at->clock) : std::nullopt);
            }
    }
    return { { { "", std::move (setter.all) } }, {} };
}
} // namespace shutterbeat::exchange
