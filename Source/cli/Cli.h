#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace shutterbeat::cli
{
/// Exit status of the headless program.
enum Status
{
    done = 0,
    found = 1, ///< a check found something, a decision is open, or the work was stopped
    wrongUsage = 2,
    unreadableInput = 3,
    notWritten = 4
};

/// Runs one command line (without the program's name). Results go to `out`, messages and progress to `err`.
int run (const std::vector<std::string>& words, std::ostream& out, std::ostream& err);

/// Asks a running command to stop; safe in a signal handler.
void stop();
} // namespace shutterbeat::cli
