// Writes every list of the sample book into the folder named by SHUTTERBEAT_OUT, under the locale of the environment.
#include "exchange/SampleBook.h"

#include "exchange/Chapters.h"
#include "exchange/CmxList.h"
#include "exchange/CsvList.h"
#include "exchange/MidiCueFile.h"
#include "exchange/MusicXmlFile.h"
#include "exchange/OtioFile.h"
#include "exchange/OtioRead.h"
#include "exchange/TimedText.h"

#include <clocale>
#include <fstream>
#include <iostream>
#include <locale>

using namespace shutterbeat;

TEST_CASE ("write all lists")
{
    const char* folder = std::getenv ("SHUTTERBEAT_OUT");
    REQUIRE (folder != nullptr);
    REQUIRE (std::setlocale (LC_ALL, "") != nullptr);
    std::locale::global (std::locale (""));
    std::cout << "decimal sign " << std::localeconv()->decimal_point << std::endl;
    const auto save = [&] (const std::string& name, const std::string& bytes)
    {
        std::ofstream file (std::string (folder) + "/" + name, std::ios::binary);
        file << bytes;
        REQUIRE (file.good());
    };
    const auto times = tests::timed (tests::comedy ("29.97df"));
    const exchange::ListHead head{ "The Runaway Ladder", "2026-05-01" };
    save ("hits.csv", exchange::writeHitList (times, head).parts[0].bytes);
    save ("hits-european.csv", exchange::writeHitList (times, head, exchange::CsvLook::european()).parts[0].bytes);
    save ("cues.csv", exchange::writeCueList (times, head).parts[0].bytes);
    save ("list.edl", exchange::writeCmxList (times, head)->parts[0].bytes);
    save ("film.mid", exchange::writeMidiFile (times, head)->parts[0].bytes);
    const auto cues = *exchange::writeMidiCues (times, head), scores = *exchange::writeMusicXml (times, head);
    for (const auto& part : cues.parts)
        save ("cue" + part.suffix + ".mid", part.bytes);
    for (const auto& part : scores.parts)
        save ("score" + part.suffix + ".musicxml", part.bytes);
    save ("film.otio", exchange::writeOtio (times, head)->parts[0].bytes);
    save ("chapters.ffmeta", exchange::writeChapters (times, head)->parts[0].bytes);
    for (const auto what : { exchange::TimedWhat::cards, exchange::TimedWhat::hits })
    {
        const std::string name = what == exchange::TimedWhat::cards ? "cards" : "hits";
        save (name + ".vtt", exchange::writeWebVtt (times, head, what).parts[0].bytes);
        save (name + ".srt", exchange::writeSrt (times, head, what).parts[0].bytes);
    }
    CHECK (exchange::readOtio (exchange::writeOtio (times, head)->parts[0].bytes)->rate.perSecond == time::Rational (30000, 1001));
    // A program under a comma locale has to read what it wrote, too.
    const auto list = exchange::readHitList (exchange::writeHitList (times, head).parts[0].bytes);
    REQUIRE (list.ok());
    CHECK (list->bad.empty());
    CHECK (list->hits.size() == times.hits.size());
    CHECK (list->hits[0].clock == time::Rational (-4));
}
