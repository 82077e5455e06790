#include "window/KeyWatch.h"

#include <X11/XKBlib.h>
#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <X11/keysym.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <deque>
#include <mutex>
#include <poll.h>
#include <set>
#include <thread>
#include <unistd.h>

namespace shutterbeat::window
{
namespace
{
constexpr int ticksKept = 6; // an event that reached us has reached the window within a few of its ticks
// Keysyms of Latin letters are their codes.
constexpr KeySym firstLetter = 'a', lastLetter = 'z';

std::int64_t steadyNow()
{
    return std::chrono::duration_cast<std::chrono::nanoseconds> (std::chrono::steady_clock::now().time_since_epoch()).count();
}
} // namespace

struct KeyWatch::State
{
    struct Press
    {
        char letter = 0;
        std::int64_t at = 0;
        int age = 0;
    };

    ~State() { stop(); }

    void stop()
    {
        if (thread.joinable())
        {
            const char end = 'x';
            if (::write (wake[1], &end, 1) == 1)
                thread.join();
            else
                thread.detach();
        }
        if (display != nullptr)
            XCloseDisplay (display);
        display = nullptr;
        for (int& handle : wake)
        {
            if (handle >= 0)
                ::close (handle);
            handle = -1;
        }
        const std::lock_guard lock (mutex);
        presses.clear();
        down.clear();
    }

    void run()
    {
        pollfd sources[] = { { ConnectionNumber (display), POLLIN, 0 }, { wake[0], POLLIN, 0 } };
        while (true)
        {
            while (XPending (display) > 0)
            {
                XEvent event;
                XNextEvent (display, &event);
                const auto at = steadyNow();
                if (event.type == FocusOut)
                {
                    // The keys may go up where we are not told.
                    const std::lock_guard lock (mutex);
                    down.clear();
                }
                if (event.type != KeyPress && event.type != KeyRelease)
                    continue;
                const KeySym sym = XLookupKeysym (&event.xkey, 0);
                if ((sym < firstLetter || sym > lastLetter) && sym != XK_space)
                    continue;
                const auto letter = static_cast<char> (sym);
                const std::lock_guard lock (mutex);
                if (event.type == KeyRelease)
                    down.erase (letter);
                else if (down.insert (letter).second)
                    presses.push_back ({ letter, at, 0 });
            }
            if (::poll (sources, 2, -1) < 0 && errno != EINTR)
                return;
            if ((sources[1].revents & POLLIN) != 0 || (sources[0].revents & (POLLHUP | POLLERR)) != 0)
                return;
        }
    }

    Display* display = nullptr;
    int wake[2] = { -1, -1 };
    std::thread thread;
    std::mutex mutex;
    std::deque<Press> presses; ///< guarded by mutex
    std::set<char> down;       ///< guarded by mutex
};

KeyWatch::KeyWatch()
    : state (std::make_unique<State>())
{
}

KeyWatch::~KeyWatch() = default;

bool KeyWatch::watch (unsigned long window)
{
    state->stop();
    if (window == 0)
        return true;
    // A connection of our own: the window's own one is read by the window's thread alone.
    state->display = XOpenDisplay (nullptr);
    if (state->display == nullptr || ::pipe (state->wake) != 0)
        return false;
    Bool once = False;
    XkbSetDetectableAutoRepeat (state->display, True, &once);
    if (! once)
        return false;
    XSelectInput (state->display, window, KeyPressMask | KeyReleaseMask | FocusChangeMask);
    XFlush (state->display);
    state->thread = std::thread ([this] { state->run(); });
    return true;
}

std::optional<std::int64_t> KeyWatch::takePress (char letter)
{
    const std::lock_guard lock (state->mutex);
    const auto found = std::find_if (state->presses.begin(), state->presses.end(),
                                     [&] (const State::Press& press) { return press.letter == letter; });
    if (found == state->presses.end())
        return {};
    const auto at = found->at;
    state->presses.erase (found);
    return at;
}

bool KeyWatch::isDown (char letter) const
{
    const std::lock_guard lock (state->mutex);
    return state->down.contains (letter);
}

void KeyWatch::tick()
{
    const std::lock_guard lock (state->mutex);
    for (auto& press : state->presses)
        ++press.age;
    while (! state->presses.empty() && state->presses.front().age > ticksKept)
        state->presses.pop_front();
}
} // namespace shutterbeat::window
