#pragma once

#include "desk/KeySheet.h"
#include "window/Bench.h"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace shutterbeat::window
{
/// One thing the window can do. Menus, keys, buttons and tests all go through this table.
struct Action
{
    std::string id;   ///< "hit.tap"
    std::string menu; ///< "Hit"
    std::string name; ///< "Place a hit here"
    std::string key;  ///< "H", "Ctrl+Shift+Z"; empty where none
    std::function<void (Bench&)> act;
    std::function<bool (const Bench&)> possible;       ///< empty: always
    std::function<bool (const Bench&)> ticked;         ///< empty: no tick
    std::function<std::string (const Bench&)> nameNow; ///< empty: name
};

/// Whether a film is open: what most actions need.
bool withFilm (const Bench& bench);

/// Every action, in the order menus show them. A menu's groups are parted where `id` changes its second word's group.
const std::vector<Action>& actions();
/// The action of that id; one must exist.
const Action& actionNamed (std::string_view id);
/// Menus in the order they stand.
const std::vector<std::string>& menuNames();

/// The keys by menu, as they are printed.
std::vector<desk::KeyGroup> keyGroups();

/// Does it when it is possible; false when not.
bool perform (Bench& bench, const Action& action);
} // namespace shutterbeat::window
