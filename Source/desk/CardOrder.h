#pragma once

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// For each wording of `other` the one of `own` that says about the same, both in film order and each used once at most; a
/// wording that is like none gets nothing.
std::vector<std::optional<std::size_t>> laidBeside (const std::vector<std::string>& own, const std::vector<std::string>& other);
} // namespace shutterbeat::desk
