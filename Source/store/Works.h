#pragma once

#include "spotting/Book.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::store
{
class Members;

/// Reads "works", "work_uses", "usage_codes" and "production" of a book into it; faults go to `book`'s failure.
void readWorks (Members& book, spotting::Book& into);
/// Adds them to the JSON of a book; what is empty is left out.
void addWorks (nlohmann::ordered_json& json, const spotting::Book& book);
} // namespace shutterbeat::store
