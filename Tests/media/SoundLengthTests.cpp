#include "Catch.h"
#include "Watched.h"

#include "media/SoundReader.h"

#include <chrono>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <string>

using namespace shutterbeat;
namespace fs = std::filesystem;

namespace
{
void put (std::string& bytes, std::uint64_t value, int size)
{
    for (int i = 0; i < size; ++i)
        bytes += static_cast<char> (value >> (8 * i) & 255);
}

/// A WAV of 24 bits whose samples are all silence but the last: the file has holes and takes next to no room on the disk.
/// From 4 GB on it is an RF64.
std::string longWav (const std::string& name, int channels, std::uint64_t samples)
{
    const auto path = (fs::temp_directory_path() / name).string();
    const std::uint64_t block = static_cast<std::uint64_t> (channels) * 3, data = samples * block;
    const bool large = data + 100 > 0xFFFFFFFFull;
    std::string head = large ? "RF64" : "RIFF";
    put (head, large ? 0xFFFFFFFFull : data + 36, 4);
    head += "WAVE";
    if (large)
    {
        head += "ds64";
        put (head, 28, 4);
        put (head, data + 72, 8);
        put (head, data, 8);
        put (head, samples, 8);
        put (head, 0, 4);
    }
    head += "fmt ";
    put (head, 16, 4);
    put (head, 1, 2);
    put (head, static_cast<std::uint64_t> (channels), 2);
    put (head, 48000, 4);
    put (head, 48000 * block, 4);
    put (head, block, 2);
    put (head, 24, 2);
    head += "data";
    put (head, large ? 0xFFFFFFFFull : data, 4);
    std::ofstream (path, std::ios::binary) << head;
    fs::resize_file (path, head.size() + data);
    std::fstream last (path, std::ios::binary | std::ios::in | std::ios::out);
    last.seekp (static_cast<std::streamoff> (head.size() + data - 3));
    last.write ("\0\0\x40", 3); // half of full scale on the last channel
    return path;
}

/// Memory of this process, in bytes.
std::int64_t residentBytes()
{
    std::ifstream statm ("/proc/self/statm");
    std::int64_t whole = 0, resident = 0;
    statm >> whole >> resident;
    return resident * 4096;
}
} // namespace

TEST_CASE ("two hours of sound are read anywhere with little memory and little waiting")
{
    constexpr std::int64_t samples = std::int64_t (2) * 3600 * 48000;
    const auto path = longWav ("shutterbeat-two-hours.wav", 2, samples);
    const auto before = residentBytes();
    const auto start = std::chrono::steady_clock::now();
    auto reader = media::SoundReader::open (path);
    REQUIRE (reader.ok());
    const auto opened = std::chrono::steady_clock::now();
    CHECK (reader->info().samples == samples);
    std::vector<float> part (2 * 4800);
    std::uint32_t seed = 5;
    for (int i = 0; i < 200; ++i)
    {
        seed = seed * 1664525 + 1013904223;
        REQUIRE (reader->read (static_cast<std::int64_t> (seed) * 80 % samples, part).ok());
    }
    REQUIRE (reader->read (samples - 4800, part).ok());
    CHECK (part.back() == 0.5f);
    const auto end = std::chrono::steady_clock::now();
    const auto ms = [] (auto span) { return std::chrono::duration_cast<std::chrono::milliseconds> (span).count(); };
    const auto grown = residentBytes() - before;
    std::cout << "Two hours of 24-bit stereo: opened in " << ms (opened - start) << " ms, 201 jumps in " << ms (end - opened)
              << " ms, memory grown by " << grown / 1024 << " kB\n";
    if (! tests::memoryIsWatched)
        CHECK (grown < 24 * 1024 * 1024);
    fs::remove (path);
}

TEST_CASE ("a WAV beyond four gigabytes keeps its length and its last sample (CASES B45)")
{
    // 48 kHz, 24 bits, 6 channels, an hour and a half: beyond what a RIFF's 32 bits can say.
    constexpr std::int64_t samples = std::int64_t (5400) * 48000;
    const auto path = longWav ("shutterbeat-rf64.wav", 6, samples);
    auto reader = media::SoundReader::open (path);
    REQUIRE (reader.ok());
    CHECK (reader->info().channels == 6);
    CHECK (reader->info().samples == samples);
    CHECK (reader->info().warnings.empty());
    std::vector<float> part (6 * 10);
    REQUIRE (reader->read (samples - 9, part).ok());
    CHECK (part[6 * 9 - 1] == 0.5f);
    CHECK (part[6 * 10 - 1] == 0.0f);
    fs::remove (path);
}
