#pragma once

#include <atomic>
#include <string>

namespace shutterbeat::window
{
/// Work that goes on in the background.
struct Job
{
    std::string what;
    std::atomic<double> fraction{ 0 };
    std::atomic<bool> cancelled{ false };
};
} // namespace shutterbeat::window
