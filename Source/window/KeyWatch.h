#pragma once

#include <cstdint>
#include <memory>
#include <optional>

namespace shutterbeat::window
{
/// Knows when letter keys and the space bar really went down. The window learns of a key only when it gets round to it; this
/// listens to the X server on a thread of its own and notes the moment on the machine's steady clock. The window is also told of a
/// key that is held as of one that goes up and down many times a second; here it goes down once.
class KeyWatch
{
public:
    KeyWatch();
    ~KeyWatch();
    KeyWatch (const KeyWatch&) = delete;
    KeyWatch& operator= (const KeyWatch&) = delete;

    /// Listens to the keys of this X window from now on; 0: to none. False when the display can't be reached or can't tell a key
    /// that is held from one that is pressed again.
    bool watch (unsigned long window);
    /// When this letter (a to z, or a space) went down, nanoseconds of the steady clock: the oldest press that was not asked for
    /// yet. None when nothing is known of it; the moment of asking is then the best there is.
    std::optional<std::int64_t> takePress (char letter);
    /// Whether this letter went down and has not gone up since, as far as is known.
    [[nodiscard]] bool isDown (char letter) const;
    /// To be called at every tick of the window: presses that no key event came for (they were typed into a field) go after
    /// a few ticks.
    void tick();

private:
    struct State;
    std::unique_ptr<State> state;
};
} // namespace shutterbeat::window
