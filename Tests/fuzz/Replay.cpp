// Runs a fuzz target over kept files, over hostile inputs and over changed seeds, the same ones each time:
//   shutterbeat_fuzz_READER [--rounds N] [--seed S] [--keep FOLDER] [--no-hostile] FILE|FOLDER...
// Folders are read one deep; missing ones are said and passed over. A crash, a breach, or an input that takes more than a minute
// ends the program and leaves the input as crash-READER in FOLDER (the working folder). Not linked into libFuzzer's programs.

#include "fuzz/Mutator.h"
#include "fuzz/Target.h"

#include "Watched.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sys/resource.h>
#include <unistd.h>

namespace
{
namespace fs = std::filesystem;
using namespace shutterbeat::fuzz;

constexpr unsigned mostSeconds = 60;            ///< for one input, on a busy machine
constexpr rlim_t mostBytes = rlim_t{ 3 } << 30; ///< of address space
constexpr std::size_t largestMutated = 1 << 16;

/// What the signal handler needs: the input at hand, and where it goes.
const std::string* atHand = nullptr;
std::array<char, 1024> crashPath{};

void writeAll (int fd, const char* bytes, std::size_t size)
{
    while (size > 0)
    {
        const auto put = ::write (fd, bytes, size);
        if (put <= 0)
            return;
        bytes += put;
        size -= static_cast<std::size_t> (put);
    }
}

/// Keeps the input and lets the signal do its work. Only what signal-safety(7) allows.
void keepInput (int signal)
{
    if (atHand != nullptr)
    {
        const int fd = ::open (crashPath.data(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
        if (fd >= 0)
        {
            writeAll (fd, atHand->data(), atHand->size());
            ::close (fd);
        }
        const char* said = signal == SIGALRM ? "took more than a minute; the input is kept in " : "crashed; the input is kept in ";
        writeAll (STDERR_FILENO, said, std::strlen (said));
        writeAll (STDERR_FILENO, crashPath.data(), std::strlen (crashPath.data()));
        writeAll (STDERR_FILENO, "\n", 1);
    }
    std::signal (signal, SIG_DFL);
    ::raise (signal);
}

/// The longest that one input took so far, and its first bytes: for people, never a verdict.
double slowest = 0;
std::string slowestHead;

void feed (const std::string& input)
{
    const auto begun = std::chrono::steady_clock::now();
    atHand = &input;
    ::alarm (mostSeconds);
    LLVMFuzzerTestOneInput (reinterpret_cast<const std::uint8_t*> (input.data()), input.size());
    ::alarm (0);
    atHand = nullptr;
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    if (took.count() > slowest)
    {
        slowest = took.count();
        slowestHead = input.substr (0, 24);
        std::replace_if (
            slowestHead.begin(), slowestHead.end(), [] (char c) { return c < ' ' || c > '~'; }, '.');
    }
}

std::string bytesOf (const fs::path& path)
{
    std::ifstream file (path, std::ios::binary);
    return { std::istreambuf_iterator<char> (file), {} };
}

std::vector<std::string> seedsIn (const std::vector<std::string>& places)
{
    std::vector<fs::path> files;
    for (const auto& place : places)
    {
        std::error_code failed;
        if (fs::is_directory (place, failed))
        {
            for (const auto& entry : fs::directory_iterator (place))
                if (entry.is_regular_file())
                    files.push_back (entry.path());
        }
        else if (fs::is_regular_file (place, failed))
            files.push_back (place);
        else
            std::printf ("%s is not here; passed over\n", place.c_str());
    }
    // The same order on every disk.
    std::sort (files.begin(), files.end());
    std::vector<std::string> seeds;
    for (const auto& file : files)
        seeds.push_back (bytesOf (file));
    return seeds;
}

/// A handler that still runs when the stack is used up.
void watch (const std::string& program, const std::string& folder)
{
    const auto name = fs::path (program).filename().string();
    std::snprintf (crashPath.data(), crashPath.size(), "%s/crash-%s", folder.c_str(), name.substr (name.rfind ('_') + 1).c_str());
    static std::array<char, 1 << 16> stack;
    stack_t other{};
    other.ss_sp = stack.data();
    other.ss_size = stack.size();
    ::sigaltstack (&other, nullptr);
    struct sigaction action
    {
    };
    action.sa_handler = keepInput;
    action.sa_flags = SA_ONSTACK;
    for (const int signal : { SIGSEGV, SIGABRT, SIGFPE, SIGBUS, SIGILL, SIGALRM })
        ::sigaction (signal, &action, nullptr);
    const rlimit room{ mostBytes, mostBytes };
    if (! shutterbeat::tests::memoryIsWatched)
        ::setrlimit (RLIMIT_AS, &room);
}
} // namespace

int main (int count, char** words)
{
    std::uint64_t rounds = 0, seed = 1;
    bool hostile = true;
    std::string keep = ".";
    std::vector<std::string> places;
    for (int i = 1; i < count; ++i)
    {
        const std::string word = words[i];
        if (word == "--rounds" && i + 1 < count)
            rounds = std::strtoull (words[++i], nullptr, 10);
        else if (word == "--seed" && i + 1 < count)
            seed = std::strtoull (words[++i], nullptr, 10);
        else if (word == "--keep" && i + 1 < count)
            keep = words[++i];
        else if (word == "--no-hostile")
            hostile = false;
        else
            places.push_back (word);
    }
    watch (words[0], keep);
    auto seeds = seedsIn (places);
    for (const auto& input : seeds)
        feed (input);
    const auto files = seeds.size();
    if (files == 0)
    {
        std::fprintf (stderr, "no seed was found; name the reader's folder of Tests/corpus\n");
        return 2;
    }
    std::size_t hostiles = 0;
    if (hostile)
        for (const auto& input : hostileInputs())
        {
            feed (input);
            ++hostiles;
        }
    // Seeds that would have to be cut are only replayed; from nothing things are made, too.
    std::erase_if (seeds, [] (const std::string& bytes) { return bytes.size() > largestMutated; });
    seeds.emplace_back();
    Dice dice (seed);
    const auto begun = std::chrono::steady_clock::now();
    for (std::uint64_t i = 0; i < rounds; ++i)
        feed (mutated (seeds, dice, largestMutated));
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    std::printf ("%zu files, %zu hostile inputs, %llu changed ones (seed %llu, %.1f s): no finding; slowest %.1f s, of %s\n", files,
                 hostiles, static_cast<unsigned long long> (rounds), static_cast<unsigned long long> (seed), took.count(), slowest,
                 slowestHead.c_str());
    return 0;
}
