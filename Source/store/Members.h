#pragma once

#include "film/Unknown.h"
#include "time/Rational.h"

#include <nlohmann/json.hpp>

#include <optional>
#include <set>
#include <string>

namespace shutterbeat::store
{
using Json = nlohmann::json;

/// Reads members of one JSON object; the first thing that does not fit becomes the error and later reads do nothing.
class Members
{
public:
    Members (const Json& json, std::string path, std::optional<Error>& failure)
        : object (json)
        , at (std::move (path))
        , failed (failure)
    {
        if (! object.is_object())
            fail ("", "has to be an object");
    }

    void fail (const std::string& member, const std::string& why)
    {
        if (! failed)
            failed = unreadable (member.empty() ? at : (at.empty() ? member : at + "." + member), why);
    }

    const Json* find (const char* member, bool required)
    {
        known.insert (member);
        if (! object.is_object())
            return nullptr;
        const auto found = object.find (member);
        if (found == object.end())
        {
            if (required)
                fail (member, "is missing");
            return nullptr;
        }
        return &*found;
    }

    std::string text (const char* member, bool required = false)
    {
        const auto* json = find (member, required);
        if (json == nullptr)
            return "";
        if (! json->is_string())
        {
            fail (member, "has to be text");
            return "";
        }
        return json->get<std::string>();
    }

    std::int64_t whole (const char* member, bool required = false, std::int64_t otherwise = 0)
    {
        const auto* json = find (member, required);
        if (json == nullptr)
            return otherwise;
        const bool fits = json->is_number_integer() && (! json->is_number_unsigned() || json->get<std::uint64_t>() < (1ull << 53));
        if (! fits)
        {
            fail (member, "has to be a whole number");
            return otherwise;
        }
        return json->get<std::int64_t>();
    }

    int small (const char* member, int otherwise = 0)
    {
        const auto value = whole (member, false, otherwise);
        if (value < 0 || value > 1'000'000'000)
        {
            fail (member, "has to be a whole number from 0 to 1000000000");
            return otherwise;
        }
        return static_cast<int> (value);
    }

    bool flag (const char* member)
    {
        const auto* json = find (member, false);
        if (json == nullptr)
            return false;
        if (! json->is_boolean())
            fail (member, "has to be true or false");
        return json->is_boolean() && json->get<bool>();
    }

    /// A fraction as text, "n/d".
    std::optional<time::Rational> fraction (const char* member, bool required = false)
    {
        const auto* json = find (member, required);
        if (json == nullptr)
            return {};
        if (json->is_string())
            if (const auto value = time::parseRational (json->get<std::string>()); value && value->valid())
                return *value;
        fail (member, "has to be a fraction as text, such as \"200/11\"");
        return {};
    }

    /// Text that `parse` understands; its complaint becomes the error.
    template <class T>
    T named (const char* member, Result<T> (*parse) (std::string_view), T otherwise)
    {
        const auto* json = find (member, false);
        if (json == nullptr)
            return otherwise;
        if (! json->is_string())
        {
            fail (member, "has to be text");
            return otherwise;
        }
        auto value = parse (json->get<std::string>());
        if (! value)
        {
            fail (member, value.error().text());
            return otherwise;
        }
        return *value;
    }

    template <class Each>
    void array (const char* member, bool required, Each each)
    {
        const auto* json = find (member, required);
        if (json == nullptr)
            return;
        if (! json->is_array())
        {
            fail (member, "has to be a list");
            return;
        }
        const std::string name = (at.empty() ? "" : at + ".") + member;
        for (std::size_t i = 0; i < json->size() && ! failed; ++i)
        {
            Members inner ((*json)[i], name + "[" + std::to_string (i) + "]", failed);
            each (inner);
        }
    }

    /// What this version does not know, word for word.
    [[nodiscard]] film::Unknown unknown() const
    {
        film::Unknown rest;
        if (object.is_object())
            for (const auto& [name, value] : object.items())
                if (known.count (name) == 0)
                    rest[name] = value.dump (-1, ' ', false, Json::error_handler_t::replace);
        return rest;
    }

    const Json& json() const { return object; }
    [[nodiscard]] const std::string& path() const { return at; }
    std::optional<Error>& failure() { return failed; }

private:
    const Json& object;
    std::string at;
    std::optional<Error>& failed;
    std::set<std::string> known;
};
} // namespace shutterbeat::store
