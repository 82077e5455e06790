#pragma once

#include "sheets/Sheet.h"

#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::sheets
{
/// Keys that belong together, as they are printed below one heading: what is done, and the key that does it.
struct KeyGroup
{
    std::string name;
    std::vector<std::pair<std::string, std::string>> rows; ///< "Place a hit here", "H"
};

/// All keys of the window on as few pages as they need, in two columns, to lie beside the keyboard. Actions without a key are left
/// out. Error: Cairo could not write.
Result<Sheet> keySheet (const std::vector<KeyGroup>& groups, Paper paper);
} // namespace shutterbeat::sheets
