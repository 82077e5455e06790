#pragma once

// Catch2 2 (Debian 12) and 3 (Debian 13) under one name. System headers, so that our warnings leave them alone.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif

#include "time/Rational.h"

#include <rapidcheck.h>

#include <cstdlib>
#include <string>

namespace shutterbeat::tests
{
/// Folder of the real films, sounds and lists; SHUTTERBEAT_TEST_DATA in the environment wins over the configured one.
inline std::string testData (const std::string& below = "")
{
    const char* set = std::getenv ("SHUTTERBEAT_TEST_DATA");
    return std::string (set != nullptr ? set : SHUTTERBEAT_TEST_DATA) + "/" + below;
}
} // namespace shutterbeat::tests

namespace Catch
{
template <>
struct StringMaker<shutterbeat::time::Rational>
{
    static std::string convert (const shutterbeat::time::Rational& value) { return shutterbeat::time::fractionText (value); }
};
} // namespace Catch

/// A RapidCheck property as a Catch check: holds for every generated case, or the smallest that breaks it is printed.
#define CHECK_PROPERTY(...) CHECK (rc::check (__VA_ARGS__))
