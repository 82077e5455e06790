#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::desk
{
/// Adds a line to `log` in the state folder, with the time (UTC) and the process before it. Callers give words of the program,
/// never of the user: no titles, labels or paths. A log that would pass 256 KiB becomes log.1, and that log.2; no more are kept.
/// A folder that can't be written is no fault: nothing is logged.
void log (std::string_view event);

/// A command and how it ended, for log(): "times, status 0, 120 ms". Only the first word, the command itself, unless the user
/// asks for all of them by SHUTTERBEAT_LOG_WORDS=1 in the environment.
std::string loggedCommand (const std::vector<std::string>& words, int status, double seconds);
} // namespace shutterbeat::desk
