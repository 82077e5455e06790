#include "Screen.h"

#include "Catch.h"

#include <chrono>
#include <csignal>
#include <cstdio>
#include <fcntl.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include <X11/extensions/XTest.h>
#include <X11/keysym.h>

namespace shutterbeat::tests
{
namespace
{
void stop (pid_t process)
{
    if (process <= 0)
        return;
    ::kill (process, SIGTERM);
    for (int i = 0; i < 100; ++i)
    {
        if (::waitpid (process, nullptr, WNOHANG) != 0)
            return;
        waitFor (20);
    }
    ::kill (process, SIGKILL);
    ::waitpid (process, nullptr, 0);
}
} // namespace

void waitFor (int milliseconds)
{
    std::this_thread::sleep_for (std::chrono::milliseconds (milliseconds));
}

/// The connection that moves the pointer and presses; its own, beside the window's.
struct Screen::Hand
{
    explicit Hand (const std::string& name)
        : display (::XOpenDisplay (name.c_str()))
    {
        REQUIRE (display != nullptr);
    }
    ~Hand() { ::XCloseDisplay (display); }
    Hand (const Hand&) = delete;
    Hand& operator= (const Hand&) = delete;
    Display* display;
};

Screen::Screen (int width, int height)
{
    int ends[2];
    REQUIRE (::pipe (ends) == 0);
    const std::string size = std::to_string (width) + "x" + std::to_string (height) + "x24";
    server = ::fork();
    if (server == 0)
    {
        ::close (ends[0]);
        const std::string fd = std::to_string (ends[1]);
        const int nowhere = ::open ("/dev/null", O_WRONLY);
        ::dup2 (nowhere, 2);
        ::execlp ("Xvfb", "Xvfb", "-displayfd", fd.c_str(), "-screen", "0", size.c_str(), "-nolisten", "tcp", nullptr);
        ::_exit (127);
    }
    ::close (ends[1]);
    // The number comes in pieces and ends with its line.
    std::string display = ":";
    char piece = 0;
    while (::read (ends[0], &piece, 1) == 1 && piece != '\n')
        display += piece;
    ::close (ends[0]);
    INFO ("the window's tests need Xvfb; install xvfb");
    REQUIRE (display.size() > 1);
    ::setenv ("DISPLAY", display.c_str(), 1);
    hand = std::make_unique<Hand> (display);
}

void Screen::pointerTo (int x, int y)
{
    ::XTestFakeMotionEvent (hand->display, -1, x, y, CurrentTime);
    ::XSync (hand->display, False);
}

void Screen::button (bool down)
{
    ::XTestFakeButtonEvent (hand->display, 1, down ? True : False, CurrentTime);
    ::XSync (hand->display, False);
}

void Screen::key (const char* name, bool down)
{
    const auto code = ::XKeysymToKeycode (hand->display, ::XStringToKeysym (name));
    REQUIRE (code != 0);
    ::XTestFakeKeyEvent (hand->display, code, down ? True : False, CurrentTime);
    ::XSync (hand->display, False);
}

Screen::~Screen()
{
    hand.reset();
    stop (server);
}

Program::Program (const std::vector<std::string>& words)
{
    std::vector<char*> list;
    for (const auto& word : words)
        list.push_back (const_cast<char*> (word.c_str()));
    list.push_back (nullptr);
    process = ::fork();
    if (process == 0)
    {
        ::execvp (list[0], list.data());
        ::_exit (127);
    }
    REQUIRE (process > 0);
}

Program::~Program()
{
    stop (process);
}

bool Program::running()
{
    if (process > 0 && ::waitpid (process, nullptr, WNOHANG) != 0)
        process = -1;
    return process > 0;
}

std::string output (const std::string& command)
{
    std::string all;
    if (FILE* pipe = ::popen (command.c_str(), "r"))
    {
        char block[512];
        while (const auto got = std::fread (block, 1, sizeof block, pipe))
            all.append (block, got);
        ::pclose (pipe);
    }
    while (! all.empty() && all.back() == '\n')
        all.pop_back();
    return all;
}
} // namespace shutterbeat::tests
