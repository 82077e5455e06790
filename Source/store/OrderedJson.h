#pragma once

#include "film/Unknown.h"

#include <nlohmann/json.hpp>

namespace shutterbeat::store
{
/// Ordered, so that a book reads from the film to the music and the same book is the same bytes.
using OrderedJson = nlohmann::ordered_json;

/// Members of a newer program go back where they were found; those that `object` has by now stay.
void addUnknown (OrderedJson& object, const film::Unknown& unknown);
} // namespace shutterbeat::store
