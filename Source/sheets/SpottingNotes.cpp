#include "sheets/SpottingNotes.h"

#include "sheets/Fonts.h"
#include "sheets/SpottingRows.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace shutterbeat::sheets
{
namespace
{
/// Pixels a point of paper: about 200 to the inch, enough for print and small enough for mail.
constexpr double pixelsPerPoint = 2.8;

/// Where a hit's frame lies among the files, so that pictures are asked for in that order.
std::tuple<std::string, std::size_t, std::int64_t> fileOrder (const spotting::BookTimes& times, const spotting::HitTimes& row)
{
    std::string print;
    if (const auto position = times.timings.find (row.hit.place))
        print = times.timings.edition().shots[position->shot].print;
    return { print, row.at->reelFile.value_or (0), row.at->fileFrame.value_or (0) };
}

using Pictures = std::vector<std::shared_ptr<const SheetPicture>>;

Pictures fetch (const spotting::BookTimes& times, const PictureOf& pictureOf, std::vector<std::string>& notes)
{
    Pictures pictures (times.hits.size());
    if (! pictureOf)
        return pictures;
    std::vector<std::pair<std::tuple<std::string, std::size_t, std::int64_t>, std::size_t>> order;
    for (std::size_t i = 0; i < times.hits.size(); ++i)
        if (times.hits[i].at && times.hits[i].at->fileFrame)
            order.emplace_back (fileOrder (times, times.hits[i]), i);
    std::sort (order.begin(), order.end());
    std::size_t missing = 0;
    for (std::size_t k = 0; k < order.size(); ++k)
    {
        // Hits on one frame share its picture.
        auto& picture = pictures[order[k].second];
        if (k > 0 && order[k].first == order[k - 1].first)
            picture = pictures[order[k - 1].second];
        else if (const auto found = pictureOf (times.hits[order[k].second]); found && found->whole())
            picture = std::make_shared<const SheetPicture> (
                smaller (*found, static_cast<int> (SpottingRows::pictureWidth * pixelsPerPoint),
                         static_cast<int> (SpottingRows::pictureHeight * pixelsPerPoint)));
        missing += picture ? 0 : 1;
    }
    if (missing > 0)
        notes.push_back (std::to_string (missing) + " of " + std::to_string (order.size())
                         + " pictures could not be had; their places are empty");
    return pictures;
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

Result<Sheet> spottingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureOf& pictureOf)
{
    Sheet sheet;
    sheet.notes = missingFamilies();
    const auto pictures = fetch (times, pictureOf, sheet.notes);
    const auto size = pageSize (head.paper);
    Words words;
    const SpottingRows rows (words, size.textWidth(), static_cast<bool> (pictureOf));
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
        rows.cue (blocks, cue, hits);
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
