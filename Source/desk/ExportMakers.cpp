#include "desk/ExportMakers.h"

#include "desk/ExportTimecode.h"
#include "desk/LineUpReport.h"
#include "desk/Revisions.h"
#include "exchange/Chapters.h"
#include "exchange/CmxList.h"
#include "exchange/CsvList.h"
#include "exchange/MidiCueFile.h"
#include "exchange/MidiFile.h"
#include "exchange/MusicXmlFile.h"
#include "exchange/OtioFile.h"
#include "exchange/TextList.h"
#include "exchange/TimedText.h"
#include "sheets/ClickChart.h"
#include "sheets/CueListSheet.h"
#include "sheets/FilmLists.h"
#include "sheets/PlayersSheet.h"
#include "sheets/RecutReport.h"
#include "sheets/RightsSheet.h"
#include "sheets/SpottingNotes.h"
#include "sheets/StripScore.h"
#include "sheets/TimingNotes.h"

namespace shutterbeat::desk
{
namespace
{
using Made = Result<exchange::Written>;

exchange::ListHead headOf (const ExportJob& job)
{
    return { job.open.book.title, job.wish.stamped, revisionText (job.open.book) };
}

sheets::SheetHead sheetHeadOf (const ExportJob& job)
{
    return { job.open.book.title, job.wish.stamped, job.wish.letter ? sheets::Paper::letter : sheets::Paper::a4,
             revisionText (job.open.book) };
}

exchange::CsvLook lookOf (const ExportJob& job)
{
    return { job.wish.byteOrderMark, job.wish.separator, job.wish.decimalSign };
}

Made writtenOf (Result<sheets::Sheet> sheet)
{
    if (! sheet)
        return sheet.error();
    return exchange::Written{ { { "", std::move (sheet->pdf) } }, std::move (sheet->notes) };
}

sheets::PictureAt pictureAt (const ExportJob& job)
{
    return [&job] (const film::Position& position) { return job.pictures.at (job.times.timings, position); };
}

/// The edition before and what became of it.
struct RecutFacts
{
    film::Timings before;
    spotting::Carried carried;
    std::vector<spotting::RecutRow> rows;
};

Result<RecutFacts> recutFacts (const ExportJob& job)
{
    const auto& edition = job.times.timings.edition();
    if (edition.parent.empty())
        return usageError ("recut report",
                           "edition " + edition.letter + " was made from no other; name a later one with --edition");
    auto asked = job.wish.asked;
    asked.edition = edition.parent;
    auto before = spotting::timingsOf (job.open.book, asked);
    if (! before)
        return before.error();
    auto carried = spotting::carry (job.open.book, edition.parent, edition.letter);
    if (! carried)
        return carried.error();
    auto rows = spotting::recutRows (before->edition(), edition, carried->changes);
    return RecutFacts{ std::move (*before), std::move (*carried), std::move (rows) };
}

Made writeRecutReport (const ExportJob& job)
{
    const auto facts = recutFacts (job);
    if (! facts)
        return facts.error();
    const auto remedies = spotting::remediesOf (job.open.book, facts->carried);
    if (! remedies)
        return remedies.error();
    return writtenOf (sheets::recutReport (
        job.times, facts->before, sheetHeadOf (job), facts->carried, facts->rows, *remedies,
        [&] (const film::Position& position) { return job.pictures.at (facts->before, position); }, pictureAt (job)));
}

Made writeRecutCmx (const ExportJob& job)
{
    const auto facts = recutFacts (job);
    if (! facts)
        return facts.error();
    return exchange::writeCmxList (job.times, headOf (job), facts->rows);
}

Made texts (const ExportJob& job, bool vtt, exchange::TimedWhat what)
{
    return vtt ? exchange::writeWebVtt (job.times, headOf (job), what) : exchange::writeSrt (job.times, headOf (job), what);
}
} // namespace

const std::vector<ExportMaker>& exportMakers()
{
    using exchange::TimedWhat;
    static const std::vector<ExportMaker> all{
        { { "csv", ".csv", "every hit with all its times, as a table (RFC 4180, UTF-8)", "hits.csv" },
          [] (const ExportJob& job) -> Made
          { return exchange::writeHitList (job.times, headOf (job), lookOf (job), job.wish.columns); } },
        { { "cues-csv", ".csv", "every cue with its times, as a table", "cues.csv" },
          [] (const ExportJob& job) -> Made
          { return exchange::writeCueList (job.times, headOf (job), lookOf (job), job.wish.columns); } },
        { { "text", ".txt", "cues and their hits as plain text, to be read or put into a letter", "hits.txt" },
          [] (const ExportJob& job) -> Made { return exchange::writeTextList (job.times, headOf (job)); } },
        { { "midi", ".mid", "Standard MIDI File: cues as markers, hits as cue points, one tempo a cue, SMPTE offset",
            "markers.mid" },
          [] (const ExportJob& job) { return exchange::writeMidiFile (job.times, headOf (job)); } },
        { { "midi-cues", ".mid", "Standard MIDI File a cue: its bars, meters and tempos from bar 1, hits as cue points",
            "cue.mid" },
          [] (const ExportJob& job) { return exchange::writeMidiCues (job.times, headOf (job)); } },
        { { "musicxml", ".musicxml", "MusicXML 4.0 score a cue: empty bars with tempos, and the hits above them", "cue.musicxml" },
          [] (const ExportJob& job) { return exchange::writeMusicXml (job.times, headOf (job)); } },
        { { "cmx3600", ".edl", "CMX3600 list of the shots, each hit a plain comment", "hits.edl" },
          [] (const ExportJob& job) { return exchange::writeCmxList (job.times, headOf (job)); } },
        { { "otio", ".otio", "OpenTimelineIO timeline: a clip a shot, a marker a hit and a cue", "film.otio" },
          [] (const ExportJob& job) { return exchange::writeOtio (job.times, headOf (job)); } },
        { { "hits-vtt", ".vtt", "hits as WebVTT", "hits.vtt" },
          [] (const ExportJob& job) { return texts (job, true, TimedWhat::hits); } },
        { { "cards-vtt", ".vtt", "card wordings as WebVTT", "cards.vtt" },
          [] (const ExportJob& job) { return texts (job, true, TimedWhat::cards); } },
        { { "hits-srt", ".srt", "hits as SubRip", "hits.srt" },
          [] (const ExportJob& job) { return texts (job, false, TimedWhat::hits); } },
        { { "cards-srt", ".srt", "card wordings as SubRip", "cards.srt" },
          [] (const ExportJob& job) { return texts (job, false, TimedWhat::cards); } },
        { { "chapters", ".ffmeta", "chapters as FFmpeg metadata, to be put into the movie", "chapters.ffmeta" },
          [] (const ExportJob& job) {
              return exchange::writeChapters (job.times, headOf (job), { true, job.wish.chapters });
          } },
        { { "ltc", ".wav", "linear timecode as a sound, as long as the picture", "timecode.wav", false },
          {},
          PicturesOf::none,
          [] (const ExportJob& job, const std::string& path) { return writeLinearTimecode (job.times, path, job.progress); } },
        { { "notes", ".pdf", "spotting notes for print, with a picture of each hit's frame", "spotting-notes.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::spottingNotes (job.times, sheetHeadOf (job), pictureAt (job))); },
          PicturesOf::hits },
        { { "timing-notes", ".pdf", "timing notes for the composer: every hit from 0:00.00 in its cue", "timing-notes.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::timingNotes (job.times, sheetHeadOf (job), pictureAt (job))); },
          PicturesOf::hits },
        { { "cue-list", ".pdf", "cue list with lengths and totals", "cue-list.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::cueListSheet (job.open.book, job.times, sheetHeadOf (job))); } },
        { { "click-chart", ".pdf", "click chart for players and conductor: bars, clicks, hits", "click-chart.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::clickChart (job.times, sheetHeadOf (job))); } },
        { { "strip-score", ".pdf", "strip score: a page a minute in true proportion, with blank staves", "strip-score.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::stripScore (job.times, sheetHeadOf (job), pictureAt (job))); },
          PicturesOf::hitsAndCuts },
        { { "players", ".pdf", "sheet for the players of a live showing; give its speed with --running", "players.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::playersSheet (job.open.book, job.times, sheetHeadOf (job))); } },
        { { "rights", ".pdf", "rights cue sheet for the collecting society", "rights.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::rightsSheet (job.open.book, job.times, sheetHeadOf (job))); } },
        { { "title-list", ".pdf", "title list: every card with wording, length and whether it can be read", "title-list.pdf" },
          [] (const ExportJob& job)
          { return writtenOf (sheets::titleList (job.open.book, job.times, sheetHeadOf (job), pictureAt (job))); },
          PicturesOf::cards },
        { { "line-up", ".pdf", "line-up report: every sound against its hits, with pictures and the sound around them",
            "line-up.pdf", false },
          [] (const ExportJob& job)
          { return writtenOf (lineUpReport (job.open, job.times, sheetHeadOf (job), pictureAt (job), job.progress)); },
          PicturesOf::hits },
        { { "recut-report", ".pdf", "recut report: what changed since the edition this one was made from, with pictures",
            "recut-report.pdf", false },
          writeRecutReport,
          PicturesOf::recut },
        { { "recut-cmx3600", ".edl", "CMX3600 list with what changed since the edition before, shot by shot, in comments",
            "changes.edl", false },
          writeRecutCmx },
        { { "source-list", ".pdf", "source list: print, reel and first frame of every shot, made or remade, and why",
            "source-list.pdf" },
          [] (const ExportJob& job) { return writtenOf (sheets::sourceList (job.times, sheetHeadOf (job))); } },
    };
    return all;
}
} // namespace shutterbeat::desk
