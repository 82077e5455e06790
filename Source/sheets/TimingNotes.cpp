#include "sheets/TimingNotes.h"

#include "sheets/MarkDraw.h"
#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>
#include <set>

namespace shutterbeat::sheets
{
namespace
{
constexpr double clockRight = 74, barRight = 122, codeLeft = 134, pictureWidth = 50, pictureHeight = 37.5;

class NotesSetter
{
public:
    NotesSetter (SheetPages& sheetPages, const PictureAt& pictures)
        : pages (sheetPages)
        , words (sheetPages.words)
        , pictureAt (pictures)
        , textLeft (pictures ? 270 : 210)
    {
    }

    void cue (const spotting::CueTimes& row)
    {
        cueHead (row);
        const auto heading = columns (row.cue.number, row.cue.title, true);
        columnsNow (true);
        std::vector<std::size_t> placed;
        for (const auto i : row.hits)
            if (pages.times.hits[i].at)
                placed.push_back (i);
        if (placed.empty())
            pages.paragraph ("No hits.", { Face::words, 9, false, quiet });
        for (std::size_t k = 0; k < placed.size(); ++k)
        {
            const auto& hit = pages.times.hits[placed[k]];
            const auto clock = spotting::fromCueStart (row, hit);
            hitRow (hit, clock, clock ? barText (row, hit.at->clock) : "", heading);
            pages.blocks.back().keepWithNext = k + 1 < placed.size() && (k == 0 || k + 2 == placed.size());
        }
    }

    void others (const std::string& name, const std::string& about, const std::vector<const spotting::HitTimes*>& hits)
    {
        if (hits.empty())
            return;
        pages.heading (name, about);
        for (const auto* hit : hits)
            hitRow (*hit, hit->at ? std::optional (hit->at->clock) : std::nullopt, "", columns ("", name, false));
    }

private:
    void cueHead (const spotting::CueTimes& row)
    {
        const auto& cue = row.cue;
        const Style number{ Face::words, 19, true, night }, title{ Face::words, 13, true };
        const double left = words.measure (cue.number, number).width + 12;
        const double room = pages.width() - left - 130;
        std::string facts;
        for (const auto& part :
             { std::string (spotting::cueKindName (cue.kind)), std::string (spotting::cueStatusName (cue.status)),
               cue.version.empty() ? std::string() : "version " + cue.version })
            facts += part.empty() ? "" : (facts.empty() ? "" : ", ") + part;
        const auto tempo = spotting::tempoText (cue);
        const std::string span =
            row.in ? paperTimecode (*row.in).label + (row.out ? "  to  " + paperTimecode (*row.out).label : "") : row.lost;
        const std::string length = row.length ? time::clockText (*row.length) : "";
        pages
            .add (
                60,
                [=, this] (cairo_t* cairo, double x, double y)
                {
                    const double width = pages.width();
                    fillBox (cairo, x, y, width, 1.2, night);
                    words.line (cairo, cue.number, number, x, y + 30);
                    words.line (cairo, words.fitted (cue.title, title, room), title, x + left, y + 30);
                    words.line (cairo, length, { Face::figures, 13, true }, x + width, y + 30, Align::right);
                    words.line (cairo, span, { Face::figures, 9 }, x, y + 49);
                    words.line (cairo, facts + (tempo.empty() ? "" : ", " + tempo + " beats a minute"),
                                { Face::words, 8.5, false, quiet }, x + width, y + 49, Align::right);
                },
                26)
            .keepWithNext = true;
        if (! cue.mood.empty())
        {
            pages.paragraph (cue.mood, { Face::words, 9.5 }, 0);
            pages.blocks.back().keepWithNext = true;
        }
    }

    std::shared_ptr<const Block> columns (const std::string& number, const std::string& title, bool bars)
    {
        Block block;
        block.height = 34;
        block.draw = [this, number, title, bars] (cairo_t* cairo, double x, double y)
        {
            const double width = pages.width();
            const Style strong{ Face::words, 9, true, night }, plain{ Face::words, 9, false, quiet };
            words.line (cairo, number, strong, x, y + 9);
            const double after = number.empty() ? 0 : words.measure (number, strong).width + 8;
            words.line (cairo, words.fitted (title, plain, width - after - 70), plain, x + after, y + 9);
            words.line (cairo, "continued", label, x + width, y + 9, Align::right);
            drawColumns (cairo, x, y + 12, bars);
        };
        return std::make_shared<const Block> (std::move (block));
    }

    void columnsNow (bool bars)
    {
        pages
            .add (
                22, [this, bars] (cairo_t* cairo, double x, double y) { drawColumns (cairo, x, y, bars); }, 4)
            .keepWithNext = true;
    }

    void drawColumns (cairo_t* cairo, double x, double y, bool bars)
    {
        words.line (cairo, bars ? "from in" : "clock", label, x + clockRight, y + 12, Align::right);
        if (bars)
            words.line (cairo, "bar.beat", label, x + barRight, y + 12, Align::right);
        words.line (cairo, "timecode", label, x + codeLeft, y + 12);
        words.line (cairo, "what", label, x + textLeft, y + 12);
        fillBox (cairo, x, y + 17, pages.width(), 0.5, hairline);
    }

    void hitRow (const spotting::HitTimes& row, const std::optional<time::Rational>& clock, const std::string& bar,
                 const std::shared_ptr<const Block>& heading)
    {
        const auto& hit = row.hit;
        const double room = pages.width() - textLeft;
        const bool card = hit.kind == spotting::HitKind::card && ! hit.label.empty();
        const Style nameStyle = card ? Style{ Face::wording, 12.5 } : Style{ Face::words, 9.5, true };
        const Style small{ Face::words, 8, false, quiet }, noteStyle{ Face::words, 8.5 };
        const std::string name = hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
        std::string facts = card || hit.label.empty() ? "" : std::string (spotting::hitKindName (hit.kind)) + ", ";
        facts += spotting::weightName (hit.weight);
        if (hit.lead.sign() != 0)
            facts += ", lead " + std::string (hit.lead.sign() > 0 ? "+" : "") + time::decimalText (hit.lead, 3) + " s";
        if (! hit.agreed)
            facts += ", open question";
        const std::string why = row.lost;
        // A long note goes on in blocks of its own, so that no row outgrows a page.
        const auto names = words.pieces (name, nameStyle, room, 8);
        const auto noteParts = words.pieces (hit.note, noteStyle, room, 8);
        const double nameHigh = words.measure (names[0], nameStyle, room).height;
        const double factsHigh = words.measure (facts, small, room).height;
        const double whyHigh = why.empty() ? 0 : words.measure (why, { Face::words, 8.5, false, rose }, room).height;
        std::shared_ptr<const SheetPicture> picture;
        if (pictureAt && row.at && row.at->sourceFrame)
            if (const auto position = pages.times.timings.find (hit.place))
                picture = pictureAt (*position);
        const std::string note = hit.note.empty() ? "" : noteParts[0];
        const double noteHigh = note.empty() ? 0 : words.measure (note, noteStyle, room).height + 2;
        const double text = nameHigh + factsHigh + whyHigh + (names.size() == 1 ? noteHigh : 0) + 2;
        auto& block = pages.add (
            std::max ({ text, row.at ? 32.0 : 14.0, picture ? pictureHeight : 0.0 }),
            [=, this] (cairo_t* cairo, double x, double y)
            {
                drawMark (cairo, hit.kind, hit.weight, ! hit.agreed, x, y + 1.5, 11);
                if (clock)
                    words.line (cairo, time::clockText (*clock), { Face::figures, 11.5, true }, x + clockRight, y + 10,
                                Align::right);
                words.line (cairo, bar, { Face::figures, 9.5 }, x + barRight, y + 10, Align::right);
                if (row.at)
                {
                    const auto code = paperTimecode (*row.at);
                    words.line (cairo, code.label, { Face::figures, 9 }, x + codeLeft, y + 10);
                    words.line (cairo, "frame " + std::to_string (row.at->delivered) + (code.day.empty() ? "" : " " + code.day),
                                quietFigures, x + codeLeft, y + 20);
                    words.line (cairo,
                                row.at->feet + " ft" + (row.at->reel > 0 ? ", reel " + std::to_string (row.at->reel + 1) : ""),
                                quietFigures, x + codeLeft, y + 30);
                }
                drawFitted (cairo, picture, x + textLeft - pictureWidth - 10, y, pictureWidth, pictureHeight);
                double top = y;
                top += words.block (cairo, names[0], nameStyle, x + textLeft, top, room);
                top += words.block (cairo, facts, small, x + textLeft, top + 1, room) + 1;
                top += words.block (cairo, why, { Face::words, 8.5, false, rose }, x + textLeft, top, room);
                if (names.size() == 1)
                    words.block (cairo, note, noteStyle, x + textLeft, top + 2, room);
            },
            8);
        block.heading = heading;
        for (std::size_t i = 1; i < names.size(); ++i)
            more (names[i], nameStyle, room, heading);
        for (std::size_t i = names.size() == 1 ? 1 : 0; i < noteParts.size() && ! hit.note.empty(); ++i)
            more (noteParts[i], noteStyle, room, heading);
    }

    void more (const std::string& text, const Style& style, double room, const std::shared_ptr<const Block>& heading)
    {
        // What goes on below belongs to the row above it.
        pages.blocks.back().keepWithNext = true;
        pages
            .add (
                words.measure (text, style, room).height,
                [this, text, style, room] (cairo_t* cairo, double x, double y)
                { words.block (cairo, text, style, x + textLeft, y, room); },
                2)
            .heading = heading;
    }

    SheetPages& pages;
    Words& words;
    const PictureAt& pictureAt;
    double textLeft;
};
} // namespace

std::string barText (const spotting::CueTimes& cue, const time::Rational& clock)
{
    if (! cue.cue.tempo || ! cue.barOne)
        return "";
    const auto& map = *cue.cue.tempo;
    // To the hundredth of a beat, on the whole amount: never "3 +100".
    const auto beats = map.barBeatOf (map.beatOf (clock - *cue.barOne));
    auto hundredths = time::roundOf (beats.fraction * time::Rational (100));
    auto at = beats;
    if (hundredths == 100)
    {
        const auto lengths = music::beatLengths (map.meterOf (at.bar));
        hundredths = 0;
        if (++at.beat > static_cast<int> (lengths.size()))
        {
            at.beat = 1;
            ++at.bar;
        }
    }
    return std::to_string (at.bar) + "." + std::to_string (at.beat) + (hundredths > 0 ? "+" + time::padded (hundredths, 2) : "");
}

Result<Sheet> timingNotes (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt)
{
    SheetPages pages (times, head, "Timing notes");
    pages.opening();
    pages.paragraph (
        "Counted from each cue’s in, which is 0:00.00. After the beat: hundredths of it. A lead says where the music strikes, from "
        "the picture on.",
        label, 10);
    NotesSetter setter (pages, pictureAt);
    std::set<const spotting::HitTimes*> shown;
    for (const auto& cue : times.cues)
    {
        setter.cue (cue);
        for (const auto i : cue.hits)
            if (times.hits[i].at)
                shown.insert (&times.hits[i]);
    }
    std::vector<const spotting::HitTimes*> free, lost;
    for (const auto& hit : times.hits)
        if (! hit.at)
            lost.push_back (&hit);
        else if (! shown.contains (&hit))
            free.push_back (&hit);
    setter.others ("Hits of no cue", "Clock from picture start.", free);
    setter.others ("Lost in this edition", "Their picture is not in this edition; they wait here for a decision.", lost);
    return pages.finish();
}
} // namespace shutterbeat::sheets
