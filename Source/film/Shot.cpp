#include "film/Shot.h"

#include <array>

namespace shutterbeat::film
{
namespace
{
constexpr std::array<std::string_view, 3> kindNames{ "shot", "card", "black" };
} // namespace

std::string_view shotKindName (ShotKind kind)
{
    return kindNames[static_cast<std::size_t> (kind)];
}

std::optional<ShotKind> shotKindNamed (std::string_view name)
{
    for (std::size_t i = 0; i < kindNames.size(); ++i)
        if (kindNames[i] == name)
            return static_cast<ShotKind> (i);
    return {};
}
} // namespace shutterbeat::film
