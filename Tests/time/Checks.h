#pragma once

#include "Catch.h"

#include <nlohmann/json.hpp>

#include <fstream>
#include <string>

namespace shutterbeat::tests
{
/// The handbook's tables as data; null, with a word on the terminal, where the shared folder is absent. Every test that
/// reads them also holds values of its own.
inline nlohmann::json handbookTables()
{
    const std::string path = testData ("handbook/checks.json");
    std::ifstream file (path);
    if (! file)
    {
        WARN ("the handbook's tables are not there (" << path << "); only the values in the test itself are checked");
        return nullptr;
    }
    return nlohmann::json::parse (file);
}
} // namespace shutterbeat::tests
