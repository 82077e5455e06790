#pragma once

#include "desk/OpenBook.h"
#include "desk/Progress.h"
#include "desk/RecutEdition.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Scans a new print of the film, finds every film frame of an edition in it by the pictures alone, and makes the next
/// edition of it; the old one stays. `name`: what the print is called; empty: its first file's name. `before`: letter of the
/// old edition; empty: the one worked on. Error: as addPrint, fingerprintsOf and editionFrom; an edition without photographed
/// shots.
Result<RecutMade> recut (const OpenBook& open, const std::vector<std::string>& files, const std::string& name,
                         const std::string& before, const Progress& progress = {});
} // namespace shutterbeat::desk
