#include "exchange/SampleBook.h"

#include "exchange/Chapters.h"

using namespace shutterbeat;

namespace
{
const exchange::ListHead headOfChapters{ "The Runaway = Ladder", "2026-05-01" };
}

TEST_CASE ("chapters begin at picture start, on their delivered frames, with their titles escaped")
{
    auto book = tests::plainBook ({ 40, 20, 40 }, time::Rational (20), "23.976");
    auto tacet = tests::cueAt ("c-2", "1M2", 50, 60, "Silence");
    tacet.kind = spotting::CueKind::tacet;
    book.cues = std::vector{ tests::cueAt ("c-1", "1M1", 20, 50, "A = b; #1 \\ two"), tacet };
    book.hits = std::vector{ tests::hitAt ("h-1", 60, "Fall"), tests::hitAt ("h-2", 60, "Crash\nbang") };
    const auto written = exchange::writeChapters (tests::timed (book), headOfChapters, { true, { "h-1", "h-2" } });
    REQUIRE (written.ok());
    CHECK (written->parts[0].bytes
           == ";FFMETADATA1\n"
              "title=The Runaway \\= Ladder\n"
              "\n[CHAPTER]\nTIMEBASE=1001/24000\nSTART=0\nEND=24\ntitle=The Runaway \\= Ladder\n"
              "\n[CHAPTER]\nTIMEBASE=1001/24000\nSTART=24\nEND=72\ntitle=A \\= b\\; \\#1 \\\\ two\n"
              "\n[CHAPTER]\nTIMEBASE=1001/24000\nSTART=72\nEND=120\ntitle=Fall / Crash bang\n");
    const auto list = exchange::readChapters (written->parts[0].bytes);
    REQUIRE (list.ok());
    CHECK (list->bad.empty());
    CHECK (list->title == headOfChapters.title);
    REQUIRE (list->chapters.size() == 3);
    CHECK (list->chapters[1].title == "A = b; #1 \\ two");
    CHECK (list->chapters[1].start == time::Rational (24 * 1001, 24000));
    CHECK (list->chapters[2].end == time::Rational (120 * 1001, 24000));
    CHECK_FALSE (exchange::writeChapters (tests::timed (book), headOfChapters, { true, { "nobody" } }).ok());
}

TEST_CASE ("chapters moved to the key picture before them say by how much")
{
    std::vector<std::string> notes;
    const auto moved = exchange::onKeyFrames ({ { 0, "a" }, { 24, "b" }, { 30, "c" } }, { 0, 12, 24 }, time::Rational (24), notes);
    CHECK (moved[1].frame == 24);
    CHECK (moved[2].frame == 24);
    CHECK (notes == std::vector<std::string>{ "chapter \"c\" begins 6 frames (0.25 s) earlier, on a key picture" });
}

TEST_CASE ("metadata of other hands: no time base, faults, other sections")
{
    const auto list =
        exchange::readChapters (";FFMETADATA1\r\nartist=x\r\n[STREAM]\r\ntitle=not this\r\n"
                                "[CHAPTER]\r\nSTART=1000000000\r\nEND=2000000000\r\ntitle=one\\\r\ntwo\r\n"
                                "[CHAPTER]\r\nTIMEBASE=1/0\r\nSTART=5\r\nnonsense\r\n[CHAPTER]\r\nTIMEBASE=1/10\r\ntitle=x\r\n");
    REQUIRE (list.ok());
    REQUIRE (list->chapters.size() == 2);
    CHECK (list->chapters[0].start == time::Rational (1));
    CHECK (list->chapters[0].title == "one\ntwo");
    CHECK (list->notes.size() == 2);
    REQUIRE (list->bad.size() == 3);
    CHECK (list->title.empty());
    CHECK_FALSE (exchange::readChapters ("[CHAPTER]\n").ok());
    const auto far =
        exchange::readChapters (";FFMETADATA1\n[CHAPTER]\nTIMEBASE=99999999999\nSTART=" + std::string (38, '9') + "\n");
    REQUIRE (far.ok());
    CHECK (far->chapters.empty());
    CHECK (far->bad.size() == 1);
    CHECK_FALSE (exchange::readChapters ("").ok());
    CHECK_PROPERTY ([] (const std::string& bytes) { return exchange::readChapters (";FFMETADATA1\n" + bytes).ok(); });
}
