#pragma once

#include "window/Runner.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <atomic>
#include <memory>
#include <thread>
#include <vector>

namespace shutterbeat::window
{
/// Runs work on threads, and what follows on the message thread. Its end waits for work that still runs, so whoever owns
/// it cancels that first; what should have followed is then left out.
class ThreadRunner final : public Runner
{
public:
    ~ThreadRunner() override;
    void run (std::function<void()> work, std::function<void()> then) override;
    void post (std::function<void()> call) override;

private:
    std::shared_ptr<bool> alive = std::make_shared<bool> (true); ///< read and written on the message thread only
    struct Running
    {
        std::thread thread;
        std::shared_ptr<std::atomic<bool>> done;
    };
    std::vector<Running> threads; ///< those that are done go when the next begins
};
} // namespace shutterbeat::window
