#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/CsvList.h"

using namespace shutterbeat;
using exchange::CsvLook;
using exchange::readHitList;
using exchange::writeHitList;

namespace
{

const exchange::ListedHit& listed (const exchange::HitList& list, const std::string& id)
{
    for (const auto& hit : list.hits)
        if (hit.id == id)
            return hit;
    FAIL ("no hit " << id);
    throw;
}
} // namespace

TEST_CASE ("every field of every hit comes back exactly, in any look")
{
    const CsvLook looks[]{ {}, { false, ',', '.' }, CsvLook::european(), { false, '\t', '.' }, { true, ',', ',' } };
    for (const char* rate : { "24", "29.97df", "18" })
        for (const auto& look : looks)
        {
            const auto times = tests::timed (tests::comedy (rate));
            const auto written = writeHitList (times, tests::head, look);
            REQUIRE (written.parts.size() == 1);
            const auto list = readHitList (written.parts[0].bytes);
            REQUIRE (list.ok());
            CHECK (list->bad.empty());
            CHECK (list->notUsed.empty());
            CHECK (list->look == look);
            REQUIRE (list->hits.size() == times.hits.size());
            for (std::size_t i = 0; i < times.hits.size(); ++i)
            {
                const auto& row = times.hits[i];
                const auto& back = list->hits[i];
                CHECK (back.id == row.hit.id);
                CHECK (back.cueId == row.hit.cue);
                CHECK (back.label == row.hit.label);
                CHECK (back.kind == row.hit.kind);
                CHECK (back.weight == row.hit.weight);
                CHECK (back.lead == row.hit.lead);
                CHECK (back.earlyMs == row.hit.earlyMs);
                CHECK (back.lateMs == row.hit.lateMs);
                CHECK (back.note == row.hit.note);
                CHECK (back.askedBy == row.hit.askedBy);
                CHECK (back.agreed == row.hit.agreed);
                CHECK (back.fromScan == row.hit.fromScan);
                CHECK (back.typed == row.hit.typed);
                CHECK (back.place == row.place);
                CHECK (back.lost == row.lost);
                CHECK (back.edition == "A");
                CHECK (back.running == "20");
                CHECK (back.finalRate == rate);
                CHECK (back.stamped == "2026-05-01");
                CHECK (back.book == tests::head.title);
                CHECK (back.deliveredFrame.has_value() == row.at.has_value());
                if (! row.at)
                    continue;
                CHECK (back.deliveredFrame == row.at->delivered);
                CHECK (back.filmFrame == row.at->filmFrame);
                CHECK (back.sourceFrame == row.at->sourceFrame);
                CHECK (back.fileFrame == row.at->fileFrame);
                CHECK (back.reel == 1);
                CHECK (back.timecode == row.at->timecode);
                CHECK (back.clockExact == row.at->clock);
                CHECK (back.feet == row.at->feet);
            }
        }
}

TEST_CASE ("a row of the list, byte for byte")
{
    auto book = tests::plainBook ({ 100, 100 }, time::Rational (20), "25");
    auto hit = tests::hitAt ("anna-1", 10, "=Dør, \"nej\"");
    hit.lead = time::Rational (9, 2);
    book.hits = std::vector{ hit };
    const auto text = writeHitList (tests::timed (book), { "Ladder", "" }).parts[0].bytes;
    CHECK (text
           == "\xEF\xBB\xBFid,cue,cue_id,label,kind,weight,reel,film_frame,source_frame,file_frame,delivered_frame,timecode,clock,"
              "clock_exact,from_start,from_start_exact,feet,not_shown,lead,early_ms,late_ms,note,asked_by,agreed,from_scan,typed,"
              "place,lost,edition,running,final_rate,fill,start,stamped,book,revision\r\n"
              "anna-1,,,\"'=Dør, \"\"nej\"\"\",action,should,1,10,10,10,13,01:00:00:13,0.52,13/25,,,0+10,no,4.5,40,80,,,no,no,,"
              "film:10,,A,20,25,true,01:00:00:00,,Ladder,\r\n");
    const auto european = writeHitList (tests::timed (book), { "Ladder", "" }, CsvLook::european()).parts[0].bytes;
    CHECK (european.find (";0,52;13/25;;;0+10;no;4,5;40;80;") != std::string::npos);
}

TEST_CASE ("from_start is counted from the in of the hit's own cue")
{
    const auto list = readHitList (writeHitList (tests::timed (tests::comedy ("25")), tests::head).parts[0].bytes);
    REQUIRE (list.ok());
    const auto& pot = listed (*list, "anna-19");
    CHECK (pot.cue == "1M2");
    CHECK (pot.fromStartExact == time::Rational (913 - 780, 25));
    CHECK (pot.fromStart == time::Rational (532, 100));
    CHECK_FALSE (listed (*list, "anna-17").fromStart);
    const auto& lost = listed (*list, "anna-29");
    CHECK_FALSE (lost.clock);
    CHECK (lost.lost.find ("s99") != std::string::npos);
}

TEST_CASE ("a list made elsewhere is read: bad lines are named")
{
    const auto list = readHitList ("Timecode;Label;Lead;Mood\n01:00:01:00;Dør;0,5;dark\n01:00:02:00;x;soon;\n01:00:03:00;y;;\n");
    REQUIRE (list.ok());
    CHECK (list->look.separator == ';');
    CHECK (list->look.decimalSign == ',');
    REQUIRE (list->hits.size() == 2);
    CHECK (list->hits[0].lead == time::Rational (1, 2));
    CHECK (list->notUsed == std::vector<std::string>{ "Mood" });
    REQUIRE (list->bad.size() == 1);
    CHECK (list->bad[0].line == 3);
    CHECK (list->bad[0].why == "lead \"soon\" is not a number of seconds");
    CHECK_FALSE (readHitList ("label,note\nx,y\n").ok());
    CHECK (readHitList ("film_frame,kind\n12,thing\n")->bad.size() == 1);
    CHECK (readHitList ("film_frame,early_ms\n12,-1\n")->bad.size() == 1);
    CHECK (readHitList ("film_frame,agreed\n12,perhaps\n")->bad.size() == 1);
}

TEST_CASE ("the reader takes any bytes")
{
    CHECK_PROPERTY (
        [] (const std::string& bytes)
        {
            const auto list = readHitList (bytes);
            const auto more = readHitList ("place,label\n" + bytes);
            return list.ok() || ! list.error().text().empty() || more.ok();
        });
}

TEST_CASE ("any label and note make the way through the list")
{
    CHECK_PROPERTY (
        [] (const std::string& label, const std::string& note)
        {
            const auto plain = [] (std::string text)
            {
                for (char& c : text)
                    c = static_cast<char> (c & 0x7F);
                return text;
            };
            auto book = tests::plainBook ({ 100 }, time::Rational (20), "24");
            auto hit = tests::hitAt ("anna-1", 10, plain (label));
            hit.note = plain (note);
            book.hits = std::vector{ hit };
            const auto list =
                readHitList (writeHitList (*spotting::timesOf (book), { "=1", "" }, CsvLook::european()).parts[0].bytes);
            return list.ok() && list->hits.size() == 1 && list->hits[0].label == hit.label && list->hits[0].note == hit.note
                   && list->hits[0].book == "=1";
        });
}

TEST_CASE ("the cue list has in, out and length")
{
    const auto table =
        exchange::readTable (exchange::writeCueList (tests::timed (tests::comedy ("25")), tests::head).parts[0].bytes);
    REQUIRE (table.ok());
    REQUIRE (table->records.size() == 3);
    const auto cell = [&] (std::size_t row, const char* name) { return table->records[row].cells[table->column (name).value()]; };
    CHECK (cell (0, "number") == "1M1");
    CHECK (cell (0, "bpm") == "97.3");
    CHECK (cell (0, "in_timecode") == "01:00:00:00");
    CHECK (cell (0, "out_timecode") == "01:00:21:05");
    CHECK (cell (0, "length") == "21.20");
    CHECK (cell (0, "hits") == "7");
    CHECK (cell (1, "title") == "Køkkenet");
    CHECK (cell (1, "status") == "mocked up");
    CHECK (cell (2, "kind") == "seen music");
    CHECK (cell (2, "out_clock_exact") == "90");
    CHECK (cell (2, "final_rate") == "25");
}
