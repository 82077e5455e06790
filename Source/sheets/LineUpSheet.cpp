#include "sheets/LineUpSheet.h"

#include "sheets/MarkDraw.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
constexpr double codeLeft = 18, pictureLeft = 92, pictureWide = 56, pictureHigh = 42, textLeft = 160, soundWide = 168,
                 soundHigh = 42;

void setInk (cairo_t* cairo, const Dye& dye)
{
    cairo_set_source_rgb (cairo, dye.red, dye.green, dye.blue);
}

/// Outline of the sound with its onsets below, the wanted moment as a broken line and the heard one as a full line.
void drawSound (cairo_t* cairo, Words& words, const SoundAround& around, bool beyond, double x, double y)
{
    const double middle = y + soundHigh / 2 - 3, half = soundHigh / 2 - 5;
    const auto columns = around.outline.size();
    fillBox (cairo, x, middle - 0.2, soundWide, 0.4, hairline);
    setInk (cairo, night);
    float loudest = 0.02f;
    for (const auto& [low, high] : around.outline)
        loudest = std::max ({ loudest, -low, high });
    for (std::size_t c = 0; c < columns; ++c)
    {
        const auto [low, high] = around.outline[c];
        const double wide = soundWide / static_cast<double> (columns);
        const double top = half * high / loudest, bottom = half * -low / loudest;
        cairo_rectangle (cairo, x + wide * static_cast<double> (c), middle - top, wide * 0.8, std::max (0.3, top + bottom));
    }
    cairo_fill (cairo);
    const auto at = [&] (double seconds) { return x + soundWide * (0.5 + seconds / around.seconds); };
    setInk (cairo, quiet);
    for (const double onset : around.onsets)
        if (std::abs (onset) < around.seconds / 2)
            cairo_rectangle (cairo, at (onset) - 0.4, y + soundHigh - 6, 0.8, 4);
    cairo_fill (cairo);
    cairo_save (cairo);
    cairo_set_line_width (cairo, 0.9);
    setInk (cairo, black);
    const double dashes[] = { 2.2, 1.8 };
    cairo_set_dash (cairo, dashes, 2, 0);
    cairo_move_to (cairo, at (0), y);
    cairo_line_to (cairo, at (0), y + soundHigh - 1);
    cairo_stroke (cairo);
    cairo_set_dash (cairo, nullptr, 0, 0);
    if (around.heard)
    {
        setInk (cairo, beyond ? rose : black);
        cairo_set_line_width (cairo, 1.3);
        cairo_move_to (cairo, at (*around.heard), y);
        cairo_line_to (cairo, at (*around.heard), y + soundHigh - 1);
        cairo_stroke (cairo);
    }
    cairo_restore (cairo);
    if (columns == 0)
        words.line (cairo, "outside the sound", label, x + soundWide / 2 + 4, middle - 2);
}

class LineUpSetter
{
public:
    LineUpSetter (SheetPages& sheetPages, const PictureAt& pictures)
        : pages (sheetPages)
        , words (sheetPages.words)
        , pictureAt (pictures)
        , soundLeft (sheetPages.width() - soundWide)
    {
    }

    void part (const LineUpPart& part)
    {
        pages.heading (part.sound, part.place);
        for (const auto& fault : part.faults)
            sentence (fault, { Face::words, 10, true, rose });
        for (const auto& fact : part.facts)
            sentence (fact, { Face::words, 9 });
        pages.blocks.back().keepWithNext = ! part.rows.empty();
        const auto heading = columns (part.sound);
        if (! part.rows.empty())
            pages
                .add (
                    22, [this] (cairo_t* cairo, double x, double y) { drawColumns (cairo, x, y); }, 6)
                .keepWithNext = true;
        for (const auto& row : part.rows)
            hitRow (row, heading);
        if (! part.rows.empty())
            pages.paragraph (part.counts + ".", { Face::words, 8.5, false, quiet }, 8);
        else
            pages.paragraph ("No hits to compare it with.", { Face::words, 9, false, quiet });
    }

    void stand (const StandLine& line)
    {
        const Style strong{ Face::words, 9.5, true, line.good ? black : rose }, plain{ Face::words, 9 };
        const double room = pages.width() - textLeft;
        const std::string name = words.fitted (line.sound, { Face::words, 9.5, true }, textLeft - 12);
        pages.add (
            std::max (14.0, 13 + words.measure (line.why, plain, room).height),
            [=, this] (cairo_t* cairo, double x, double y)
            {
                words.line (cairo, name, { Face::words, 9.5, true }, x, y + 10);
                words.line (cairo, line.stand, strong, x + textLeft, y + 10);
                words.block (cairo, line.why, plain, x + textLeft, y + 13, room);
            },
            8);
    }

private:
    void sentence (const std::string& text, const Style& style)
    {
        pages.paragraph (text, style, 4);
        pages.blocks.back().keepWithNext = true;
    }

    std::shared_ptr<const Block> columns (const std::string& sound)
    {
        Block block;
        block.height = 34;
        block.draw = [this, sound] (cairo_t* cairo, double x, double y)
        {
            words.line (cairo, words.fitted (sound, { Face::words, 9, true, night }, pages.width() - 70),
                        { Face::words, 9, true, night }, x, y + 9);
            words.line (cairo, "continued", label, x + pages.width(), y + 9, Align::right);
            drawColumns (cairo, x, y + 12);
        };
        return std::make_shared<const Block> (std::move (block));
    }

    void drawColumns (cairo_t* cairo, double x, double y)
    {
        words.line (cairo, "timecode", label, x + codeLeft, y + 12);
        words.line (cairo, "hit, and how the sound meets it", label, x + textLeft, y + 12);
        words.line (cairo, "half a second before", label, x + soundLeft, y + 12);
        words.line (cairo, "and after", label, x + pages.width(), y + 12, Align::right);
        fillBox (cairo, x, y + 17, pages.width(), 0.5, hairline);
    }

    void hitRow (const LineUpRow& row, const std::shared_ptr<const Block>& heading)
    {
        const auto& hit = row.hit->hit;
        const double left = pictureAt ? textLeft : pictureLeft, room = soundLeft - left - 12;
        const bool card = hit.kind == spotting::HitKind::card && ! hit.label.empty();
        const Style nameStyle = card ? Style{ Face::wording, 12 } : Style{ Face::words, 9.5, true };
        const Style lateStyle{ Face::words, 9, true,
                               row.beyond         ? rose
                               : row.around.heard ? black
                                                  : quiet },
            small{ Face::words, 7.5, false, quiet };
        const std::string name =
            words.fitted (hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label, nameStyle, room);
        const std::string facts = std::string (spotting::weightName (hit.weight)) + ", limits −" + std::to_string (hit.earlyMs)
                                  + "/+" + std::to_string (hit.lateMs) + " ms"
                                  + (hit.lead.sign() != 0 ? ", lead " + time::decimalText (hit.lead, 3) + " s" : "");
        const std::string breaks = row.breaks.empty() ? "" : "Breaks " + row.breaks + ".";
        const double breaksHigh = breaks.empty() ? 0 : words.measure (breaks, small, room).height;
        std::shared_ptr<const SheetPicture> picture;
        if (pictureAt && row.hit->at && row.hit->at->sourceFrame)
            if (const auto position = pages.times.timings.find (hit.place))
                picture = pictureAt (*position);
        const auto code = row.hit->at ? paperTimecode (*row.hit->at) : PaperTimecode{};
        pages
            .add (
                std::max (soundHigh, 38 + breaksHigh),
                [=, this] (cairo_t* cairo, double x, double y)
                {
                    drawMark (cairo, hit.kind, hit.weight, ! hit.agreed, x, y + 1.5, 11);
                    words.line (cairo, code.label, { Face::figures, 9 }, x + codeLeft, y + 10);
                    if (row.hit->at)
                        words.line (cairo, "frame " + std::to_string (row.hit->at->delivered), quietFigures, x + codeLeft, y + 21);
                    drawFitted (cairo, picture, x + pictureLeft, y, pictureWide, pictureHigh);
                    words.line (cairo, name, nameStyle, x + left, y + 10);
                    words.line (cairo, words.fitted (row.late, lateStyle, room), lateStyle, x + left, y + 23);
                    words.line (cairo, facts, small, x + left, y + 33);
                    words.block (cairo, breaks, small, x + left, y + 36, room);
                    drawSound (cairo, words, row.around, row.beyond, x + soundLeft, y);
                },
                8)
            .heading = heading;
    }

    SheetPages& pages;
    Words& words;
    const PictureAt& pictureAt;
    double soundLeft;
};
} // namespace

Result<Sheet> lineUpSheet (const spotting::BookTimes& times, const SheetHead& head, const std::vector<LineUpPart>& parts,
                           const std::vector<StandLine>& stands, const PictureAt& pictureAt)
{
    SheetPages pages (times, head, "Line-up report");
    pages.opening ({ { "Sounds", std::to_string (parts.size()) } });
    pages.paragraph (
        "Late: the sound strikes after the picture and its lead; early: before it. Beside each hit lies the sound around it: "
        "a broken line where the music is wanted, a full one where it is heard, small strokes below at all its onsets.",
        label, 10);
    LineUpSetter setter (pages, pictureAt);
    for (const auto& part : parts)
        setter.part (part);
    if (! stands.empty())
        pages.heading ("After the recut", "Each sound against the edition and the delivery it was made for.");
    for (const auto& line : stands)
        setter.stand (line);
    return pages.finish();
}
} // namespace shutterbeat::sheets
