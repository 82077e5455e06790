#pragma once

// Catch2 2 (Debian 12) and 3 (Debian 13) under one name. System headers, so that our warnings leave them alone.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
