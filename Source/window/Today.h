#pragma once

#include <string>

namespace shutterbeat::window
{
/// Today where this machine stands, as it is printed on sheets: "2026-05-01".
std::string today();
} // namespace shutterbeat::window
