#pragma once

#include <map>
#include <string>

namespace shutterbeat::film
{
/// Members of a book file that this version does not know, by name, each kept word for word so that a newer program
/// finds them again.
using Unknown = std::map<std::string, std::string>;
} // namespace shutterbeat::film
