#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Gives out `count` new ids of a person, who becomes a person of the book when new. Nothing is given out for none.
/// Error: a person that is empty or holds anything but letters, digits and underscores.
Result<std::vector<std::string>> takeIds (Book& book, const std::string& person, std::size_t count);
} // namespace shutterbeat::spotting
