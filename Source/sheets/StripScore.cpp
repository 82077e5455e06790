#include "sheets/StripScore.h"

#include "sheets/MarkDraw.h"
#include "time/Clock.h"

#include <algorithm>
#include <array>

namespace shutterbeat::sheets
{
namespace
{
using time::Rational;
const Style stripLabel{ Face::words, 7, false, quiet };
const Style stripFigures{ Face::figures, 7, false, quiet };
constexpr double stripWide = 46, stripHigh = 34.5;
constexpr double cuesTop = 20, picturesTop = 40, wordingsTop = 118, rulerTop = 156, hitsTop = 176, stavesTop = 232;
constexpr int secondsOnPage = 60;

/// A thing at a moment of the page.
struct CutMark
{
    double x = 0; ///< from the left end of the minute
    std::string name;
    std::shared_ptr<const SheetPicture> picture;
};
struct TextMark
{
    double x = 0, room = 0;
    std::string text;
};
struct HitMark
{
    double x = 0;
    spotting::HitKind kind = spotting::HitKind::action;
    spotting::Weight weight = spotting::Weight::should;
    bool open = false;
    std::string name;
};
struct CueBand
{
    double from = 0, to = 0;
    std::string name;
};
struct BarMark
{
    double x = 0;
    std::int64_t number = 1;
};

struct Minute
{
    std::size_t reel = 0;
    int number = 0; ///< from 0
    double end = 0; ///< where the film ends on it
    std::vector<CutMark> cuts;
    std::vector<TextMark> wordings;
    std::vector<HitMark> hits;
    std::vector<CueBand> cues;
    std::vector<BarMark> bars;
    std::string timecode;
};

/// Rows that texts step down through: the first whose last text has ended, else none.
template <std::size_t n>
int rowFor (std::array<double, n>& ends, double from, double to)
{
    for (std::size_t i = 0; i < n; ++i)
        if (from >= ends[i])
        {
            ends[i] = to;
            return static_cast<int> (i);
        }
    return -1;
}

class StripSetter
{
public:
    StripSetter (SheetPages& sheetPages, const PictureAt& pictures)
        : pages (sheetPages)
        , words (sheetPages.words)
        , pictureAt (pictures)
        , perSecond (sheetPages.width() / secondsOnPage)
    {
    }

    void reel (std::size_t number)
    {
        const auto& timings = pages.times.timings;
        const auto length = timings.clockOf (timings.deliveredLength (number));
        const auto minutes = static_cast<int> (std::min<std::int64_t> (time::ceilOf (length / Rational (secondsOnPage)), 600));
        for (int minute = 0; minute < minutes; ++minute)
            page (minuteOf (number, minute, length));
    }

private:
    [[nodiscard]] double at (const Rational& clock, int minute) const
    {
        return time::toDouble (clock - Rational (minute * secondsOnPage)) * perSecond;
    }

    static bool within (const Rational& clock, int minute)
    {
        return clock >= Rational (minute * secondsOnPage) && clock < Rational ((minute + 1) * secondsOnPage);
    }

    Minute minuteOf (std::size_t reel, int minute, const Rational& length)
    {
        const auto& timings = pages.times.timings;
        const auto& edition = timings.edition();
        Minute found;
        found.reel = reel;
        found.number = minute;
        found.end = std::min (at (length, minute), perSecond * secondsOnPage);
        const auto first = time::ceilOf (Rational (minute * secondsOnPage) * timings.delivery().rate.perSecond);
        found.timecode = timings.timecodeOf (first, reel);
        const auto end = reel + 1 < edition.reels.size() ? edition.reels[reel + 1].firstShot : edition.shots.size();
        for (std::size_t i = edition.reels[reel].firstShot; i < end; ++i)
        {
            const auto head = timings.shotHead (i);
            const auto from = timings.clockOf (timings.times (head).delivered);
            const auto to = i + 1 < end ? timings.clockOf (timings.times (timings.shotHead (i + 1)).delivered) : length;
            if (! within (from, minute))
                continue;
            CutMark cut{ at (from, minute), edition.shots[i].name, nullptr };
            if (pictureAt)
                cut.picture = pictureAt (head);
            found.cuts.push_back (std::move (cut));
            if (edition.shots[i].kind == film::ShotKind::card && ! edition.shots[i].wording.empty())
                found.wordings.push_back (
                    { at (from, minute), std::max (time::toDouble (to - from) * perSecond, 260.0), edition.shots[i].wording });
        }
        for (const auto& row : pages.times.hits)
            if (row.at && row.at->reel == reel && within (row.at->clock, minute))
                found.hits.push_back ({ at (row.at->clock, minute), row.hit.kind, row.hit.weight, ! row.hit.agreed,
                                        row.hit.label.empty() ? std::string() : row.hit.label });
        for (const auto& row : pages.times.cues)
            if (row.in && row.out && row.in->reel == reel && row.out->reel == reel
                && row.out->clock > Rational (minute * secondsOnPage) && row.in->clock < Rational ((minute + 1) * secondsOnPage))
            {
                found.cues.push_back ({ std::max (0.0, at (row.in->clock, minute)),
                                        std::min (found.end, at (row.out->clock, minute)),
                                        row.cue.number + (row.cue.title.empty() ? "" : "  " + row.cue.title) });
                bars (found, row);
            }
        return found;
    }

    void bars (Minute& minute, const spotting::CueTimes& row)
    {
        if (! row.cue.tempo || ! row.barOne)
            return;
        const auto& map = *row.cue.tempo;
        const auto from = std::max (Rational (minute.number * secondsOnPage), row.in->clock) - *row.barOne;
        const auto first = map.barBeatOf (map.beatOf (from)).bar;
        for (auto bar = first; bar < first + 400; ++bar)
        {
            const auto clock = *row.barOne + map.timeOf (map.barStart (bar));
            if (clock >= row.out->clock || clock >= Rational ((minute.number + 1) * secondsOnPage))
                break;
            if (clock >= row.in->clock && within (clock, minute.number))
                minute.bars.push_back ({ at (clock, minute.number), bar });
        }
    }

    void page (Minute minute)
    {
        pages.add (pages.size.textHeight(),
                   [this, minute = std::move (minute)] (cairo_t* cairo, double x, double y) { draw (cairo, minute, x, y); });
    }

    void draw (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        const auto from = minute.number * secondsOnPage;
        const std::string reels = pages.times.timings.reelCount() > 1 ? ", reel " + std::to_string (minute.reel + 1) : "";
        words.line (cairo, pages.head.title + reels, { Face::wording, 13 }, x, y + 10);
        words.line (cairo,
                    time::clockText (Rational (from), 0) + " to " + time::clockText (Rational (from + secondsOnPage), 0)
                        + (minute.timecode.empty() ? "" : "   from " + minute.timecode),
                    { Face::figures, 8.5 }, x + pages.width(), y + 10, Align::right);
        cues (cairo, minute, x, y + cuesTop);
        pictures (cairo, minute, x, y);
        wordings (cairo, minute, x, y + wordingsTop);
        ruler (cairo, minute, x, y + rulerTop);
        hits (cairo, minute, x, y);
        staves (cairo, minute, x, y + stavesTop);
    }

    void cues (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        for (const auto& cue : minute.cues)
        {
            fillBox (cairo, x + cue.from, y, cue.to - cue.from, 2.4, night);
            if (cue.to - cue.from > 16)
                words.line (cairo, words.fitted (cue.name, { Face::words, 8, true, night }, cue.to - cue.from),
                            { Face::words, 8, true, night }, x + cue.from, y + 12);
        }
    }

    void pictures (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        std::array<double, 2> ends{ -1e9, -1e9 };
        for (const auto& cut : minute.cuts)
        {
            fillBox (cairo, x + cut.x, y + picturesTop, 0.4, rulerTop - picturesTop, hairline);
            if (! cut.picture)
                continue;
            // A picture that would run past the edge of the paper stands to the left of its cut.
            const double left = std::min (cut.x + 1, pages.width() - stripWide);
            const int row = rowFor (ends, left, left + stripWide + 2);
            if (row >= 0)
                drawFitted (cairo, cut.picture, x + left, y + picturesTop + row * (stripHigh + 3), stripWide, stripHigh);
        }
    }

    void wordings (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        std::array<double, 2> ends{ -1e9, -1e9 };
        for (const auto& wording : minute.wordings)
        {
            const Style style{ Face::wording, 11 };
            const auto text = words.fitted (wording.text.substr (0, wording.text.find ('\n')), style,
                                            std::min (wording.room, pages.width() - wording.x));
            const int row = rowFor (ends, wording.x, wording.x + words.measure (text, style).width + 8);
            if (row >= 0)
                words.line (cairo, text, style, x + wording.x + 3, y + 10 + row * 14);
        }
    }

    void ruler (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        fillBox (cairo, x, y + 14, minute.end, 0.8, black);
        for (int second = 0; second <= secondsOnPage; ++second)
        {
            const double at = second * perSecond;
            if (at > minute.end + 0.01)
                break;
            const bool five = second % 5 == 0;
            fillBox (cairo, x + at - 0.3, y + (five ? 9 : 11.5), 0.6, five ? 5 : 2.5, black);
            if (five && second < secondsOnPage)
                words.line (cairo, time::clockText (Rational (minute.number * secondsOnPage + second), 0), stripFigures, x + at + 2,
                            y + 8);
        }
        for (const auto& cut : minute.cuts)
            fillBox (cairo, x + cut.x - 0.6, y + 4, 1.2, 10, black);
    }

    void hits (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        for (const auto& hit : minute.hits)
        {
            fillBox (cairo, x + hit.x - 0.2, y + hitsTop + 7, 0.4, stavesTop - hitsTop + 4, hairline);
            drawMark (cairo, hit.kind, hit.weight, hit.open, x + hit.x - 4.5, y + hitsTop - 2, 9);
        }
        // Names stand below the marks, each at its line; a white ground keeps other lines out of them.
        std::array<double, 4> ends{ -1e9, -1e9, -1e9, -1e9 };
        for (const auto& hit : minute.hits)
        {
            const Style style{ Face::words, 7.5, hit.weight == spotting::Weight::must };
            if (hit.name.empty())
                continue;
            const auto name = words.fitted (hit.name, style, std::min (150.0, std::max (30.0, pages.width() - hit.x)));
            const double wide = words.measure (name, style).width;
            const int row = rowFor (ends, hit.x, hit.x + wide + 5);
            if (row < 0)
                continue;
            fillBox (cairo, x + hit.x + 1, y + hitsTop + 9 + row * 10, wide + 1.5, 10, { 1, 1, 1 });
            words.line (cairo, name, style, x + hit.x + 1.5, y + hitsTop + 17 + row * 10);
        }
    }

    void staves (cairo_t* cairo, const Minute& minute, double x, double y)
    {
        constexpr double gap = 5.6, between = 34;
        const double room = pages.size.textHeight() - stavesTop;
        const int count = std::max (1, static_cast<int> ((room + between - 4 * gap - 14) / (4 * gap + between)));
        const double bottom = 14 + count * 4 * gap + (count - 1) * between;
        for (int staff = 0; staff < count; ++staff)
            for (int line = 0; line < 5; ++line)
                fillBox (cairo, x, y + 14 + staff * (4 * gap + between) + line * gap, pages.width(), 0.4, quiet);
        for (const auto& bar : minute.bars)
        {
            words.line (cairo, std::to_string (bar.number), { Face::figures, 7, true, night }, x + bar.x + 1.5, y + 10);
            for (int staff = 0; staff < count; ++staff)
                fillBox (cairo, x + bar.x - 0.25, y + 14 + staff * (4 * gap + between), 0.5, 4 * gap, night);
        }
        if (minute.end < pages.width() - 1)
            fillBox (cairo, x + minute.end, y + 14, 1.6, bottom - 14, black);
    }

    SheetPages& pages;
    Words& words;
    const PictureAt& pictureAt;
    double perSecond; ///< points
};
} // namespace

Result<Sheet> stripScore (const spotting::BookTimes& times, const SheetHead& head, const PictureAt& pictureAt)
{
    SheetPages pages (times, head, "Strip score", true);
    // The music takes the room: narrower margins than a page to be read.
    pages.size.left = pages.size.right = 40;
    pages.size.top = 36;
    pages.size.bottom = 58;
    StripSetter setter (pages, pictureAt);
    for (std::size_t reel = 0; reel < times.timings.reelCount(); ++reel)
        setter.reel (reel);
    return pages.finish();
}
} // namespace shutterbeat::sheets
