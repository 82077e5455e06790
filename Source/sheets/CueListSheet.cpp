#include "sheets/CueListSheet.h"

#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
using time::Rational;

bool isMusic (const spotting::Cue& cue)
{
    return cue.kind == spotting::CueKind::music || cue.kind == spotting::CueKind::seenMusic;
}

std::int64_t hundredths (const Rational& seconds)
{
    return time::roundOf (seconds * Rational (100));
}

std::string hundredthsText (std::int64_t amount)
{
    return time::clockText (Rational (amount, 100));
}

std::string worksOf (const spotting::Book& book, const spotting::Cue& cue)
{
    std::string text;
    for (const auto& use : book.uses)
        if (use.cue == cue.id)
            for (const auto& work : book.works)
                if (work.id == use.work)
                    text += (text.empty() ? "" : "; ") + work.title;
    return text;
}
} // namespace

CueTotals cueTotals (const spotting::BookTimes& times)
{
    CueTotals totals;
    Rational film, covered;
    for (std::size_t reel = 0; reel < times.timings.reelCount(); ++reel)
    {
        const auto end = times.timings.clockOf (times.timings.deliveredLength (reel));
        film += end;
        std::vector<std::pair<Rational, Rational>> spans;
        for (const auto& row : times.cues)
            if (isMusic (row.cue) && row.length && row.in->reel == reel)
            {
                totals.music += hundredths (*row.length);
                ++totals.pieces;
                spans.emplace_back (std::max (row.in->clock, Rational (0)), std::min (row.out->clock, end));
            }
        std::sort (spans.begin(), spans.end());
        Rational at;
        for (const auto& [from, to] : spans)
            if (to > std::max (from, at))
            {
                covered += to - std::max (from, at);
                at = to;
            }
    }
    totals.silence = hundredths (film - covered);
    return totals;
}

Result<Sheet> cueListSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head)
{
    SheetPages pages (times, head, "Cue list");
    auto& words = pages.words;
    const double width = pages.width();
    const auto totals = cueTotals (times);
    pages.opening ({ { "Music", counted (totals.pieces, "piece", "pieces") + ", " + hundredthsText (totals.music) },
                     { "Silence", hundredthsText (totals.silence) } });
    // Columns from the right, so that a title has what is left.
    const double lengthRight = width, outLeft = width - 132, inLeft = outLeft - 82, titleLeft = 44,
                 titleRoom = inLeft - titleLeft - 16;
    const auto drawColumns = [=, &words] (cairo_t* cairo, double x, double y)
    {
        words.line (cairo, "cue", label, x, y + 12);
        words.line (cairo, "title", label, x + titleLeft, y + 12);
        words.line (cairo, "in", label, x + inLeft, y + 12);
        words.line (cairo, "out", label, x + outLeft, y + 12);
        words.line (cairo, "length", label, x + lengthRight, y + 12, Align::right);
        fillBox (cairo, x, y + 17, width, 0.9, night);
    };
    Block columns;
    columns.height = 24;
    columns.draw = drawColumns;
    pages.add (24, drawColumns, 22).keepWithNext = true;
    const auto heading = std::make_shared<const Block> (columns);
    for (const auto& row : times.cues)
    {
        const auto& cue = row.cue;
        const Style titleStyle{ Face::words, 10.5, true }, small{ Face::words, 8, false, quiet },
            wrong{ Face::words, 8.5, false, rose };
        const std::string title =
            words.fitted (cue.title.empty() ? std::string (spotting::cueKindName (cue.kind)) : cue.title, titleStyle, titleRoom);
        std::string facts (spotting::cueKindName (cue.kind));
        facts +=
            ", " + std::string (spotting::cueStatusName (cue.status)) + (cue.version.empty() ? "" : ", version " + cue.version);
        if (const auto tempo = spotting::tempoText (cue); ! tempo.empty())
            facts += ", " + tempo + " a minute";
        facts += ", " + counted (row.hits.size(), "hit", "hits");
        const auto works = worksOf (book, cue);
        const double factsRoom = width - titleLeft;
        const double high = 15 + words.measure (facts, small, factsRoom).height
                            + (works.empty() ? 0 : words.measure (works, { Face::wording, 10.5 }, factsRoom).height)
                            + (row.lost.empty() ? 0 : words.measure (row.lost, wrong, factsRoom).height);
        auto& block = pages.add (
            high,
            [=, &words] (cairo_t* cairo, double x, double y)
            {
                words.line (cairo, words.fitted (cue.number, { Face::words, 10.5, true, night }, titleLeft - 6),
                            { Face::words, 10.5, true, night }, x, y + 10);
                words.line (cairo, title, titleStyle, x + titleLeft, y + 10);
                if (row.in)
                    words.line (cairo, paperTimecode (*row.in).label, figures, x + inLeft, y + 10);
                if (row.out)
                    words.line (cairo, paperTimecode (*row.out).label, figures, x + outLeft, y + 10);
                words.line (cairo, row.length ? hundredthsText (hundredths (*row.length)) : "lost",
                            { Face::figures, 10, isMusic (cue) }, x + lengthRight, y + 10, Align::right);
                double top = y + 15;
                top += words.block (cairo, facts, small, x + titleLeft, top, factsRoom);
                top += words.block (cairo, works, { Face::wording, 10.5 }, x + titleLeft, top, factsRoom);
                words.block (cairo, row.lost, wrong, x + titleLeft, top, factsRoom);
            },
            9);
        block.heading = heading;
    }
    if (times.cues.empty())
        return pages.paragraph ("No cues yet.", { Face::words, 10 }, 12), pages.finish();
    pages.blocks.back().keepWithNext = true; // the total never stands alone
    pages.add (
        40,
        [=, &words] (cairo_t* cairo, double x, double y)
        {
            fillBox (cairo, x, y, width, 0.9, night);
            words.line (cairo, counted (totals.pieces, "piece of music", "pieces of music"), { Face::words, 9.5, true },
                        x + titleLeft, y + 16);
            words.line (cairo, hundredthsText (totals.music), { Face::figures, 10, true }, x + lengthRight, y + 16, Align::right);
            words.line (cairo, "without music", { Face::words, 9.5 }, x + titleLeft, y + 31);
            words.line (cairo, hundredthsText (totals.silence), { Face::figures, 10 }, x + lengthRight, y + 31, Align::right);
        },
        12);
    return pages.finish();
}
} // namespace shutterbeat::sheets
