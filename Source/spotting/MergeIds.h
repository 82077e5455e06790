#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Theirs with new ids (and letters of editions) for what mine gave the same since `base` to something else, everywhere they are
/// named. Says each in `notes`.
Book apartFrom (const Book& base, const Book& mine, Book theirs, std::vector<std::string>& notes);
} // namespace shutterbeat::spotting
