#pragma once

#include <string>

namespace shutterbeat::desk
{
/// Where the log and the notes of crashes lie: $XDG_STATE_HOME/shutterbeat, else ~/.local/state/shutterbeat (XDG Base Directory
/// Specification). Empty when there is no such folder to be had; then nothing is kept. It is not made by asking.
std::string stateFolder();
} // namespace shutterbeat::desk
