#pragma once

#include <nlohmann/json.hpp>

#include <string>

namespace shutterbeat::exchange
{
/// A member that is a text; "" where it is missing or anything else.
inline std::string textOf (const nlohmann::json& object, const char* member)
{
    const auto found = object.find (member);
    return found != object.end() && found->is_string() ? found->get<std::string>() : "";
}
} // namespace shutterbeat::exchange
