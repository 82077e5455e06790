#include "window/ThreadRunner.h"

namespace shutterbeat::window
{
ThreadRunner::~ThreadRunner()
{
    *alive = false;
    for (auto& running : threads)
        running.thread.join();
}

void ThreadRunner::run (std::function<void()> work, std::function<void()> then)
{
    for (auto& running : threads)
        if (*running.done)
            running.thread.join();
    std::erase_if (threads, [] (const Running& running) { return ! running.thread.joinable(); });
    const auto done = std::make_shared<std::atomic<bool>> (false);
    threads.push_back ({ std::thread (
                             [this, done, work = std::move (work), then = std::move (then)]
                             {
                                 work();
                                 post (then);
                                 *done = true;
                             }),
                         done });
}

void ThreadRunner::post (std::function<void()> call)
{
    juce::MessageManager::callAsync (
        [still = std::weak_ptr<bool> (alive), call = std::move (call)]
        {
            if (const auto there = still.lock(); there && *there)
                call();
        });
}
} // namespace shutterbeat::window
