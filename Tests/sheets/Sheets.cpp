// Every sheet but the spotting notes: what it says, and where on the page.
#include "exchange/Golden.h"
#include "sheets/SheetText.h"

#include "sheets/ClickChart.h"
#include "sheets/CueListSheet.h"
#include "sheets/FilmLists.h"
#include "sheets/PlayersSheet.h"
#include "sheets/RightsSheet.h"
#include "sheets/Signal.h"
#include "sheets/SpottingNotes.h"
#include "sheets/StripScore.h"
#include "sheets/TimingNotes.h"
#include "spotting/WorkEdit.h"
#include "time/Clock.h"

#include <set>

using namespace shutterbeat;
using namespace shutterbeat::tests;
using time::Rational;

namespace
{
const sheets::SheetHead plainHead{ "The Runaway Ladder", "2026-05-01", sheets::Paper::a4 };
const sheets::SheetHead letter{ "The Runaway Ladder", "2026-05-01", sheets::Paper::letter };

/// The sample book with works and a production.
spotting::Book bookWithWorks()
{
    auto book = tests::comedy ("25");
    spotting::Work waltz;
    waltz.title = "The Ladder Waltz";
    waltz.iswc = "T-034.524.680-1";
    waltz.writers = { { "Holm, Ida", "C", "00000000199", "", Rational (200, 3), {} },
                      { "Brand, Otto", "AR", "", "", Rational (100, 3), {} } };
    waltz.publishers = { { "Lamplight Music", "E", "00000000297", "", Rational (100), {} } };
    book = spotting::addWork (book, "anna", waltz)->book;
    spotting::Work tune;
    tune.title = "Down by the river";
    tune.protectedByCopyright = false;
    book = spotting::addWork (book, "anna", tune)->book;
    const auto first = spotting::workNamed (book, "The Ladder Waltz")->id,
               second = spotting::workNamed (book, "Down by the river")->id;
    book = *spotting::setUses (book, "anna-1", { { "", first, "BI", {}, {}, {} } });
    book = *spotting::setUses (book, "anna-2",
                               { { "", first, "BI", {}, Rational (10), {} }, { "", second, "VI", Rational (10), {}, {} } });
    spotting::Production production;
    production.company = "Lamplight Films";
    production.territory = "World";
    production.year = "1921";
    return spotting::setProduction (book, production);
}

struct Named
{
    std::string name;
    Result<sheets::Sheet> sheet;
};

/// Every sheet of a book at its delivery.
std::vector<Named> everySheet (const spotting::Book& book, const spotting::BookTimes& times, const sheets::SheetHead& top)
{
    std::vector<Named> all;
    all.push_back ({ "timing notes", sheets::timingNotes (times, top, greyPicture) });
    all.push_back ({ "cue list", sheets::cueListSheet (book, times, top) });
    all.push_back ({ "click chart", sheets::clickChart (times, top) });
    all.push_back ({ "strip score", sheets::stripScore (times, top, greyPicture) });
    all.push_back ({ "players", sheets::playersSheet (book, times, top) });
    all.push_back ({ "rights", sheets::rightsSheet (book, times, top) });
    all.push_back ({ "title list", sheets::titleList (book, times, top, greyPicture) });
    all.push_back ({ "source list", sheets::sourceList (times, top) });
    return all;
}
} // namespace

TEST_CASE ("every sheet keeps its margins, numbers its pages, and lays no words over each other")
{
    const auto book = bookWithWorks();
    const auto times = tests::timed (book);
    for (const auto& head : { plainHead, letter })
        for (const auto& [name, sheet] : everySheet (book, times, head))
        {
            INFO (name << (head.paper == sheets::Paper::a4 ? " A4" : " Letter"));
            REQUIRE (sheet.ok());
            CHECK (sheet->notes.empty());
            const auto pages = tests::boxesOf (sheet->pdf);
            REQUIRE_FALSE (pages.empty());
            const auto size = sheets::pageSize (head.paper);
            const bool wide = name == "strip score";
            const double width = wide ? size.height : size.width, height = wide ? size.width : size.height;
            std::size_t number = 0;
            for (const auto& words : pages)
            {
                ++number;
                std::string all;
                for (std::size_t i = 0; i < words.size(); ++i)
                {
                    const auto& word = words[i];
                    all += word.text + " ";
                    INFO ("page " << number << " " << word.text);
                    CHECK (word.left >= 35);
                    CHECK (word.right <= width - 35);
                    CHECK (word.top >= 30);
                    CHECK (word.bottom <= height - 20);
                    for (std::size_t k = i + 1; k < words.size(); ++k)
                    {
                        const auto& other = words[k];
                        const double across = std::min (word.right, other.right) - std::max (word.left, other.left);
                        const double down = std::min (word.bottom, other.bottom) - std::max (word.top, other.top);
                        // Boxes are as high as the letters may be: only a real overlap counts.
                        INFO (other.text);
                        CHECK_FALSE ((across > 1.5 && down > 0.55 * std::min (word.bottom - word.top, other.bottom - other.top)));
                    }
                }
                CHECK (has (all, "page " + std::to_string (number) + " of " + std::to_string (pages.size())));
            }
        }
}

TEST_CASE ("every sheet is the same again, and its fonts are embedded")
{
    const auto book = bookWithWorks();
    const auto times = tests::timed (book);
    const auto once = everySheet (book, times, plainHead), again = everySheet (book, times, plainHead);
    for (std::size_t i = 0; i < once.size(); ++i)
    {
        INFO (once[i].name);
        CHECK (once[i].sheet->pdf == again[i].sheet->pdf);
        const auto fonts = poppler ("pdffonts", once[i].sheet->pdf);
        const std::regex embedded ("\\n[A-Z]{6}\\+\\S+ .*?(yes|no) (yes|no) (yes|no) +\\d+ +\\d+");
        std::size_t rows = 0;
        for (std::sregex_iterator match (fonts.begin(), fonts.end(), embedded), end; match != end; ++match, ++rows)
            CHECK ((*match)[1] == "yes");
        CHECK (rows + 2 == static_cast<std::size_t> (std::count (fonts.begin(), fonts.end(), '\n')));
    }
}

TEST_CASE ("timing notes count every hit from 0:00.00 at its cue's in")
{
    const auto times = tests::timed (tests::comedy ("25"));
    const auto text = textOf (sheets::timingNotes (times, plainHead));
    for (const auto& cue : times.cues)
        for (const auto i : cue.hits)
            if (times.hits[i].at)
            {
                const auto& hit = times.hits[i];
                holds (text, { time::clockText (*spotting::fromCueStart (cue, hit)), hit.at->timecode,
                               "frame " + std::to_string (hit.at->delivered) });
            }
    holds (text, { "1M1", "lead -0.083 s", "Hits of no cue", "Lost in this edition", "“Stå! Den er ikke din!”" });
    // 97.3 beats a minute: 178 film frames at 20 are 8.92 s (delivered 223), 14.46 beats: bar 4 beat 3.
    holds (text, { "4.3+47" });
}

TEST_CASE ("golden times: the sheets print every place's own delivered frame, at every rate and both fills")
{
    for (const auto& golden : tests::goldenRates())
    {
        const auto times = tests::goldenTimes (golden);
        const auto timing = poppler ("pdftotext -layout", sheets::timingNotes (times, plainHead, {})->pdf, "-");
        const auto spotting = poppler ("pdftotext -layout", sheets::spottingNotes (times, plainHead)->pdf, "-");
        const auto cues = poppler ("pdftotext -layout", sheets::cueListSheet (tests::comedy(), times, plainHead)->pdf, "-");
        const auto all = [&] (const std::string& text, const std::vector<std::string>& parts)
        {
            // In the order of time within a cue, each after the one before.
            std::size_t at = 0;
            for (const auto& part : parts)
            {
                INFO (golden.name() << " " << part);
                at = text.find (part, at);
                REQUIRE (at != std::string::npos);
                at += part.size();
            }
        };
        std::vector<std::string> ends;
        for (const auto& row : times.cues)
        {
            std::vector<std::string> codes, frames{ row.cue.number };
            for (const auto i : row.hits)
                if (const auto& at = times.hits[i].at)
                {
                    codes.push_back (sheets::paperTimecode (*at).label);
                    frames.push_back ("frame " + std::to_string (at->delivered));
                }
            all (timing, codes);
            all (timing, frames);
            all (spotting, codes);
            ends.push_back (sheets::paperTimecode (*row.in).label);
            ends.push_back (sheets::paperTimecode (*row.out).label);
        }
        all (cues, ends);
    }
}

TEST_CASE ("bar and beat are rounded on the whole amount, never to a hundred hundredths")
{
    auto book = tests::plainBook ({ 1000 }, Rational (25), "25");
    auto cue = tests::cueAt ("c-1", "1M1", 0, 999, "x");
    cue.tempo = *music::TempoMap::steady (Rational (60));
    book.cues = std::vector{ cue };
    const auto times = tests::timed (book);
    const auto& row = times.cues[0];
    CHECK (sheets::barText (row, Rational (0)) == "1.1");
    CHECK (sheets::barText (row, Rational (3999, 1000)) == "2.1");
    CHECK (sheets::barText (row, Rational (2996, 1000)) == "1.4");
    CHECK (sheets::barText (row, Rational (299, 100)) == "1.3+99");
    CHECK (sheets::barText (row, Rational (45, 10)) == "2.1+50");
}

TEST_CASE ("the cue list's totals are the sum of its printed lengths: silence counts overlaps once")
{
    auto book = tests::plainBook ({ 3000 }, Rational (25), "25"); // 120 s
    auto first = tests::cueAt ("c-1", "1M1", 0, 1000, "One"), second = tests::cueAt ("c-2", "1M2", 500, 1500, "Two");
    auto third = tests::cueAt ("c-3", "1M3", 2000, 2500, "Three");
    third.kind = spotting::CueKind::tacet;
    book.cues = std::vector{ first, second, third };
    const auto times = tests::timed (book);
    const auto totals = sheets::cueTotals (times);
    CHECK (totals.pieces == 2);
    CHECK (totals.music == 8000);
    CHECK (totals.silence == 6000);
    const auto text = textOf (sheets::cueListSheet (book, times, plainHead));
    holds (text, { "0:40.00", "1:20.00", "1:00.00", "2 pieces of music", "tacet" });
    holds (textOf (sheets::cueListSheet (bookWithWorks(), tests::timed (bookWithWorks()), plainHead)),
           { "The Ladder Waltz; Down by the river", "mocked up, version 2" });
}

TEST_CASE ("the click chart has every bar, its clicks counted at 24 or 25, and the hits over them")
{
    const auto times = tests::timed (tests::comedy ("25"));
    const auto text = textOf (sheets::clickChart (times, plainHead));
    holds (text, { "counted at 25", "click near 15-3 at 25", "97.30 a minute", "4/4", "4 free clicks", "Ladder falls",
                   "Without a tempo, and so without a chart: 1M3" });
    // 21.2 s at 97.3 are 34.4 beats: bars 1 to 9.
    std::set<std::string> numbers;
    for (const auto& page : tests::boxesOf (sheets::clickChart (times, plainHead)->pdf))
        for (const auto& word : page)
            if (word.bottom - word.top > 18)
                numbers.insert (word.text);
    for (int bar = 1; bar <= 9; ++bar)
        CHECK (numbers.contains (std::to_string (bar)));
    CHECK (has (textOf (sheets::clickChart (tests::timed (tests::comedy ("24")), plainHead)), "counted at 24"));
    auto cue = tests::cueAt ("c", "1M1", 0, 10, "");
    cue.tempo = *music::TempoMap::steady (Rational (120));
    CHECK (sheets::frameClickText (cue, { Rational (24), false }) == "click 12-0 at 24");
    CHECK (sheets::frameClickText (cue, { Rational (50), false }) == "click 12-4 at 25");
}

TEST_CASE ("the strip score gives every minute a page and keeps true proportion")
{
    const auto times = tests::timed (tests::comedy ("25")); // 90 s
    const auto sheet = sheets::stripScore (times, plainHead, greyPicture);
    const auto pages = tests::boxesOf (sheet->pdf);
    REQUIRE (pages.size() == 2);
    // Seconds on the ruler lie on one line, at even distances.
    std::vector<double> lefts;
    for (const char* second : { "0:05", "0:15", "0:25", "0:50" })
        for (const auto& word : pages[0])
            if (word.text == second)
                lefts.push_back (word.left);
    REQUIRE (lefts.size() == 4);
    CHECK (lefts[1] - lefts[0] == Approx (lefts[2] - lefts[1]).margin (0.1));
    CHECK ((lefts[3] - lefts[2]) == Approx (2.5 * (lefts[1] - lefts[0])).margin (0.2));
    holds (textOf (sheet),
           { "1M1", "The borrowed ladder", "Anton has borrowed the only ladder in town.", "Ladder falls", "01:01:00:00" });
}

TEST_CASE ("WORKED K: the players' sheet follows the house's speed")
{
    auto book = tests::plainBook ({ 6000, 6000 }, Rational (18), "25");
    auto edition = book.editions[0];
    edition.shots[1].speed = Rational (22);
    book.editions = std::vector{ edition };
    auto cue = tests::cueAt ("c-1", "1", 0, 0, "Overture");
    cue.out = film::EdgePlace{ "s2", film::Edge::tail, std::int64_t{ 0 }, 0 };
    book.cues = std::vector{ cue };
    const auto own = tests::timed (book);
    CHECK (time::secondsText (*sheets::filmSeconds (own.timings, cue.in, cue.out)) == "606.06");
    spotting::Asked house;
    house.running = Rational (20);
    const auto live = tests::timed (book, house);
    CHECK (*sheets::filmSeconds (live.timings, cue.in, cue.out) == Rational (600));
    holds (textOf (sheets::playersSheet (book, live, plainHead)),
           { "Projected at 20 pictures a second the film runs 10:00", "At the first picture", "10:00" });
    holds (textOf (sheets::playersSheet (book, own, plainHead)), { "18 to 22 pictures a second", "10:06" });
}

TEST_CASE ("the players' sheet says what to wait for, what follows without a pause, and what is silent")
{
    auto book = tests::comedy ("25");
    auto cues = book.cues.list();
    cues[1].in = film::EdgePlace{ "s6", film::Edge::head, std::int64_t{ 0 }, 0 }; // at a title
    cues[0].out = cues[1].in;
    cues[2].in = film::PicturePlace{ "p1", 1611, 0 }; // at an action with a hit
    auto tacet = tests::cueAt ("anna-4", "1M2b", 1200, 1300, "");
    tacet.kind = spotting::CueKind::tacet;
    cues.push_back (tacet);
    book.cues = cues;
    const auto times = tests::timed (book);
    const auto text = textOf (sheets::playersSheet (book, times, plainHead));
    holds (text, { "At title", "“Stå! Den er ikke din!”", "At action", "Splash", "segue", "Tacet", "stop: =silence",
                   "the players are seen" });
    CHECK (sheets::signalAt (times, times.cues[0].cue.in).how == "At the first picture");
    CHECK (sheets::signalAt (times, times.cues[1].cue.in).title);
}

TEST_CASE ("the rights sheet adds its printed rows, prints exact shares, and names what is to be settled")
{
    const auto book = bookWithWorks();
    const auto times = tests::timed (book);
    const auto text = textOf (sheets::rightsSheet (book, times, plainHead));
    holds (text, { "Lamplight Films", "World", "The Ladder Waltz", "ISWC T-034.524.680-1", "66 2/3", "33 1/3", "00000000199",
                   "Non-copyright", "BI background, instrumental", "cue 1M3 has no work yet", "To be settled before it is sent",
                   "the sum of the rows" });
    const auto table = spotting::rightsOf (book, times);
    holds (text, { time::clockText (Rational (table.total), 0), "not rounded " + time::clockText (table.exact) });
    std::int64_t sum = 0;
    for (const auto& row : table.rows)
        sum += row.seconds;
    CHECK (sum == table.total);
}

TEST_CASE ("an empty book, a rate without timecode and very long texts break no sheet")
{
    auto empty = tests::plainBook ({ 50 }, Rational (18), "18");
    for (const auto& [name, sheet] : everySheet (empty, tests::timed (empty), plainHead))
    {
        INFO (name);
        CHECK (sheet.ok());
    }
    auto book = tests::comedy ("25");
    auto hits = book.hits.list();
    std::string longText;
    for (int i = 0; i < 900; ++i)
        longText += "word" + std::to_string (i) + " ";
    hits[2].note = longText;
    hits[3].label = longText;
    book.hits = hits;
    auto cues = book.cues.list();
    cues[0].title = longText;
    cues[0].mood = longText;
    book.cues = cues;
    auto edition = book.editions[0];
    edition.shots[1].wording = longText;
    book.editions = std::vector{ edition };
    for (const auto& [name, sheet] : everySheet (book, tests::timed (book), plainHead))
    {
        INFO (name);
        REQUIRE (sheet.ok());
        for (const auto& page : tests::boxesOf (sheet->pdf))
            for (const auto& word : page)
                if (word.bottom > 842 - 20 && name != "strip score")
                    FAIL_CHECK (word.text << " runs out of the page");
    }
    const auto notes = textOf (sheets::timingNotes (tests::timed (book), plainHead));
    holds (notes, { "word0", "word450", "word899" });
}

TEST_CASE ("B58: letters outside Latin-1, composed or not, are the same text on every sheet: a missing one is named")
{
    auto book = tests::comedy ("25");
    book.title = "Ærø “Stå!” – Čapek, Łódź";
    auto cues = book.cues.list();
    cues[0].title = "A\xCC\x8Ar \xE2\x80\x93 C\xCC\x8C"; // decomposed
    cues[1].title = "\xF0\x93\x80\x80";                  // an Egyptian hieroglyph
    book.cues = cues;
    const auto times = tests::timed (book);
    const sheets::SheetHead head{ book.title, "", sheets::Paper::a4 };
    for (const auto& [name, sheet] : everySheet (book, times, head))
    {
        INFO (name);
        REQUIRE (sheet.ok());
        CHECK (has (poppler ("pdftotext", sheet->pdf, "-"), "Čapek, Łódź"));
    }
    const auto list = sheets::cueListSheet (book, times, head);
    CHECK (has (poppler ("pdftotext", list->pdf, "-"), "År – Č"));
    REQUIRE (list->notes.size() == 1);
    CHECK (has (list->notes[0], "U+13000"));
}
