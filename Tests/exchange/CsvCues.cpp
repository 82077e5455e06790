#include "exchange/ListChecks.h"
#include "exchange/SampleBook.h"

#include "exchange/CsvList.h"

using namespace shutterbeat;

namespace
{
}

TEST_CASE ("a cue list is read back in every look")
{
    auto book = tests::comedy ("29.97df");
    auto cues = book.cues.list();
    cues[0].title = "He said \"no\", twice";
    cues[0].note = "line1\nline2";
    cues[1].mood = "=sly; @home";
    book.cues = cues;
    const auto times = tests::timed (book);
    for (const auto& look : { exchange::CsvLook{}, exchange::CsvLook::european(), exchange::CsvLook{ false, '\t', '.' },
                              exchange::CsvLook{ false, ',', ',' } })
    {
        const auto list = exchange::readCueList (exchange::writeCueList (times, tests::head, look).parts[0].bytes);
        REQUIRE (list.ok());
        CHECK (list->bad.empty());
        CHECK (list->notUsed.empty());
        CHECK (list->look == look);
        REQUIRE (list->cues.size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
        {
            const auto& row = times.cues[i];
            const auto& cue = list->cues[i];
            CHECK (cue.id == row.cue.id);
            CHECK (cue.number == row.cue.number);
            CHECK (cue.title == row.cue.title);
            CHECK (cue.note == row.cue.note);
            CHECK (cue.mood == row.cue.mood);
            CHECK (cue.kind == row.cue.kind);
            CHECK (cue.status == row.cue.status);
            CHECK (cue.version == row.cue.version);
            CHECK (cue.inDelivered == row.in->delivered);
            CHECK (cue.outDelivered == row.out->delivered);
            CHECK (cue.inTimecode == row.in->timecode);
            CHECK (cue.finalRate == "29.97df");
            CHECK (cue.bpm.has_value() == row.cue.tempo.has_value());
        }
    }
}

TEST_CASE ("chosen columns come in their order: one there is not is named with those there are")
{
    const auto times = tests::timed (tests::comedy());
    const auto written = exchange::writeHitList (times, tests::head, { false, ';', ',' }, { "timecode", "label", "clock" });
    REQUIRE (written.ok());
    const auto& bytes = written->parts[0].bytes;
    CHECK (bytes.substr (0, bytes.find ('\r')) == "timecode;label;clock");
    CHECK (bytes.find ("01:00:08:23;First rung breaks;8,90") == std::string::npos); // 178 film frames at 20 are 8.90 s, frame 223
    CHECK (bytes.find ("01:00:08:23;First rung breaks;8,92") != std::string::npos);
    const auto list = exchange::readHitList (bytes);
    REQUIRE (list.ok());
    CHECK (list->columns == std::vector<std::string>{ "label", "timecode", "clock" });
    const auto cues = exchange::writeCueList (times, tests::head, {}, { "number", "in_timecode" });
    REQUIRE (cues.ok());
    CHECK (exchange::readCueList (cues->parts[0].bytes)->cues[1].number == "1M2");
    const auto wrong = exchange::writeHitList (times, tests::head, {}, { "timecod" });
    REQUIRE_FALSE (wrong.ok());
    CHECK (wrong.error().text().find ("timecode") != std::string::npos);
    CHECK_FALSE (exchange::writeHitList (times, tests::head, {}, { "clock", "clock" }).ok());
    CHECK (exchange::hitListColumns().size() == 36);
}

TEST_CASE ("bad lines of a cue list are named: a table without places is refused")
{
    const auto list = exchange::readCueList ("number,in_timecode,kind,colour\n1M1,01:00:00:00,music,red\n1M2,01:00:10:00,song,red\n"
                                             "1M3\n1M4,01:00:20:00,TACET,\n");
    REQUIRE (list.ok());
    REQUIRE (list->cues.size() == 2);
    CHECK (list->cues[1].kind == spotting::CueKind::tacet);
    REQUIRE (list->bad.size() == 2);
    CHECK (list->bad[0].line == 3);
    CHECK (list->bad[1].line == 4);
    CHECK (list->notUsed == std::vector<std::string>{ "colour" });
    CHECK_FALSE (exchange::readCueList ("number,title\n1M1,x\n").ok());
}
