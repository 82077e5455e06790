#pragma once

#include <memory>
#include <string>
#include <sys/types.h>
#include <vector>

namespace shutterbeat::tests
{
/// An X server of this test's own, so that tests that type and click do not disturb each other, wherever they run.
/// Its end stops the server. The test fails when there is no Xvfb: a window that was never opened proves nothing.
class Screen
{
public:
    explicit Screen (int width = 1280, int height = 800);
    ~Screen();
    Screen (const Screen&) = delete;
    Screen& operator= (const Screen&) = delete;

    /// Events as a hand makes them, through the server, which has taken them in when the call returns.
    void pointerTo (int x, int y);
    void button (bool down);
    /// A key by its X name, such as "Shift_L".
    void key (const char* name, bool down);

private:
    struct Hand;
    pid_t server = -1;
    std::unique_ptr<Hand> hand;
};

/// A program started by a test; its end stops it.
class Program
{
public:
    explicit Program (const std::vector<std::string>& words);
    ~Program();
    Program (const Program&) = delete;
    Program& operator= (const Program&) = delete;
    [[nodiscard]] bool running();

private:
    pid_t process = -1;
};

/// Runs a shell command and gives what it printed, without the last line end.
std::string output (const std::string& command);

/// Tries every 50 ms until it holds, at most this long.
template <class Condition>
bool eventually (Condition holds, int milliseconds = 10000);

void waitFor (int milliseconds);

template <class Condition>
bool eventually (Condition holds, int milliseconds)
{
    for (int waited = 0; waited < milliseconds; waited += 50)
    {
        if (holds())
            return true;
        waitFor (50);
    }
    return holds();
}
} // namespace shutterbeat::tests
