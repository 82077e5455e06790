#include "sheets/RightsSheet.h"

#include "time/Clock.h"
#include "time/Text.h"

#include <algorithm>
#include <set>

namespace shutterbeat::sheets
{
namespace
{
const Style rightsWords{ Face::words, 8, false, quiet };

/// "0:30": whole seconds.
std::string secondsText (std::int64_t seconds)
{
    return time::clockText (time::Rational (seconds), 0);
}

std::string namesOf (const std::vector<spotting::Interest>& interests)
{
    std::string names;
    for (const auto& interest : interests)
        names += (names.empty() ? "" : "; ") + interest.name + " (" + interest.role + ")";
    return names;
}

class RightsSetter
{
public:
    RightsSetter (SheetPages& sheetPages)
        : pages (sheetPages)
        , words (sheetPages.words)
        , width (sheetPages.width())
    {
    }

    void uses (const spotting::RightsTable& table, const film::Timings& timings)
    {
        Block columns;
        columns.height = 24;
        columns.draw = [this] (cairo_t* cairo, double x, double y) { drawColumns (cairo, x, y); };
        const auto heading = std::make_shared<const Block> (columns);
        pages.add (24, columns.draw, 22).keepWithNext = true;
        std::size_t number = 0;
        for (const auto& row : table.rows)
        {
            ++number;
            const std::string title = row.work != nullptr ? row.work->title : row.cue->cue.title;
            const std::string about =
                row.work == nullptr                ? "no work entered yet"
                : ! row.work->protectedByCopyright ? "non-copyright"
                : namesOf (row.work->writers).empty()
                    ? ""
                    : namesOf (row.work->writers) + (row.work->publishers.empty() ? "" : "; " + namesOf (row.work->publishers));
            const auto start = row.in, end = row.in + row.exact;
            const auto high = 15 + (about.empty() ? 0 : words.measure (about, rightsWords, titleRoom()).height);
            pages
                .add (
                    high,
                    [=, this, cue = row.cue->cue.number, usage = row.usage, seconds = row.seconds] (cairo_t* cairo, double x,
                                                                                                    double y)
                    {
                        words.line (cairo, std::to_string (number), figures, x + 18, y + 10, Align::right);
                        words.line (cairo, words.fitted (cue, { Face::words, 9, true, night }, cueRoom),
                                    { Face::words, 9, true, night }, x + cueLeft, y + 10);
                        words.line (cairo, words.fitted (title, { Face::words, 9.5, true }, titleRoom()),
                                    { Face::words, 9.5, true }, x + titleLeft, y + 10);
                        words.block (cairo, about, row.work == nullptr ? Style{ Face::words, 8, false, rose } : rightsWords,
                                     x + titleLeft, y + 14, titleRoom());
                        words.line (cairo, usage, { Face::words, 9.5 }, x + usageLeft(), y + 10);
                        words.line (cairo, time::clockText (start, 0), figures, x + inRight(), y + 10, Align::right);
                        words.line (cairo, time::clockText (end, 0), figures, x + outRight(), y + 10, Align::right);
                        words.line (cairo, secondsText (seconds), { Face::figures, 10, true }, x + width, y + 10, Align::right);
                    },
                    7)
                .heading = heading;
        }
        if (table.rows.empty())
            return pages.paragraph ("No music yet.", { Face::words, 10 }, 12);
        pages.blocks.back().keepWithNext = true; // the total never stands alone
        const auto film = [&timings]
        {
            time::Rational length;
            for (std::size_t reel = 0; reel < timings.reelCount(); ++reel)
                length += timings.clockOf (timings.deliveredLength (reel));
            return length;
        }();
        pages.add (
            34,
            [=, this, total = table.total, exact = table.exact] (cairo_t* cairo, double x, double y)
            {
                fillBox (cairo, x, y, width, 0.9, night);
                words.line (cairo, "Music", { Face::words, 9.5, true }, x + titleLeft, y + 16);
                words.line (cairo, secondsText (total), { Face::figures, 10, true }, x + width, y + 16, Align::right);
                words.line (cairo, "not rounded " + time::clockText (exact), { Face::figures, 7, false, quiet }, x + width - 56,
                            y + 16, Align::right);
                words.line (cairo, "Length of the film", { Face::words, 9.5 }, x + titleLeft, y + 30);
                words.line (cairo, time::clockText (film, 0), { Face::figures, 10 }, x + width, y + 30, Align::right);
            },
            9);
    }

    void works (const spotting::Book& book, const std::set<std::string>& used)
    {
        if (used.empty())
            return;
        pages.heading ("Works", "Shares in percent of what is named.");
        for (const auto& work : book.works)
            if (used.contains (work.id))
                oneWork (work);
    }

private:
    static constexpr double cueLeft = 28, cueRoom = 38, titleLeft = 72;
    [[nodiscard]] double usageLeft() const { return width - 168; }
    [[nodiscard]] double inRight() const { return width - 98; }
    [[nodiscard]] double outRight() const { return width - 50; }
    [[nodiscard]] double titleRoom() const { return usageLeft() - titleLeft - 12; }

    void drawColumns (cairo_t* cairo, double x, double y)
    {
        words.line (cairo, "no.", label, x + 18, y + 12, Align::right);
        words.line (cairo, "cue", label, x + cueLeft, y + 12);
        words.line (cairo, "work", label, x + titleLeft, y + 12);
        words.line (cairo, "usage", label, x + usageLeft(), y + 12);
        words.line (cairo, "in", label, x + inRight(), y + 12, Align::right);
        words.line (cairo, "out", label, x + outRight(), y + 12, Align::right);
        words.line (cairo, "duration", label, x + width, y + 12, Align::right);
        fillBox (cairo, x, y + 17, width, 0.9, night);
    }

    void oneWork (const spotting::Work& work)
    {
        const std::string iswc = work.iswc.empty() ? "" : "ISWC " + work.iswc;
        const double room = width - words.measure (iswc, { Face::figures, 8.5 }).width - 16;
        pages
            .add (
                20,
                [=, this, title = work.title] (cairo_t* cairo, double x, double y)
                {
                    words.line (cairo, words.fitted (title, { Face::words, 10.5, true }, room), { Face::words, 10.5, true }, x,
                                y + 12);
                    words.line (cairo, iswc, { Face::figures, 8.5 }, x + width, y + 12, Align::right);
                },
                10)
            .keepWithNext = true;
        if (! work.protectedByCopyright)
            return pages.paragraph ("Non-copyright.", rightsWords, 0);
        const std::string sum =
            work.sum == spotting::ShareSum::together ? "writers and publishers together 100" : "writers 100, publishers 100";
        for (const bool writer : { true, false })
            for (const auto& interest : writer ? work.writers : work.publishers)
            {
                pages.add (13,
                           [=, this] (cairo_t* cairo, double x, double y)
                           {
                               words.line (cairo, interest.role, { Face::words, 8.5, true, night }, x + 12, y + 9);
                               words.line (cairo, words.fitted (interest.name, { Face::words, 9 }, width - 270), { Face::words, 9 },
                                           x + 36, y + 9);
                               words.line (cairo, interest.ipi, { Face::figures, 8.5 }, x + width - 150, y + 9, Align::right);
                               words.line (cairo, interest.society, { Face::words, 8.5 }, x + width - 140, y + 9);
                               words.line (cairo, spotting::percentText (interest.share), { Face::figures, 9 }, x + width, y + 9,
                                           Align::right);
                           });
                pages.blocks.back().keepWithNext = true;
            }
        pages.paragraph (sum + (work.note.empty() ? "" : ". " + work.note), rightsWords, 1);
    }

    SheetPages& pages;
    Words& words;
    double width;
};
} // namespace

Result<Sheet> rightsSheet (const spotting::Book& book, const spotting::BookTimes& times, const SheetHead& head)
{
    SheetPages pages (times, head, "Rights cue sheet");
    std::vector<Fact> production;
    for (const auto& field : spotting::productionFields())
        if (const auto& text = book.production.*field.text; ! text.empty())
            production.push_back ({ field.words, text });
    pages.opening (production);
    const auto table = spotting::rightsOf (book, times);
    RightsSetter setter (pages);
    setter.uses (table, times.timings);
    std::set<std::string> used, codes;
    for (const auto& row : table.rows)
    {
        if (row.work != nullptr)
            used.insert (row.work->id);
        codes.insert (row.usage);
    }
    std::string legend;
    for (const auto& code : spotting::usagesOf (book))
        if (codes.contains (code.code))
            legend += (legend.empty() ? "" : ";  ") + code.code + " " + code.meaning;
    legend += std::string (legend.empty() ? "" : ". ") + "Each duration is rounded once to "
              + (book.production.roundUp ? "the next whole second" : "the nearest second, a half up")
              + "; the total is the sum of the rows.";
    pages.paragraph (legend, rightsWords, 8);
    setter.works (book, used);
    if (! table.faults.empty())
    {
        pages.heading ("To be settled before it is sent");
        for (const auto& fault : table.faults)
            pages.paragraph (fault, { Face::words, 9, false, rose }, 4);
    }
    return pages.finish();
}
} // namespace shutterbeat::sheets
