#include "sheets/ClickChart.h"

#include "music/Beats.h"
#include "music/FrameClick.h"
#include "sheets/MarkDraw.h"
#include "time/Clock.h"

#include <algorithm>
#include <array>

namespace shutterbeat::sheets
{
namespace
{
using time::Rational;
constexpr int barsInRow = 4;
constexpr double lineHigh = 104, lineTop = 62;
constexpr std::int64_t mostBars = 4000;

/// A hit over a beat: where from the bar's start (0 to 1), and what it is called.
struct BarHit
{
    double at = 0;
    spotting::HitKind kind = spotting::HitKind::action;
    spotting::Weight weight = spotting::Weight::should;
    bool open = false;
    std::string name;
};

/// A bar as it is drawn.
struct BarCell
{
    std::int64_t number = 1;
    std::string meter, tempo, clock; ///< the first two only where they change
    std::vector<double> beats;       ///< 0 to 1
    std::vector<BarHit> hits;
    bool held = false;    ///< a hold or a free passage begins in it
    bool partial = false; ///< the cue ends within it
};

class ChartSetter
{
public:
    explicit ChartSetter (SheetPages& sheetPages)
        : pages (sheetPages)
        , words (sheetPages.words)
    {
    }

    void cue (const spotting::CueTimes& row)
    {
        const auto& cue = row.cue;
        const auto& map = *cue.tempo;
        const auto click = frameClickText (cue, pages.times.timings.delivery().rate);
        const std::string tempo = spotting::tempoText (cue) + " a minute";
        const std::string meter = music::meterText (map.meterOf (1));
        const auto clicks = music::clicksOf (map, row.out->clock - *row.barOne, {});
        std::size_t free = 0;
        if (clicks)
            free = static_cast<std::size_t> (std::count_if (clicks->begin(), clicks->end(), [] (const auto& c) { return c.free; }));
        const std::string freeText = counted (free, "free click", "free clicks") + " from "
                                     + (clicks && ! clicks->empty() ? time::clockText (*row.barOne + clicks->front().seconds) : "");
        const std::string span = (row.in ? paperTimecode (*row.in).label : "") + "  to  " + paperTimecode (*row.out).label;
        pages
            .add (
                92,
                [=, this] (cairo_t* cairo, double x, double y)
                {
                    const double width = pages.width();
                    fillBox (cairo, x, y, width, 1.4, night);
                    const Style number{ Face::words, 24, true, night }, title{ Face::words, 15, true };
                    const double left = words.measure (cue.number, number).width + 14;
                    words.line (cairo, cue.number, number, x, y + 34);
                    words.line (cairo, words.fitted (cue.title, title, width - left - 90), title, x + left, y + 34);
                    words.line (cairo, meter, { Face::words, 22, true }, x + width, y + 34, Align::right);
                    words.line (cairo, click, { Face::words, 15, true }, x, y + 60);
                    words.line (cairo, tempo, { Face::words, 12 }, x + words.measure (click, { Face::words, 15, true }).width + 14,
                                y + 60);
                    words.line (cairo, row.length ? time::clockText (*row.length) : "", { Face::figures, 12 }, x + width, y + 60,
                                Align::right);
                    words.line (cairo, free > 0 ? freeText : "no free clicks", { Face::words, 9.5 }, x, y + 78);
                    words.line (cairo, span, { Face::figures, 9, false, quiet }, x + width, y + 78, Align::right);
                },
                28)
            .keepWithNext = true;
        const auto cells = cellsOf (row);
        Block again;
        again.height = 26;
        again.draw = [this, name = cue.number, title = cue.title] (cairo_t* cairo, double x, double y)
        {
            const Style strong{ Face::words, 12, true, night }, plain{ Face::words, 11, false, quiet };
            words.line (cairo, name, strong, x, y + 14);
            words.line (cairo, words.fitted (title, plain, pages.width() - 160), plain, x + words.measure (name, strong).width + 10,
                        y + 14);
            words.line (cairo, "continued", label, x + pages.width(), y + 14, Align::right);
        };
        const auto heading = std::make_shared<const Block> (again);
        for (std::size_t first = 0; first < cells.size(); first += barsInRow)
        {
            const std::vector<BarCell> some (cells.begin() + static_cast<std::ptrdiff_t> (first),
                                             cells.begin()
                                                 + static_cast<std::ptrdiff_t> (std::min (cells.size(), first + barsInRow)));
            const bool last = first + barsInRow >= cells.size();
            pages
                .add (
                    lineHigh, [this, some, last] (cairo_t* cairo, double x, double y) { drawRow (cairo, some, last, x, y); },
                    first == 0 ? 6 : 0)
                .heading = heading;
        }
    }

private:
    std::vector<BarCell> cellsOf (const spotting::CueTimes& row)
    {
        const auto& map = *row.cue.tempo;
        const auto end = row.out->clock - *row.barOne; // seconds from bar 1
        const auto endAt = map.beatOf (end);
        std::vector<BarCell> cells;
        std::string meter, tempo;
        for (std::int64_t number = map.start().sign() < 0 ? 0 : 1; number < mostBars; ++number)
        {
            const auto start = map.barStart (number);
            const auto& its = map.meterOf (number);
            const auto length = music::barLength (its);
            if (start >= endAt)
                break;
            BarCell cell;
            cell.number = number;
            cell.partial = start + length > endAt;
            if (const auto text = music::meterText (its); text != meter)
                cell.meter = meter = text;
            if (const auto text = time::decimalText (map.tempoAt (std::max (start, map.start())), 2); text != tempo)
                cell.tempo = tempo = text;
            cell.clock = time::clockText (*row.barOne + map.timeOf (start) - row.in->clock);
            Rational at;
            for (const auto& beat : music::beatLengths (its))
            {
                if (start + at >= map.start())
                    cell.beats.push_back (time::toDouble (at / length));
                at += beat;
            }
            for (const auto& stretch : map.pieces())
                cell.held = cell.held || (stretch.stretch && stretch.from >= start && stretch.from < start + length);
            for (const auto i : row.hits)
            {
                const auto& hit = pages.times.hits[i];
                if (! hit.at || hit.at->reel != row.in->reel)
                    continue;
                const auto where = map.beatOf (hit.at->clock + hit.hit.lead - *row.barOne);
                if (where >= start && where < start + length)
                    cell.hits.push_back (
                        { time::toDouble ((where - start) / length), hit.hit.kind, hit.hit.weight, ! hit.hit.agreed,
                          hit.hit.label.empty() ? std::string (spotting::hitKindName (hit.hit.kind)) : hit.hit.label });
            }
            cells.push_back (std::move (cell));
        }
        return cells;
    }

    void drawRow (cairo_t* cairo, const std::vector<BarCell>& cells, bool last, double x, double y)
    {
        const double wide = pages.width() / barsInRow;
        for (std::size_t i = 0; i < cells.size(); ++i)
            drawBar (cairo, cells[i], x + wide * static_cast<double> (i), y, wide);
        drawHits (cairo, cells, x, y, wide);
        const double end = x + wide * static_cast<double> (cells.size());
        fillBox (cairo, x, y + lineTop + 9, end - x, 0.8, black);
        // A double bar ends the cue.
        fillBox (cairo, end - 0.8, y + lineTop, 0.8, 18, black);
        if (last)
            fillBox (cairo, end - 5, y + lineTop, 2.4, 18, black);
    }

    void drawBar (cairo_t* cairo, const BarCell& cell, double x, double y, double wide)
    {
        fillBox (cairo, x, y + lineTop, 1, 18, black);
        words.line (cairo, std::to_string (cell.number), { Face::words, 17, true, cell.partial ? quiet : black }, x + 4,
                    y + lineTop + 38);
        words.line (cairo, cell.clock, { Face::figures, 8, false, quiet }, x + wide - 8, y + lineTop + 37, Align::right);
        std::string change = cell.meter;
        if (! cell.tempo.empty())
            change += (change.empty() ? "" : "  ") + cell.tempo;
        words.line (cairo, change, { Face::words, 9.5, true, night }, x + 3, y + 12);
        if (cell.held)
            words.line (cairo, "free", { Face::wording, 11 }, x + wide - 8, y + 12, Align::right);
        for (std::size_t i = 0; i < cell.beats.size(); ++i)
        {
            const double at = x + 1 + cell.beats[i] * (wide - 1);
            if (i > 0)
                fillBox (cairo, at - 0.4, y + lineTop + 4, 0.8, 10, black);
            words.line (cairo, std::to_string (i + 1), { Face::words, 7, false, quiet }, at + 2, y + lineTop + 7.5);
        }
    }

    /// Marks over the beats; names may run into the next bar, and stand one above the other where they would meet.
    void drawHits (cairo_t* cairo, const std::vector<BarCell>& cells, double x, double y, double wide)
    {
        std::array<double, 3> ends{ -1e9, -1e9, -1e9 };
        for (std::size_t i = 0; i < cells.size(); ++i)
            for (const auto& hit : cells[i].hits)
            {
                const double at = x + wide * (static_cast<double> (i) + hit.at) + 1;
                drawMark (cairo, hit.kind, hit.weight, hit.open, at - 5, y + lineTop - 12, 10);
                const Style style{ Face::words, 7.5, hit.weight == spotting::Weight::must };
                const auto name = words.fitted (hit.name, style, std::min (170.0, x + pages.width() - at + 4));
                for (std::size_t level = 0; level < ends.size(); ++level)
                    if (at - 4 >= ends[level])
                    {
                        words.line (cairo, name, style, at - 4, y + lineTop - 17 - static_cast<double> (level) * 10);
                        ends[level] = at - 4 + words.measure (name, style).width + 4;
                        break;
                    }
            }
    }

    SheetPages& pages;
    Words& words;
};
} // namespace

std::string frameClickText (const spotting::Cue& cue, const time::Rate& rate)
{
    if (! cue.tempo)
        return "";
    const bool at25 = rate.perSecond == Rational (25) || rate.perSecond == Rational (50);
    const auto& opening = cue.tempo->opening();
    const auto click = music::nearestClick (opening.beatsPerMinute, Rational (at25 ? 25 : 24));
    const bool exact = music::beatsPerMinute (click, Rational (at25 ? 25 : 24)) == opening.beatsPerMinute;
    return std::string ("click ") + (exact ? "" : "near ") + music::clickText (click) + " at " + (at25 ? "25" : "24");
}

Result<Sheet> clickChart (const spotting::BookTimes& times, const SheetHead& head)
{
    SheetPages pages (times, head, "Click chart");
    pages.opening();
    const bool at25 =
        times.timings.delivery().rate.perSecond == Rational (25) || times.timings.delivery().rate.perSecond == Rational (50);
    pages.paragraph (std::string ("Clicks are frames and eighths of a frame from beat to beat, counted at ") + (at25 ? "25" : "24")
                         + " frames a second. Small figures: the clock from the cue’s in at each bar. Hits stand over the moment "
                           "the music strikes.",
                     label, 10);
    pages.paragraph ("Set the level of the click low before the headphones go on, then bring it up.", { Face::words, 9, true }, 6);
    ChartSetter setter (pages);
    std::string without;
    for (const auto& row : times.cues)
        if (row.cue.tempo && row.barOne && row.in && row.out && row.in->reel == row.out->reel)
            setter.cue (row);
        else if (row.cue.kind != spotting::CueKind::tacet)
            without += (without.empty() ? "" : ", ") + row.cue.number;
    if (! without.empty())
        pages.paragraph ("Without a tempo, and so without a chart: " + without + ".", { Face::words, 10 }, 20);
    return pages.finish();
}
} // namespace shutterbeat::sheets
