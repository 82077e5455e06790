#pragma once

#include "film/Print.h"

#include <string>

namespace shutterbeat::desk
{
/// A film's path as a book keeps it: relative to the book's folder when both share a folder above the root, so that the
/// two can be moved together; else absolute.
std::string pathForBook (const std::string& bookPath, const std::string& filmPath);

/// The path to open for one that a book keeps.
std::string pathFromBook (const std::string& bookPath, const std::string& keptPath);

/// Only how many pictures the reel has is known yet: a list named them, and no file has come.
inline bool isToCome (const film::ReelFile& reel)
{
    return reel.path.empty();
}
} // namespace shutterbeat::desk
