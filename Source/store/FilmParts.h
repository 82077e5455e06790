#pragma once

#include "film/Edition.h"
#include "film/Print.h"

namespace shutterbeat::store
{
class Members;

/// Reads an entry of the book's member "prints".
film::Print readPrint (Members& m);

/// Reads an entry of the book's member "editions".
film::Edition readEdition (Members& m);
} // namespace shutterbeat::store
