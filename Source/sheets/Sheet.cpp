#include "sheets/Sheet.h"

#include "sheets/Fonts.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
constexpr double nameWidth = 78;
} // namespace

std::string counted (std::size_t number, const std::string& one, const std::string& many)
{
    return std::to_string (number) + " " + (number == 1 ? one : many);
}

std::vector<Fact> factsOf (const spotting::BookTimes& times, const SheetHead& head)
{
    const auto& timings = times.timings;
    const auto& edition = timings.edition();
    // "18 film frames a second, final rate 25, true fill": said once, in spotting/Times.h, for all lists.
    const std::string basis = spotting::basisText (timings);
    const std::string middle = ", final rate ";
    const auto cut = std::min (basis.find (middle), basis.size());
    std::vector<Fact> facts{ { "Edition", edition.letter + (edition.parent.empty() ? "" : ", from " + edition.parent) },
                             { "Running speed", basis.substr (0, cut) },
                             { "Final rate", basis.substr (std::min (cut + middle.size(), basis.size())) } };
    std::string starts, length;
    for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
    {
        const auto label0 = timings.timecodeOf (0, reel);
        starts += (reel > 0 ? ", " : "") + (label0.empty() ? std::string ("no timecode at this rate") : label0);
        length += (reel > 0 ? ", " : "") + time::clockText (timings.clockOf (timings.deliveredLength (reel)));
    }
    facts.push_back ({ timings.reelCount() > 1 ? "Reels start at" : "Starts at", starts });
    facts.push_back ({ timings.reelCount() > 1 ? "Their lengths" : "Length", length });
    const auto must = static_cast<std::size_t> (std::count_if (
        times.hits.begin(), times.hits.end(), [] (const auto& row) { return row.hit.weight == spotting::Weight::must; }));
    const auto open = static_cast<std::size_t> (
        std::count_if (times.hits.begin(), times.hits.end(), [] (const auto& row) { return ! row.hit.agreed; }));
    facts.push_back ({ "Holds", counted (times.cues.size(), "cue", "cues") + ", " + counted (times.hits.size(), "hit", "hits")
                                    + ", " + std::to_string (must) + " must, " + std::to_string (open) + " open" });
    if (! head.revision.empty())
        facts.push_back ({ "Revision", head.revision });
    if (! head.stamped.empty())
        facts.push_back ({ "Stamped", head.stamped });
    return facts;
}

SheetPages::SheetPages (const spotting::BookTimes& bookTimes, const SheetHead& sheetHead, std::string sheetName, bool landscape)
    : times (bookTimes)
    , head (sheetHead)
    , name (std::move (sheetName))
    , size (pageSize (sheetHead.paper))
    , notes (missingFamilies())
{
    if (landscape)
        std::swap (size.width, size.height);
}

Block& SheetPages::add (double height, std::function<void (cairo_t*, double, double)> draw, double spaceBefore)
{
    Block block;
    block.height = height;
    block.draw = std::move (draw);
    block.spaceBefore = spaceBefore;
    blocks.push_back (std::move (block));
    return blocks.back();
}

void SheetPages::opening (const std::vector<Fact>& more)
{
    const Style titleStyle{ Face::wording, 32 };
    for (const auto& piece : words.pieces (head.title.empty() ? "Untitled" : head.title, titleStyle, width(), 3))
        add (words.measure (piece, titleStyle, width()).height, [this, piece, titleStyle] (cairo_t* cairo, double x, double y)
             { words.block (cairo, piece, titleStyle, x, y, width()); })
            .keepWithNext = true;
    add (24,
         [this] (cairo_t* cairo, double x, double y) {
             words.line (cairo, name, { Face::words, 12, true, night }, x, y + 14);
         })
        .keepWithNext = true;

    auto facts = factsOf (times, head);
    facts.insert (facts.end(), more.begin(), more.end());
    const double column = width() / 2, room = column - nameWidth - 12;
    // Two columns read down; each line as high as its longer fact.
    const std::size_t rows = (facts.size() + 1) / 2;
    std::vector<double> tops{ 0 };
    for (std::size_t i = 0; i < rows; ++i)
    {
        double height = words.measure (facts[i].text, value, room).height;
        if (rows + i < facts.size())
            height = std::max (height, words.measure (facts[rows + i].text, value, room).height);
        tops.push_back (tops.back() + height + 3);
    }
    const double high = tops.back();
    add (
        high,
        [this, facts, rows, tops, column, room] (cairo_t* cairo, double x, double y)
        {
            for (std::size_t i = 0; i < facts.size(); ++i)
            {
                const double left = x + (i < rows ? 0 : column), top = y + tops[i % rows];
                words.line (cairo, facts[i].name, label, left, top + words.measure (facts[i].text, value, room).baseline);
                words.block (cairo, facts[i].text, value, left + nameWidth, top, room);
            }
        },
        8)
        .keepWithNext = true;
}

void SheetPages::heading (const std::string& text, const std::string& about)
{
    add (
        about.empty() ? 30 : 44,
        [this, text, about] (cairo_t* cairo, double x, double y)
        {
            fillBox (cairo, x, y, width(), 1.2, night);
            words.line (cairo, text, { Face::words, 13, true }, x, y + 22);
            words.line (cairo, about, label, x, y + 36);
        },
        22)
        .keepWithNext = true;
}

void SheetPages::paragraph (const std::string& text, const Style& style, double spaceBefore)
{
    for (const auto& piece : words.pieces (text, style, width(), 6))
    {
        add (
            words.measure (piece, style, width()).height,
            [this, piece, style] (cairo_t* cairo, double x, double y) { words.block (cairo, piece, style, x, y, width()); },
            spaceBefore);
        spaceBefore = 0;
    }
}

Result<Sheet> SheetPages::finish()
{
    std::string lower = name;
    if (! lower.empty() && lower[0] >= 'A' && lower[0] <= 'Z')
        lower[0] = static_cast<char> (lower[0] - 'A' + 'a');
    const std::string footer = (head.title.empty() ? "" : head.title + ", ") + lower + ", edition " + times.timings.edition().letter
                               + ", final rate " + time::rateName (times.timings.delivery().rate)
                               + (head.revision.empty() ? "" : ", " + head.revision)
                               + (head.stamped.empty() ? "" : ", " + head.stamped);
    auto pdf = pdfOf (blocks, size, words, footer, { (head.title.empty() ? "" : head.title + " – ") + name, head.stamped });
    if (! pdf)
        return pdf.error();
    Sheet sheet{ std::move (*pdf), notes };
    for (auto& note : words.missingLetters())
        sheet.notes.push_back (std::move (note));
    return sheet;
}

void fillBox (cairo_t* cairo, double x, double y, double width, double height, const Dye& dye)
{
    cairo_set_source_rgb (cairo, dye.red, dye.green, dye.blue);
    cairo_rectangle (cairo, x, y, width, height);
    cairo_fill (cairo);
}

PaperTimecode paperTimecode (const film::PlaceTimes& at)
{
    if (at.timecode.empty())
        return { "frame " + std::to_string (at.delivered), "" };
    const auto open = at.timecode.find (" (");
    return { at.timecode.substr (0, open), open == std::string::npos ? "" : at.timecode.substr (open + 1) };
}

double drawFitted (cairo_t* cairo, const std::shared_ptr<const SheetPicture>& picture, double x, double y, double boxWidth,
                   double boxHeight)
{
    if (! picture || ! picture->whole())
        return 0;
    const double w = picture->width, h = picture->height, scale = std::min (boxWidth / w, boxHeight / h);
    drawPicture (cairo, *picture, x, y, w * scale, h * scale);
    return h * scale;
}
} // namespace shutterbeat::sheets
