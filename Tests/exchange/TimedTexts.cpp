#include "exchange/SampleBook.h"

#include "exchange/TimedText.h"

using namespace shutterbeat;
using exchange::TimedWhat;
using time::Rational;

namespace
{
const exchange::ListHead headOfTexts{ "The Runaway --> Ladder", "2026-05-01" };

exchange::TimedTexts textsOf (const std::string& bytes)
{
    auto texts = exchange::readTimedTexts (bytes);
    if (! texts)
        FAIL (texts.error().text());
    return std::move (*texts);
}
} // namespace

TEST_CASE ("a small file of either kind, byte for byte")
{
    auto book = tests::plainBook ({ 40, 20, 40 }, time::Rational (20), "24");
    auto edition = book.editions[0];
    edition.shots[1].kind = film::ShotKind::card;
    edition.shots[1].wording = "Tom & <Ida>\n\n\"Stå!\"";
    book.editions = std::vector{ edition };
    const auto times = tests::timed (book);
    CHECK (exchange::writeWebVtt (times, { "Ladder", "" }, TimedWhat::cards).parts[0].bytes
           == "WEBVTT\n\n"
              "NOTE Ladder, edition A, 20 film frames a second, final rate 24, true fill, picture starts at 01:00:00:00\n\n"
              "s2\n00:00:02.000 --> 00:00:03.000\nTom &amp; &lt;Ida&gt;\n\"Stå!\"\n");
    CHECK (exchange::writeSrt (times, { "Ladder", "" }, TimedWhat::cards).parts[0].bytes
           == "1\r\n00:00:02,000 --> 00:00:03,000\r\nTom & <Ida>\r\n\"Stå!\"\r\n\r\n");
}

TEST_CASE ("handbook 7.5: 3603.6 s is 01:00:03.600")
{
    auto book = tests::plainBook ({ 86400, 240 }, time::Rational (24), "23.976", "00:00:00:00");
    book.hits = std::vector{ tests::hitAt ("a-1", 86400, "an hour of labels") };
    const auto vtt = exchange::writeWebVtt (tests::timed (book), {}, TimedWhat::hits).parts[0].bytes;
    CHECK (vtt.find ("01:00:03.600 --> 01:00:04.600") != std::string::npos);
}

TEST_CASE ("a time with more decimals than can be reckoned with is said to be unreadable")
{
    const auto texts = textsOf ("1\n00:00:01,000 --> 00:00:02,000\nA\n\n2\n"
                                "11:00:01,0000000000000000000000181864035229949236 --> 12:00:00,000\nB\n");
    REQUIRE (texts.texts.size() == 1);
    REQUIRE (texts.bad.size() == 1);
    CHECK (texts.bad[0].line == 6);
}

TEST_CASE ("hits and cards are read back on their delivered frames")
{
    for (const char* rate : { "23.976", "24", "25", "29.97df", "60", "18" })
    {
        const auto times = tests::timed (tests::comedy (rate));
        const auto& perSecond = times.timings.delivery().rate.perSecond;
        for (const auto write : { exchange::writeWebVtt, exchange::writeSrt })
        {
            const auto written = write (times, headOfTexts, TimedWhat::hits);
            const auto texts = textsOf (written.parts[0].bytes);
            CHECK (texts.bad.empty());
            std::vector<const spotting::HitTimes*> placed;
            for (const auto& row : times.hits)
                if (row.at)
                    placed.push_back (&row);
            REQUIRE (texts.texts.size() == placed.size());
            for (std::size_t i = 0; i < placed.size(); ++i)
            {
                const auto frame = std::max<std::int64_t> (placed[i]->at->delivered, 0);
                CHECK (time::roundOf (texts.texts[i].start * perSecond) == frame);
                CHECK (texts.texts[i].end > texts.texts[i].start);
                if (! placed[i]->hit.label.empty() && placed[i]->hit.label.find ('\n') == std::string::npos)
                    CHECK (texts.texts[i].text.substr (texts.texts[i].text.find ('\n') + 1) == placed[i]->hit.label);
            }
            REQUIRE (written.notes.size() == 1); // one hit lies before picture start
            const auto cards = textsOf (write (times, headOfTexts, TimedWhat::cards).parts[0].bytes);
            REQUIRE (cards.texts.size() == 3);
            CHECK (cards.texts[1].text == "“Stå! Den er ikke din!”");
        }
    }
}

TEST_CASE ("files of other hands: hours or none, settings, styles, marks, faults")
{
    const auto vtt =
        textsOf ("\xEF\xBB\xBFWEBVTT - a title\r\n\r\nSTYLE\r\n::cue { color: red }\r\n\r\nNOTE --> not one\r\n\r\n"
                 "one\r\n00:01.500 --> 00:02.000 align:start line:0\r\n<v Ida>Stop <i>there</i>!</v> &amp; 1 < 2\r\n\r\n"
                 "01:00:00.000 --> 00:59:00.000\r\nbackwards\r\n\r\nno times here\r\n");
    REQUIRE (vtt.texts.size() == 1);
    CHECK (vtt.texts[0].start == Rational (3, 2));
    CHECK (vtt.texts[0].text == "Stop there! & 1 < 2");
    CHECK (vtt.texts[0].id == "one");
    REQUIRE (vtt.bad.size() == 2);
    CHECK (vtt.bad[0].line == 12);
    const auto srt = textsOf ("1\n00:00:01,5 --> 00:00:02,25 X1:10\n{\\an8}<font color=\"red\">Hej</font>\n\n"
                              "2\n00:00:61,000 --> 00:00:62,000\nno\n");
    REQUIRE (srt.texts.size() == 1);
    CHECK (srt.texts[0].end == Rational (9, 4));
    CHECK (srt.texts[0].text == "Hej");
    CHECK (srt.bad.size() == 1);
    CHECK_FALSE (exchange::readTimedTexts ("").ok());
    CHECK_FALSE (exchange::readTimedTexts ("WEBVTT\n").ok());
    CHECK_PROPERTY ([] (const std::string& bytes) { return exchange::readTimedTexts ("00:01.0 --> 00:02.0\nx\n\n" + bytes).ok(); });
}
