#include "desk/StateFolder.h"

#include <cstdlib>

namespace shutterbeat::desk
{
std::string stateFolder()
{
    // A relative one is to be ignored, says the specification.
    const char* state = std::getenv ("XDG_STATE_HOME");
    if (state != nullptr && state[0] == '/')
        return std::string (state) + "/shutterbeat";
    const char* home = std::getenv ("HOME");
    return home != nullptr && home[0] == '/' ? std::string (home) + "/.local/state/shutterbeat" : std::string();
}
} // namespace shutterbeat::desk
