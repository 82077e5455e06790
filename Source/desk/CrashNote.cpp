#include "desk/CrashNote.h"

#include "desk/StateFolder.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <csignal>
#include <cstring>
#include <ctime>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <unistd.h>

namespace shutterbeat::desk
{
namespace
{
namespace fs = std::filesystem;

// All that the handler needs lies ready, because it may allocate nothing (signal-safety(7)).
std::array<char, 4096> notePath{};
struct Autosave
{
    std::array<char, 4096> path{};
};
/// Two places in turn, so that a crash while one is being written reads the other.
std::array<Autosave, 2> autosaves;
std::atomic<int> named{ 0 };

void put (int file, const char* text)
{
    for (std::size_t left = std::strlen (text); left > 0;)
    {
        const auto written = ::write (file, text, left);
        if (written <= 0)
            return;
        text += written;
        left -= static_cast<std::size_t> (written);
    }
}

void putNumber (int file, long number)
{
    std::array<char, 24> digits{};
    std::size_t at = digits.size() - 1;
    do
    {
        digits[--at] = static_cast<char> ('0' + number % 10);
        number /= 10;
    } while (number > 0 && at > 0);
    put (file, digits.data() + at);
}

extern "C" void writeNote (int signal)
{
    const int file = ::open (notePath.data(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (file >= 0)
    {
        put (file, "Shutterbeat was stopped by signal ");
        putNumber (file, signal);
        put (file, ", ");
        putNumber (file, static_cast<long> (::time (nullptr)));
        put (file, " seconds after 1970 (UTC).\n");
        const auto& autosave = autosaves[static_cast<std::size_t> (named.load())];
        if (autosave.path[0] != '\0')
        {
            put (file, "What was not saved is in the autosave: ");
            put (file, autosave.path.data());
            put (file, "\n");
        }
        else
            put (file, "There was no autosave; the book on disk is whole, as it was last saved.\n");
        ::close (file);
    }
    ::signal (signal, SIG_DFL);
    ::raise (signal);
}
} // namespace

void leaveNoteOnCrash()
{
    const auto folder = stateFolder();
    std::error_code failed;
    if (folder.empty() || (fs::create_directories (folder, failed), failed))
        return;
    const auto path = folder + "/crash.txt";
    if (path.size() >= notePath.size())
        return;
    std::memcpy (notePath.data(), path.c_str(), path.size() + 1);
    // A stack of its own: a stack that ran over is one of the crashes.
    static std::array<char, 1 << 16> stack;
    stack_t other{};
    other.ss_sp = stack.data();
    other.ss_size = stack.size();
    ::sigaltstack (&other, nullptr);
    struct sigaction action
    {
    };
    action.sa_handler = writeNote;
    action.sa_flags = SA_ONSTACK;
    for (const int signal : { SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT })
        ::sigaction (signal, &action, nullptr);
}

void nameAutosave (const std::string& path)
{
    const int other = 1 - named.load();
    auto& autosave = autosaves[static_cast<std::size_t> (other)];
    const auto length = std::min<std::size_t> (path.size(), 4000);
    std::memcpy (autosave.path.data(), path.data(), length);
    autosave.path[length] = '\0';
    named = other;
}

std::optional<std::string> takeCrashNote()
{
    const auto path = stateFolder() + "/crash.txt";
    std::ifstream file (path, std::ios::binary);
    if (! file)
        return {};
    std::string text{ std::istreambuf_iterator<char> (file), {} };
    std::error_code ignored;
    fs::remove (path, ignored);
    return text.empty() ? std::nullopt : std::optional (std::move (text));
}
} // namespace shutterbeat::desk
