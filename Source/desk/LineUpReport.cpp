#include "desk/LineUpReport.h"

#include "desk/LineUpRecut.h"
#include "lineup/DiagnosisWords.h"
#include "time/Clock.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::desk
{
namespace
{
std::string lateWords (const HitLineUp& hit)
{
    if (hit.verdict == HitVerdict::noAccent)
        return "no clear accent here";
    if (hit.verdict == HitVerdict::outside)
        return "the sound does not reach it";
    return lineup::lateText (hit.lateMs / 1000) + ", " + lineup::numberText (std::abs (hit.frames), 1) + " frames"
           + (hit.alone ? "" : " (or another)");
}
} // namespace

sheets::SoundAround soundAround (const HeardSound& heard, double moment, double seconds, std::size_t columns)
{
    sheets::SoundAround around;
    around.seconds = seconds;
    const double left = moment - seconds / 2;
    if (left > heard.to || left + seconds < heard.from)
        return around;
    const auto first = std::llround ((left - heard.from) * heard.peakRate),
               end = std::llround ((left + seconds - heard.from) * heard.peakRate);
    for (const auto& peak : heard.peaks.outline (first, end, columns))
        around.outline.emplace_back (static_cast<float> (peak.low) / 32767, static_cast<float> (peak.high) / 32767);
    for (const auto& onset : heard.sharp)
        if (std::abs (onset.seconds - moment) < seconds / 2)
            around.onsets.push_back (onset.seconds - moment);
    return around;
}

sheets::LineUpPart partOf (const spotting::BookTimes& times, const SoundLineUp& lined)
{
    sheets::LineUpPart part;
    part.sound = lined.sound.name;
    part.cue = lined.cue;
    part.place = (lined.cue.empty() ? "" : "Cue " + lined.cue + "; ") + std::string ("starts ") + time::clockText (lined.start, 3)
                 + " from picture start" + (times.timings.reelCount() > 1 ? " of reel " + std::to_string (lined.reel + 1) : "")
                 + ", " + lineup::numberText (lined.heard.length, 1) + " s long";
    part.faults.assign (lined.sentences.begin(), lined.sentences.begin() + static_cast<std::ptrdiff_t> (lined.faults));
    part.facts.assign (lined.sentences.begin() + static_cast<std::ptrdiff_t> (lined.faults), lined.sentences.end());
    for (const auto& hit : lined.hits)
    {
        sheets::LineUpRow row;
        row.hit = &times.hits[hit.row];
        row.late = lateWords (hit);
        row.beyond = hit.verdict == HitVerdict::early || hit.verdict == HitVerdict::late;
        for (const auto& name : hit.broken)
            row.breaks += (row.breaks.empty() ? "" : "; ") + name;
        row.around = soundAround (lined.heard, hit.wanted);
        if (hit.heard)
            row.around.heard = *hit.heard - hit.wanted;
        part.rows.push_back (std::move (row));
    }
    const auto counts = countsOf (lined);
    part.counts = std::to_string (counts.within) + " within their limits, " + std::to_string (counts.beyond) + " beyond, "
                  + std::to_string (counts.noAccent) + " without a clear accent, " + std::to_string (counts.outside)
                  + " outside the sound";
    return part;
}

Result<sheets::Sheet> lineUpReport (const OpenBook& open, const spotting::BookTimes& times, const sheets::SheetHead& head,
                                    const sheets::PictureAt& pictureAt, const Progress& progress)
{
    std::vector<sheets::LineUpPart> parts;
    const auto all = open.book.sounds.size();
    std::vector<std::string> notes;
    for (const auto& sound : open.book.sounds)
    {
        if (sound.muted)
            continue;
        const auto at = static_cast<double> (&sound - open.book.sounds.list().data());
        const auto lined = lineUp (open, times, sound, {},
                                   [&] (double fraction, const std::string& what)
                                   { return ! progress || progress ((at + fraction) / static_cast<double> (all), what); });
        if (! lined)
            return lined.error();
        notes.insert (notes.end(), lined->notes.begin(), lined->notes.end());
        parts.push_back (partOf (times, *lined));
    }
    if (parts.empty())
        return usageError ("line-up",
                           "the book has no sound that is heard; add one with: shutterbeat sounds " + open.path + " add FILE");
    std::vector<sheets::StandLine> stands;
    const bool recut =
        std::any_of (open.book.sounds.begin(), open.book.sounds.end(),
                     [&] (const spotting::Sound& s) {
                         return s.madeFor && (s.madeFor->edition != open.book.edition || s.madeFor->delivery != open.book.delivery);
                     });
    if (recut)
    {
        const auto rows = soundStands (open.book);
        if (! rows)
            return rows.error();
        for (const auto& row : *rows)
            stands.push_back ({ row.sound.name + (row.cue.empty() ? "" : ", cue " + row.cue), standName (row.stand), row.why,
                                row.stand == Stand::stands });
    }
    auto sheet = sheets::lineUpSheet (times, head, parts, stands, pictureAt);
    if (sheet)
        sheet->notes.insert (sheet->notes.end(), notes.begin(), notes.end());
    return sheet;
}
} // namespace shutterbeat::desk
