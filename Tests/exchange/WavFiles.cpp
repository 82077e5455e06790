#include "exchange/SampleBook.h"

#include "exchange/WavRead.h"

#include <filesystem>
#include <fstream>

using namespace shutterbeat;

namespace
{
std::string fileOf (const exchange::WavLook& look, const std::vector<float>& samples)
{
    auto bytes = exchange::wavHead (look, static_cast<std::int64_t> (samples.size()) / look.channels);
    exchange::appendSamples (bytes, samples);
    exchange::endWav (bytes);
    return bytes;
}
} // namespace

TEST_CASE ("a time stamp and named points are read back")
{
    exchange::WavLook look;
    look.timeReference = 172972800; // 01:00:00:00 at 23.976 and 48 kHz (handbook 7.4)
    look.description = "Click of cue 1M1";
    look.cues = { { 7, 2002, "Dør" }, { 3, 0, "Hit 1" }, { 9, 4004, "" } };
    const auto bytes = fileOf (look, std::vector<float> (6001, 0.25f));
    CHECK (bytes.size() % 2 == 0);
    const auto info = exchange::readWavInfo (bytes);
    REQUIRE (info.ok());
    CHECK (info->samplesPerSecond == 48000);
    CHECK (info->channels == 1);
    CHECK (info->bits == 24);
    CHECK (info->samples == 6001);
    CHECK (info->timeReference == 172972800);
    CHECK (info->description == "Click of cue 1M1");
    CHECK (info->originator == "Shutterbeat");
    CHECK_FALSE (info->large);
    CHECK (info->notes.empty());
    CHECK (info->cues == std::vector<exchange::WavCue>{ { 3, 0, "Hit 1" }, { 7, 2002, "Dør" }, { 9, 4004, "" } });
    // Handbook 7.4: "labl" of "Hit 1" is 10 bytes long.
    CHECK (bytes.find (std::string ("labl\x0A\0\0\0\x03\0\0\0Hit 1\0", 18)) != std::string::npos);
}

TEST_CASE ("B45: past 4 GiB the file is RF64 with the same points and time stamp")
{
    exchange::WavLook look;
    look.channels = 6;
    look.timeReference = 480000;
    look.cues = { { 1, 259200000 - 1, "last but one" } };
    const std::int64_t samples = 259200000; // 1 h 30 min at 48 kHz
    const auto head = exchange::wavHead (look, samples);
    CHECK (head.substr (0, 4) == "RF64");
    CHECK (head.substr (4, 4) == "\xFF\xFF\xFF\xFF");
    // A sparse file: only its head is written, the rest is a hole.
    const auto path =
        (std::filesystem::temp_directory_path() / ("shutterbeat-rf64-" + std::to_string (getpid()) + ".wav")).string();
    std::ofstream (path, std::ios::binary) << head;
    const auto size = static_cast<std::uint64_t> (head.size()) + static_cast<std::uint64_t> (samples) * 18;
    std::error_code failed;
    std::filesystem::resize_file (path, size, failed);
    if (failed)
    {
        std::filesystem::remove (path);
        WARN ("skipped: this file system keeps no sparse files");
        return;
    }
    std::ifstream file (path, std::ios::binary);
    const auto info = exchange::readWavInfo (
        [&] (std::uint64_t offset, std::size_t count)
        {
            std::string bytes (count, '\0');
            file.clear();
            file.seekg (static_cast<std::streamoff> (offset));
            file.read (bytes.data(), static_cast<std::streamsize> (count));
            bytes.resize (static_cast<std::size_t> (file.gcount()));
            return bytes;
        },
        size);
    REQUIRE (info.ok());
    CHECK (info->large);
    CHECK (info->samples == samples);
    CHECK (info->timeReference == 480000);
    CHECK (info->cues == look.cues);
    CHECK (info->notes.empty());
    // ffprobe is independent of us.
    const auto command = "[ \"$(ffprobe -v error -show_entries stream=duration_ts -of csv=p=0 '" + path + "')\" = 259200000 ]";
    CHECK (std::system (command.c_str()) == 0);
    std::filesystem::remove (path);
    // Just below the limit it stays a plain WAV file: 2^32 bytes are 1 h 22 min 51 s of this.
    CHECK (exchange::wavHead (look, 4971 * 48000).substr (0, 4) == "RIFF");
}

TEST_CASE ("recordings of other systems")
{
    const auto path = tests::testData ("data/interchange/wav/");
    if (! std::filesystem::exists (path + "cues_cyrillic.wav"))
    {
        WARN ("skipped: the shared sounds are not there");
        return;
    }
    const auto load = [&] (const std::string& name)
    {
        std::ifstream file (path + name, std::ios::binary);
        const auto info = exchange::readWavInfo (std::string{ std::istreambuf_iterator<char> (file), {} });
        REQUIRE (info.ok());
        return *info;
    };
    const auto cues = load ("cues_cyrillic.wav");
    REQUIRE_FALSE (cues.cues.empty());
    for (const auto& cue : cues.cues)
    {
        CHECK (cue.sample >= 0);
        CHECK (cue.sample <= cues.samples);
    }
    const auto stamped = load ("field_recorder_bext.wav");
    REQUIRE (stamped.timeReference);
    CHECK (*stamped.timeReference > 0);
}

TEST_CASE ("what is no WAV file, or is cut short, is said and never crashes")
{
    CHECK_FALSE (exchange::readWavInfo ("").ok());
    CHECK_FALSE (exchange::readWavInfo ("RIFF0000AVI LIST").ok());
    const auto whole = fileOf ({}, std::vector<float> (100, 0.0f));
    const auto cut = exchange::readWavInfo (whole.substr (0, whole.size() - 60));
    REQUIRE (cut.ok());
    CHECK (cut->samples == 80);
    CHECK (cut->notes.size() == 1);
    CHECK_FALSE (exchange::readWavInfo (whole.substr (0, 40)).ok());
    // Zeros behind the sound look like chunks without a name, one every eight bytes.
    const auto zeros = exchange::readWavInfo (whole + std::string (1'000'000, '\0'));
    REQUIRE (zeros.ok());
    CHECK (zeros->samples == 100);
    REQUIRE (zeros->notes.size() == 1);
    CHECK (zeros->notes[0].find ("more than 10000 chunks") != std::string::npos);
    // A ds64 chunk whose length, counted on from where the sound lies, would come out before it.
    for (const std::uint64_t back : { 8u, 32u, 1u })
    {
        const auto length = std::uint64_t{ 0 } - back;
        std::string large ("RF64\xFF\xFF\xFF\xFFWAVEds64\x1C\0\0\0", 20);
        large += std::string (8, '\0');
        for (int i = 0; i < 8; ++i)
            large += static_cast<char> (length >> (8 * i));
        large += std::string (12, '\0') + whole.substr (12, whole.find ("data") - 12);
        large += std::string ("data\xFF\xFF\xFF\xFF", 8) + std::string (30, '\x01');
        const auto info = exchange::readWavInfo (large);
        REQUIRE (info.ok());
        CHECK (info->samples == 10);
        CHECK (info->notes.size() == 1);
    }
    CHECK_PROPERTY (
        [&] (std::size_t at, char with)
        {
            auto bytes = whole;
            bytes[at % bytes.size()] = with;
            const auto info = exchange::readWavInfo (bytes);
            return info.ok() || ! info.error().text().empty();
        });
}
