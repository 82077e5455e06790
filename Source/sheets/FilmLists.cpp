#include "sheets/FilmLists.h"

#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
/// A reason longer than that may go on on the next page.
constexpr int reasonLines = 12;

/// The rules of reading a card has too little time for, in words; "long enough by every rule" when none.
std::string readingText (const spotting::CardRow& row)
{
    if (row.readable.empty())
        return "no wording yet";
    std::string text;
    for (const auto& check : row.readable)
        if (! check.enough)
            text += (text.empty() ? "too short for " : "; ") + std::string (spotting::readingRuleName (check.rule)) + " by "
                    + time::secondsText (check.needed - row.seconds) + " s";
    return text.empty() ? "long enough by every rule" : text;
}
} // namespace

Result<Sheet> titleList (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head,
                         const PictureAt& pictureAt)
{
    SheetPages pages (times, head, "Title list");
    auto& words = pages.words;
    const auto rows = spotting::cardRows (book, times.timings);
    const auto flashes =
        static_cast<std::size_t> (std::count_if (rows.begin(), rows.end(), [] (const auto& row) { return row.flash; }));
    pages.opening ({ { "Cards", std::to_string (rows.size())
                                    + (flashes > 0 ? ", " + counted (flashes, "flash title", "flash titles") : "") } });
    const double width = pages.width(), pictureWide = 66, pictureHigh = 49.5, textLeft = pictureAt ? 172 : 92,
                 room = width - textLeft;
    std::size_t number = 0;
    for (const auto& row : rows)
    {
        ++number;
        const std::string wording = row.card.wording.empty() ? "(not read)" : row.card.wording;
        const Style style = row.card.wording.empty() ? Style{ Face::words, 10, false, quiet } : Style{ Face::wording, 15 };
        const bool tooShort =
            std::any_of (row.readable.begin(), row.readable.end(), [] (const auto& check) { return ! check.enough; });
        std::string facts = row.flash ? "flash title, to be made longer; " : "";
        facts += row.card.making().empty() ? "" : std::string (row.card.making()) + "; ";
        facts += readingText (row);
        const Style factStyle{ Face::words, 8, false, tooShort || row.flash ? rose : quiet };
        std::shared_ptr<const SheetPicture> picture;
        if (pictureAt)
            picture = pictureAt (times.timings.shotHead (row.shot));
        const auto parts = words.pieces (wording, style, room, 12);
        const auto code = paperTimecode (row.head).label;
        const double wordHigh = words.measure (parts[0], style, room).height;
        const double factHigh = words.measure (facts, factStyle, room).height;
        const std::string feet = time::decimalText (row.feet, 1) + " ft";
        const std::string frames =
            row.card.made
                ? ""
                : counted (static_cast<std::size_t> (std::max<std::int64_t> (row.card.frames(), 0)), "film frame", "film frames");
        pages.add (
            std::max ({ (parts.size() == 1 ? factHigh : 0) + wordHigh + 3, 50.0 }),
            [=, &words] (cairo_t* cairo, double x, double y)
            {
                words.line (cairo, std::to_string (number), { Face::words, 12, true, night }, x, y + 12);
                words.line (cairo, time::secondsText (row.seconds) + " s", { Face::figures, 10.5, true }, x + 82, y + 12,
                            Align::right);
                words.line (cairo, code, quietFigures, x + 82, y + 24, Align::right);
                words.line (cairo, frames, quietFigures, x + 82, y + 35, Align::right);
                words.line (cairo, feet, quietFigures, x + 82, y + 46, Align::right);
                drawFitted (cairo, picture, x + 96, y, pictureWide, pictureHigh);
                double top = y;
                top += words.block (cairo, parts[0], style, x + textLeft, top, room);
                if (parts.size() == 1)
                    words.block (cairo, facts, factStyle, x + textLeft, top + 3, room);
            },
            12);
        for (std::size_t i = 1; i < parts.size(); ++i)
        {
            pages.blocks.back().keepWithNext = true;
            const bool last = i + 1 == parts.size();
            pages.add (words.measure (parts[i], style, room).height + (last ? factHigh + 3 : 0),
                       [=, &words] (cairo_t* cairo, double x, double y)
                       {
                           const double high = words.block (cairo, parts[i], style, x + textLeft, y, room);
                           if (last)
                               words.block (cairo, facts, factStyle, x + textLeft, y + high + 3, room);
                       });
        }
    }
    if (rows.empty())
        pages.paragraph ("This edition has no cards.", { Face::words, 10 }, 16);
    return pages.finish();
}

Result<Sheet> sourceList (const spotting::BookTimes& times, const SheetHead& head)
{
    SheetPages pages (times, head, "Source list");
    auto& words = pages.words;
    const auto& timings = times.timings;
    const auto& edition = timings.edition();
    const double width = pages.width(), kindLeft = 88, makingLeft = 118, printLeft = 158, reelRight = 238, fileLeft = 246,
                 codeLeft = width - 150, firstRight = width - 46;
    const auto of = [&] (const char* making)
    {
        return static_cast<std::size_t> (std::count_if (edition.shots.begin(), edition.shots.end(),
                                                        [&] (const film::Shot& shot) { return shot.making() == making; }));
    };
    pages.opening ({ { "Shots", std::to_string (edition.shots.size()) + ", " + std::to_string (of ("made")) + " made, "
                                    + std::to_string (of ("remade")) + " remade" } });
    const auto drawColumns = [=, &words] (cairo_t* cairo, double x, double y)
    {
        words.line (cairo, "no.", label, x + 20, y + 12, Align::right);
        words.line (cairo, "name", label, x + 28, y + 12);
        words.line (cairo, "kind", label, x + kindLeft, y + 12);
        words.line (cairo, "made", label, x + makingLeft, y + 12);
        words.line (cairo, "print", label, x + printLeft, y + 12);
        words.line (cairo, "reel", label, x + reelRight, y + 12, Align::right);
        words.line (cairo, "file", label, x + fileLeft, y + 12);
        words.line (cairo, "timecode", label, x + codeLeft, y + 12);
        words.line (cairo, "first frame", label, x + firstRight, y + 12, Align::right);
        words.line (cairo, "length", label, x + width, y + 12, Align::right);
        fillBox (cairo, x, y + 17, width, 0.9, night);
    };
    Block columns;
    columns.height = 24;
    columns.draw = drawColumns;
    const auto heading = std::make_shared<const Block> (columns);
    pages.add (24, drawColumns, 20).keepWithNext = true;
    const Style plain{ Face::words, 8.5 }, strong{ Face::words, 8.5, true }, quietWords{ Face::words, 8, false, quiet };
    for (std::size_t i = 0; i < edition.shots.size(); ++i)
    {
        const auto& shot = edition.shots[i];
        const auto* print = shot.made ? nullptr : timings.print (shot.print);
        std::string file, reelNumber, first;
        if (print != nullptr)
            if (const auto reel = film::reelFrameOf (*print, shot.first))
            {
                file = print->reels[reel->reel].path;
                file = file.substr (file.rfind ('/') + 1);
                reelNumber = std::to_string (reel->reel + 1);
                first = std::to_string (reel->filmFrame);
            }
        const auto code = paperTimecode (timings.times (timings.shotHead (i))).label;
        const std::string printName = print == nullptr ? "" : print->name.empty() ? print->id : print->name;
        const std::string length = shot.made ? time::secondsText (*shot.made) + " s" : std::to_string (shot.frames());
        const std::string making (shot.making());
        const auto reasons = shot.reason.empty() ? std::vector<std::string>{}
                                                 : words.pieces (shot.reason, quietWords, width - makingLeft, reasonLines);
        auto& row = pages.add (
            12,
            [=, &words] (cairo_t* cairo, double x, double y)
            {
                words.line (cairo, std::to_string (i + 1), figures, x + 20, y + 9, Align::right);
                words.line (cairo, words.fitted (shot.name, strong, kindLeft - 32), strong, x + 28, y + 9);
                words.line (cairo, std::string (film::shotKindName (shot.kind)), plain, x + kindLeft, y + 9);
                words.line (cairo, making, plain, x + makingLeft, y + 9);
                words.line (cairo, words.fitted (printName, plain, reelRight - printLeft - 20), plain, x + printLeft, y + 9);
                words.line (cairo, reelNumber, figures, x + reelRight, y + 9, Align::right);
                words.line (cairo, words.fitted (file, quietWords, codeLeft - fileLeft - 8), quietWords, x + fileLeft, y + 9);
                words.line (cairo, code, { Face::figures, 8.5 }, x + codeLeft, y + 9);
                words.line (cairo, first, figures, x + firstRight, y + 9, Align::right);
                words.line (cairo, length, figures, x + width, y + 9, Align::right);
            },
            3);
        row.heading = heading;
        row.keepWithNext = ! reasons.empty();
        for (std::size_t part = 0; part < reasons.size(); ++part)
            pages
                .add (
                    words.measure (reasons[part], quietWords, width - makingLeft).height,
                    [=, &words, text = reasons[part]] (cairo_t* cairo, double x, double y)
                    { words.block (cairo, text, quietWords, x + makingLeft, y, width - makingLeft); },
                    part == 0 ? 1 : 0)
                .heading = heading;
    }
    pages.paragraph (
        "Below a row: why it was made, made anew or taken from that print. First frames are film frames of that reel of "
        "the print, counted from 0; lengths are film frames, or seconds of what was made for this edition.",
        label, 10);
    return pages.finish();
}
} // namespace shutterbeat::sheets
