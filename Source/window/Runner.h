#pragma once

#include <functional>

namespace shutterbeat::window
{
/// Runs long work away from the window's thread. Tests run it at once.
class Runner
{
public:
    virtual ~Runner() = default;

    /// `work` runs elsewhere; `then` afterwards on the window's thread, unless the runner has gone by then.
    virtual void run (std::function<void()> work, std::function<void()> then) = 0;
    /// Runs on the window's thread soon; may be called from any thread.
    virtual void post (std::function<void()> call) = 0;
};
} // namespace shutterbeat::window
