#include "Catch.h"
#include "exchange/ListChecks.h"

#include "exchange/MidiRead.h"

using namespace shutterbeat;
using exchange::readMidiFile;

namespace
{
std::string fileOf (const std::string& track, int division = 480)
{
    return "MThd" + tests::bytesOf ({ 0, 0, 0, 6, 0, 1, 0, 1, division >> 8 & 0xFF, division & 0xFF }) + "MTrk"
           + tests::bytesOf ({ 0, 0, static_cast<int> (track.size() >> 8), static_cast<int> (track.size() & 0xFF) }) + track;
}

const std::string endOfTrack = tests::bytesOf ({ 0, 0xFF, 0x2F, 0 });
} // namespace

TEST_CASE ("B37: running status after a meta event is taken, with a warning")
{
    const auto reading = readMidiFile (
        fileOf (tests::bytesOf ({ 0, 0x90, 0x3C, 0x40, 0x10, 0xFF, 1, 2, 0x6F, 0x6B, 0x10, 0x3E, 0x40, 0, 0xFF, 0x2F, 0 })));
    REQUIRE (reading.ok());
    REQUIRE (reading->notes.size() == 2);
    CHECK (reading->notes[0].key == 0x3C);
    CHECK (reading->notes[1].key == 0x3E);
    CHECK (reading->notes[1].tick == 0x20);
    REQUIRE (reading->warnings.size() == 1);
    CHECK (reading->warnings[0].find ("running status") != std::string::npos);
}

TEST_CASE ("plain running status is no warning")
{
    const auto reading = readMidiFile (fileOf (tests::bytesOf ({ 0, 0x90, 0x3C, 0x40, 0x10, 0x3C, 0 }) + endOfTrack));
    REQUIRE (reading.ok());
    CHECK (reading->notes.size() == 2);
    CHECK_FALSE (reading->notes[1].on);
    CHECK (reading->warnings.empty());
}

TEST_CASE ("B39: text that is not UTF-8 is read as Latin-1")
{
    const auto reading = readMidiFile (fileOf (tests::bytesOf ({ 0, 0xFF, 6, 1, 0xA9, 0, 0xFF, 7, 2, 0xC3, 0xB8 }) + endOfTrack));
    REQUIRE (reading.ok());
    CHECK (reading->markers[0].text == "©");
    CHECK (reading->cuePoints[0].text == "ø");
}

TEST_CASE ("broken files are read as far as they go")
{
    const auto warned = [] (const std::string& bytes)
    {
        const auto reading = readMidiFile (bytes);
        REQUIRE (reading.ok());
        CHECK_FALSE (reading->warnings.empty());
        return reading->markers.size();
    };
    const std::string marker = tests::bytesOf ({ 0, 0xFF, 6, 1, 'a' });
    CHECK (warned (fileOf (marker)) == 1);
    CHECK (warned (fileOf (marker + tests::bytesOf ({ 0, 0xFF, 6, 0x7F, 'b' }))) == 1);
    CHECK (warned (fileOf (marker + tests::bytesOf ({ 0x80, 0x80, 0x80, 0x80, 0x80, 0 }))) == 1);
    CHECK (warned (fileOf (marker + tests::bytesOf ({ 0, 0x40, 0x40 }))) == 1);
    CHECK (warned (fileOf (marker + tests::bytesOf ({ 0, 0xF8 }))) == 1);
    CHECK (warned (fileOf (marker + tests::bytesOf ({ 0, 0xF0, 0xFF, 0xFF, 0xFF, 0x7F }))) == 1);
    auto cut = fileOf (marker + endOfTrack);
    cut.resize (cut.size() - 3);
    CHECK (warned (cut) == 1);
    CHECK_FALSE (readMidiFile ("").ok());
    CHECK_FALSE (readMidiFile ("RIFF....").ok());
    CHECK_FALSE (readMidiFile ("MThd\0\0\0\6\0\1").ok());
    CHECK_FALSE (readMidiFile (fileOf (endOfTrack, 0)).ok());
}

TEST_CASE ("ticks of timecode frames are seconds without tempos")
{
    const std::string track = tests::bytesOf ({ 0, 0xFF, 0x51, 3, 0x0F, 0x42, 0x40, 0x87, 0x68, 0xFF, 6, 1, 'a' }) + endOfTrack;
    // 1000 ticks: one second in milliseconds (E7 28), 1000 / (30 * 80) in bits of 30 frames (E2 50).
    CHECK (readMidiFile (fileOf (track, 0xE728))->markers[0].seconds == time::Rational (1));
    CHECK (readMidiFile (fileOf (track, 0xE250))->markers[0].seconds == time::Rational (1000, 2400));
    CHECK (readMidiFile (fileOf (track, 0xE364))->markers[0].seconds
           == time::Rational (1000) / (time::Rational (30000, 1001) * 100));
}

TEST_CASE ("any bytes are read or refused")
{
    CHECK_PROPERTY (
        [] (const std::string& track)
        {
            const auto reading = readMidiFile (fileOf (track.substr (0, 0xFFFF)));
            return reading.ok() && reading->warnings.size() <= track.size() + 1;
        });
    CHECK_PROPERTY ([] (const std::string& bytes) { return ! readMidiFile ("MThd" + bytes).ok() || bytes.size() >= 10; });
}
