#include "sheets/SpottingNotes.h"

#include "sheets/Fonts.h"
#include "sheets/SpottingRows.h"

#include <set>

namespace shutterbeat::sheets
{
namespace
{
using Picture = std::shared_ptr<const SheetPicture>;

/// The pictures of all hits; where one could not be had its place is empty, and a note says so.
std::vector<Picture> picturesOf (const spotting::BookTimes& times, const PictureAt& pictureAt, std::vector<std::string>& notes)
{
    std::vector<Picture> pictures (times.hits.size());
    std::size_t missing = 0, wanted = 0;
    for (std::size_t i = 0; i < times.hits.size(); ++i)
        if (const auto& row = times.hits[i]; pictureAt && row.at && row.at->fileFrame)
        {
            if (const auto position = times.timings.find (row.hit.place))
                pictures[i] = pictureAt (*position);
            ++wanted;
            missing += pictures[i] ? 0 : 1;
        }
    if (missing > 0)
        notes.push_back (std::to_string (missing) + " of " + std::to_string (wanted)
                         + " pictures could not be had; their places are empty");
    return pictures;
}

NotesEnd endOf (const spotting::BookTimes& times, const film::Place& place, const PictureAt& pictureAt)
{
    NotesEnd end{ signalAt (times, place), nullptr, "" };
    if (const auto position = times.timings.find (place); pictureAt && position)
    {
        end.picture = pictureAt (*position);
        end.frame = std::to_string (times.timings.times (*position).filmFrame);
    }
    return end;
}

/// Words in place of a film frame for what lies outside the picture.
std::string outsideText (const film::Timings& timings, const film::Place& place)
{
    const auto* outside = std::get_if<film::OutsidePlace> (&place);
    if (outside == nullptr)
        return "";
    return ! timings.find (place) ? "" : outside->afterEnd ? "after picture end" : "before picture start";
}
} // namespace

Result<Sheet> spottingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt)
{
    Sheet sheet;
    sheet.notes = missingFamilies();
    const auto pictures = picturesOf (times, pictureAt, sheet.notes);
    const auto size = pageSize (head.paper);
    Words words;
    const SpottingRows rows (words, size.textWidth(), static_cast<bool> (pictureAt));
    std::vector<Block> blocks;
    rows.title (blocks, times, head);

    std::set<std::size_t> shown;
    for (const auto& cue : times.cues)
    {
        std::vector<NotesHit> hits;
        for (const auto i : cue.hits)
            if (times.hits[i].at)
            {
                hits.push_back ({ &times.hits[i], spotting::fromCueStart (cue, times.hits[i]), pictures[i],
                                  outsideText (times.timings, times.hits[i].hit.place) });
                shown.insert (i);
            }
        rows.cue (blocks, cue, hits, endOf (times, cue.cue.in, pictureAt), endOf (times, cue.cue.out, pictureAt));
    }
    std::vector<NotesHit> free, lost;
    for (std::size_t i = 0; i < times.hits.size(); ++i)
        if (! times.hits[i].at)
            lost.push_back ({ &times.hits[i], {}, nullptr, "" });
        else if (! shown.contains (i))
            free.push_back (
                { &times.hits[i], times.hits[i].at->clock, pictures[i], outsideText (times.timings, times.hits[i].hit.place) });
    rows.section (blocks, "Hits of no cue", "Clock from picture start.", free);
    rows.section (blocks, "Lost in this edition", "Their picture is not in this edition; they wait here for a decision.", lost);
    if (times.cues.empty() && times.hits.empty())
        rows.sentence (blocks, "No cues and no hits yet.");

    const std::string footer = (head.title.empty() ? "" : head.title + ", ") + "spotting notes, edition "
                               + times.timings.edition().letter + ", final rate " + time::rateName (times.timings.delivery().rate)
                               + (head.stamped.empty() ? "" : ", " + head.stamped);
    auto pdf =
        pdfOf (blocks, size, words, footer, { (head.title.empty() ? "" : head.title + " – ") + "Spotting notes", head.stamped });
    if (! pdf)
        return pdf.error();
    sheet.pdf = std::move (*pdf);
    for (auto& note : words.missingLetters())
        sheet.notes.push_back (std::move (note));
    return sheet;
}
} // namespace shutterbeat::sheets
