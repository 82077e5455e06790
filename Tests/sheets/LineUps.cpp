// The line-up report: what it says of a sound and its hits, and that a long one breaks between rows.
#include "exchange/SampleBook.h"
#include "sheets/Poppler.h"

#include "sheets/LineUpSheet.h"

#include <cmath>

using namespace shutterbeat;
using tests::poppler;

namespace
{
sheets::LineUpPart partOf (const spotting::BookTimes& times, int rows)
{
    sheets::LineUpPart part;
    part.sound = "1M1-take.wav";
    part.cue = "1M1";
    part.place = "Cue 1M1; starts 0:12.000 from picture start, 61.0 s long";
    part.faults = { "Late by a constant 45 ms, ±1 ms (sure)." };
    part.facts = { "Of 128 beats and 170 onsets 126 lie within 40 ms of each other." };
    for (int i = 0; i < rows; ++i)
    {
        sheets::LineUpRow row;
        row.hit = &times.hits[static_cast<std::size_t> (i) % times.hits.size()];
        row.late = i == 1 ? "no clear accent here" : "45 ms late, 1.1 frames";
        row.beyond = i == 2;
        row.breaks = i == 1 ? "" : "AC-3 decoder specification; EBU R37, one production stage";
        for (int c = 0; c < 120; ++c)
        {
            const auto high = static_cast<float> (c < 66 ? 0.01 : 0.6 * std::exp (-(c - 66) / 20.0));
            row.around.outline.emplace_back (-high, high);
        }
        row.around.onsets = { 0.045 };
        if (i != 1)
            row.around.heard = 0.045;
        part.rows.push_back (std::move (row));
    }
    part.counts = "9 within their limits, 1 beyond";
    return part;
}
} // namespace

TEST_CASE ("The line-up report says what is wrong first, then every hit, then what stands")
{
    const auto book = tests::comedy ("25");
    const auto times = *spotting::timesOf (book);
    REQUIRE_FALSE (times.hits.empty());
    const auto sheet =
        sheets::lineUpSheet (times, { "The Runaway Ladder", "2026-05-01", sheets::Paper::a4 }, { partOf (times, 30) },
                             { { "1M1-take.wav, cue 1M1", "edit", "at 0:10.00 of the sound: 2.00 s out", false } });
    REQUIRE (sheet.ok());
    const auto text = poppler ("pdftotext -layout", sheet->pdf, "-");
    const auto fault = text.find ("Late by a constant 45 ms"), fact = text.find ("Of 128 beats"),
               row = text.find ("45 ms late, 1.1 frames"), stand = text.find ("After the recut");
    REQUIRE (stand != std::string::npos);
    CHECK (fault < fact);
    CHECK (fact < row);
    CHECK (row < stand);
    CHECK (text.find ("no clear accent here") != std::string::npos);
    CHECK (text.find ("continued") != std::string::npos);
    CHECK (text.find ("page 2 of") != std::string::npos);
    const auto fonts = poppler ("pdffonts", sheet->pdf);
    CHECK (fonts.find ("Inter") != std::string::npos);
}
