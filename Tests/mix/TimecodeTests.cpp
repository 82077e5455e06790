#include "Catch.h"

#include "mix/LinearTimecode.h"
#include "mix/MidiTimecode.h"

#include "time/Text.h"
#include <cmath>

using namespace shutterbeat;
using time::Rational;

namespace
{
const time::Rate at24{ 24, false }, at25{ 25, false }, at30{ 30, false }, at29df{ { 30000, 1001 }, true },
    at29{ { 30000, 1001 }, false }, at23{ { 24000, 1001 }, false };

std::int64_t countOf (const std::string& label, const time::Rate& rate)
{
    return time::parseLabel (label, rate)->value;
}

std::string hex (std::span<const std::uint8_t> bytes)
{
    std::string text;
    for (const auto byte : bytes)
    {
        text += text.empty() ? "" : " ";
        text += "0123456789ABCDEF"[byte >> 4];
        text += "0123456789ABCDEF"[byte & 15];
    }
    return text;
}

std::string word (const std::string& label, const time::Rate& rate)
{
    return hex (mix::ltcWord (countOf (label, rate), rate));
}

std::string quarters (const std::string& label, const time::Rate& rate)
{
    const auto midi = mix::midiRateOf (rate);
    REQUIRE (midi.ok());
    return hex (mix::midiQuarterFrames (countOf (label, rate), *midi));
}

std::string fullFrame (const std::string& label, const time::Rate& rate)
{
    return hex (mix::midiFullFrame (countOf (label, rate), *mix::midiRateOf (rate)));
}
} // namespace

TEST_CASE ("LTC words are those of handbook 1.6")
{
    CHECK (word ("01:02:03:04", at24) == "04 00 03 00 02 00 01 00 FC BF");
    CHECK (word ("01:00:00:01", at24) == "01 00 00 08 00 00 01 00 FC BF");
    CHECK (word ("01:00:00:01", at25) == "01 00 00 00 00 00 01 08 FC BF");
    CHECK (word ("23:59:59:23", at24) == "03 02 09 0D 09 05 03 02 FC BF");
    CHECK (word ("23:59:59:24", at25) == "04 02 09 05 09 05 03 02 FC BF");
    CHECK (word ("23:59:59:29", at30) == "09 02 09 0D 09 05 03 02 FC BF");
    CHECK (word ("00:01:00;02", at29df) == "02 04 00 00 01 00 00 00 FC BF");
    // An even number of ones, so that every word begins with the same turn.
    for (const auto& rate : { at24, at25, at30, at29df })
        for (std::int64_t count = 0; count < 5000; count += 7)
        {
            int ones = 0;
            for (const auto byte : mix::ltcWord (count, rate))
                ones += __builtin_popcount (byte);
            REQUIRE (ones % 2 == 0);
        }
}

TEST_CASE ("LTC is read back by libltc label for label, over ten minutes at every rate (CASES B11)")
{
    for (const auto& rate : { at23, at24, at25, at29, at29df, at30 })
    {
        INFO (time::rateName (rate));
        const auto start = countOf (rate.dropFrame ? "01:00:00;00" : "01:00:00:00", rate);
        const auto code = mix::LinearTimecode::of (rate, start);
        REQUIRE (code.ok());
        CHECK (code->notes().empty());
        mix::LtcFinder finder (48000, time::labelsPerSecond (rate));
        std::vector<float> block (48000);
        std::int64_t next = -1, seen = 0;
        double worst = 0;
        for (std::int64_t at = 0; at < 600 * 48000; at += 48000)
        {
            code->render (48000, at, block);
            for (const auto& label : finder.feed (block))
            {
                const auto count = time::parseLabel (label.text, rate);
                REQUIRE (count.ok());
                REQUIRE (label.dropFrame == rate.dropFrame);
                REQUIRE_FALSE (label.backward);
                if (next >= 0)
                    REQUIRE (count->value == next); // none skipped, none twice
                next = count->value + 1;
                ++seen;
                const double begins = time::toDouble (Rational (count->value - start) * Rational (48000) / rate.perSecond);
                worst = std::max (worst, std::abs (static_cast<double> (label.first) - begins));
            }
        }
        const auto expected = time::floorOf (Rational (600) * rate.perSecond);
        INFO ("labels " << seen << " of " << expected << ", begun at most " << worst << " samples beside");
        CHECK (seen >= expected - 2); // the first is the decoder's to find its feet, the last has not ended
        CHECK (worst <= 48000.0 / time::toDouble (rate.perSecond) / 80); // within one bit, as libltc tells it
    }
}

TEST_CASE ("labels that no clock shows are no labels, and hiss before the first one costs a second at most")
{
    std::vector<float> sound;
    bool high = false;
    const auto add = [&] (std::array<std::uint8_t, 10> word)
    {
        for (int bit = 0; bit < 80; ++bit)
            for (int half = 0; half < 2; ++half)
            {
                if (half == 0 || (word[static_cast<std::size_t> (bit / 8)] >> (bit % 8) & 1) != 0)
                    high = ! high;
                sound.insert (sound.end(), 12, high ? 0.25f : -0.25f); // 25 labels of 80 bits a second at 48 kHz
            }
    };
    for (int i = 0; i < 3000; ++i)
        sound.push_back (static_cast<float> (i * i % 1009 % 13 - 6) / 50.0f);
    const auto begin = static_cast<std::int64_t> (sound.size());
    for (std::int64_t count = 0; count < 100; ++count)
    {
        auto word = mix::ltcWord (count, at25);
        if (count == 60)
        {
            word[0] |= 0x09; // frames 39, the parity as it was
            word[1] |= 0x03;
        }
        if (count == 61)
            word[7] |= 0x03; // 30 hours and more
        add (word);
    }
    mix::LtcFinder finder (48000, 25);
    std::vector<std::string> texts;
    for (const auto& label : finder.feed (sound))
    {
        texts.push_back (label.text);
        const auto count = time::parseLabel (label.text, at25);
        REQUIRE (count.ok());
        CHECK (std::abs (label.first - (begin + count->value * 1920)) < 24 * 3);
        CHECK (label.end > label.first);
    }
    CHECK (texts.size() >= 65);
    CHECK (texts.size() <= 98);
    const auto has = [&] (const char* text) { return std::find (texts.begin(), texts.end(), text) != texts.end(); };
    CHECK (has ("00:00:01:02"));
    CHECK (has ("00:00:02:09"));
    CHECK_FALSE (has ("00:00:02:10"));
    CHECK_FALSE (has ("00:00:02:11"));
    CHECK (has ("00:00:02:13"));
    CHECK (has ("00:00:03:23"));
}

TEST_CASE ("a label's first edge lies on its delivered frame")
{
    for (const auto& rate : { at23, at24, at25, at29df, at30 })
    {
        const auto code = mix::LinearTimecode::of (rate, 1000);
        std::vector<float> two (2);
        for (const std::int64_t frame : { 1, 2, 3, 14401, 150000 })
        {
            const auto exact = Rational (frame) * Rational (48000) / rate.perSecond;
            const auto sample = time::roundOf (exact);
            code->render (48000, sample - 2, two);
            CHECK (two[0] < 0);
            std::vector<float> after (1);
            code->render (48000, sample + 1, after);
            CHECK (after[0] > 0);
        }
    }
}

TEST_CASE ("LTC comes out the same in any blocks, and before picture start")
{
    const auto code = mix::LinearTimecode::of (at29df, countOf ("01:00:00;00", at29df), Rational (1, 7));
    std::vector<float> all (30000);
    code->render (44100, -10000, all);
    CHECK_PROPERTY ("any block",
                    [&]
                    {
                        const auto at = *rc::gen::inRange<std::int64_t> (0, 29999);
                        std::vector<float> block (static_cast<std::size_t> (*rc::gen::inRange<std::int64_t> (1, 30001 - at)));
                        code->render (44100, at - 10000, block);
                        RC_ASSERT (std::equal (block.begin(), block.end(), all.begin() + at));
                    });
}

TEST_CASE ("from 48 to 60 LTC and MIDI carry the half-rate label and say so: without timecode they say why not")
{
    for (const auto& [rate, half] :
         { std::pair{ time::Rate{ 48, false }, at24 }, std::pair{ time::Rate{ 50, false }, at25 },
           std::pair{ time::Rate{ { 60000, 1001 }, true }, at29df }, std::pair{ time::Rate{ 60, false }, at30 } })
    {
        const auto start = countOf (rate.dropFrame ? "01:00:00;00" : "01:00:00:00", rate);
        const auto code = mix::LinearTimecode::of (rate, start);
        REQUIRE (code.ok());
        CHECK (code->labels() == half);
        CHECK (code->notes().size() == 1);
        mix::LtcFinder finder (48000, time::labelsPerSecond (half));
        std::vector<float> sound (10 * 48000);
        code->render (48000, 0, sound);
        const auto labels = finder.feed (sound);
        REQUIRE (labels.size() > 200);
        for (const auto& label : labels)
        {
            const auto begins =
                Rational (2 * time::parseLabel (label.text, half)->value - start) * Rational (48000) / rate.perSecond;
            REQUIRE (std::abs (time::toDouble (begins) - static_cast<double> (label.first)) < 30);
        }
        const auto midi = mix::midiRateOf (rate);
        REQUIRE (midi.ok());
        CHECK (midi->deliveredPerLabel == 2);
        CHECK_FALSE (midi->notes.empty());
        CHECK (mix::midiCountAt (*midi, start, 0) == start / 2);
        CHECK (mix::midiCountAt (*midi, start, Rational (3) / rate.perSecond) == start / 2 + 1);
    }
    for (const auto& rate : { time::Rate{ 18, false }, time::Rate{ { 200, 11 }, false } })
    {
        const auto code = mix::LinearTimecode::of (rate, 0);
        REQUIRE_FALSE (code.ok());
        CHECK (code.error().message.find (time::rateName (rate)) != std::string::npos);
        CHECK_FALSE (mix::midiRateOf (rate).ok());
    }
}

TEST_CASE ("MIDI time code is that of handbook 1.7")
{
    CHECK (quarters ("01:02:03:04", at24) == "04 10 23 30 42 50 61 70");
    CHECK (quarters ("01:02:03:04", at25) == "04 10 23 30 42 50 61 72");
    CHECK (quarters ("01:02:03;04", at29df) == "04 10 23 30 42 50 61 74");
    CHECK (quarters ("01:02:03:04", at30) == "04 10 23 30 42 50 61 76");
    CHECK (quarters ("10:00:00:00", at25) == "00 10 20 30 40 50 6A 72");
    CHECK (quarters ("23:59:59:29", at30) == "0D 11 2B 33 4B 53 67 77");
    CHECK (quarters ("08:30:12:05", at30) == "05 10 2C 30 4E 51 68 76");
    CHECK (fullFrame ("01:02:03:04", at24) == "F0 7F 7F 01 01 01 02 03 04 F7");
    CHECK (fullFrame ("01:02:03:04", at25) == "F0 7F 7F 01 01 21 02 03 04 F7");
    CHECK (fullFrame ("01:02:03;04", at29df) == "F0 7F 7F 01 01 41 02 03 04 F7");
    CHECK (fullFrame ("10:00:00:00", at25) == "F0 7F 7F 01 01 2A 00 00 00 F7");
    CHECK (fullFrame ("23:59:59:29", at30) == "F0 7F 7F 01 01 77 3B 3B 1D F7");
    CHECK (fullFrame ("08:30:12:05", at30) == "F0 7F 7F 01 01 68 1E 0C 05 F7");
    // No code of their own: sent as the whole rate, and said.
    CHECK (mix::midiRateOf (at23)->code == 0);
    CHECK (mix::midiRateOf (at29)->code == 3);
    CHECK (mix::midiRateOf (at23)->notes.size() == 1);
    CHECK (mix::midiRateOf (at29)->notes.size() == 1);
    CHECK (mix::midiRateOf (at24)->notes.empty());
}

TEST_CASE ("a receiver of the quarter frames knows the label that is running, two frames on")
{
    for (const auto& rate : { at23, at24, at25, at29df, at30 })
    {
        INFO (time::rateName (rate));
        const auto midi = *mix::midiRateOf (rate);
        const auto start = countOf (rate.dropFrame ? "00:59:58;00" : "00:59:58:00", rate);
        // Asked in uneven stretches, as a running transport does.
        std::vector<mix::TimedQuarter> all;
        Rational at (-1);
        for (int i = 0; at < Rational (10); ++i)
        {
            const auto to = at + Rational (1 + i % 7, 97);
            for (const auto& message : mix::midiQuartersBetween (midi, start, at, to))
                all.push_back (message);
            at = to;
        }
        const auto whole = mix::midiQuartersBetween (midi, start, -1, at);
        REQUIRE (all.size() == whole.size());
        int codes = 0;
        for (std::size_t i = 0; i < all.size(); ++i)
        {
            REQUIRE (all[i].at == whole[i].at);
            REQUIRE (all[i].data == whole[i].data);
            if (i > 0)
                REQUIRE (all[i].at - all[i - 1].at == Rational (1) / rate.perSecond / Rational (4));
            if (i < 7 || all[i].data >> 4 != 7)
                continue;
            int field[8];
            for (std::size_t p = 0; p < 8; ++p)
            {
                REQUIRE (all[i - 7 + p].data >> 4 == static_cast<int> (p));
                field[p] = all[i - 7 + p].data & 15;
            }
            const auto two = [&] (std::size_t p, int mask) { return time::padded (field[p] + ((field[p + 1] & mask) << 4), 2); };
            const auto label = two (6, 1) + ":" + two (4, 3) + ":" + two (2, 3) + (rate.dropFrame ? ";" : ":") + two (0, 1);
            // Piece 0 goes out as its label begins; the receiver adds the two frames the eight pieces take.
            const auto count = countOf (label, rate);
            REQUIRE (all[i - 7].at == Rational (count - start) / rate.perSecond);
            REQUIRE (mix::midiCountAt (midi, start, all[i - 7].at) == count);
            ++codes;
        }
        CHECK (codes > 100);
    }
}

TEST_CASE ("the offset of MIDI time code moves every message later by just that")
{
    const auto midi = *mix::midiRateOf (at25);
    const auto plain = mix::midiQuartersBetween (midi, 90000, 0, 1);
    const auto later = mix::midiQuartersBetween (midi, 90000, Rational (3, 1000), Rational (1003, 1000), Rational (3, 1000));
    REQUIRE (plain.size() == 100);
    REQUIRE (later.size() == plain.size());
    for (std::size_t i = 0; i < plain.size(); ++i)
    {
        CHECK (later[i].at == plain[i].at + Rational (3, 1000));
        CHECK (later[i].data == plain[i].data);
    }
}
