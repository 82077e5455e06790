#pragma once

#include <chrono>
#include <functional>
#include <string>
#include <utility>

/// What every benchmark of this folder shares. A benchmark is a program of its own named shutterbeat_bench_<something>; it
/// prints one line for each figure with report(), and Tests/bench/run makes one table of them all.
namespace shutterbeat::bench
{
/// Prints one row: what was measured, the figure, the most it should be, how it came about. A ratio wherever there is
/// something to measure against on the same machine in the same run; else `unit` says what it is in.
void report (const std::string& what, double figure, double aim, const std::string& how, const std::string& unit = "");

/// Seconds that `work` takes.
double seconds (const std::function<void()>& work);
/// The least of `rounds` measurements: what a machine that is busy with other things disturbs least.
double best (int rounds, const std::function<void()>& work);

/// Runs a shell command; the program ends with status 2 and names it when it fails.
void shell (const std::string& command);

/// A folder for generated films, gone at the end of the program. The index cache is put there too, out of the user's way.
std::string scratch();

/// Ends the program with status 2 and says why.
[[noreturn]] void giveUp (const std::string& why);

/// Ends the program with status 2 when a Result is an Error, else gives its value.
template <class R>
auto must (R result)
{
    if (! result)
        giveUp (result.error().text());
    return std::move (result.value());
}
} // namespace shutterbeat::bench
