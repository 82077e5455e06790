#pragma once

#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// Paths, from the checkout's root, of the files that belong to the project: git's list, or where there is no git every
/// file outside build folders. Sorted.
std::vector<std::string> trackedFiles();

/// A file's bytes; the path is from the checkout's root.
std::string readTracked (const std::string& path);

/// What a command prints, and its exit status (-1 when it could not be started).
struct Ran
{
    std::string output;
    int status = -1;
};
Ran run (const std::string& command);
} // namespace shutterbeat::tests
