#pragma once

#include "desk/Progress.h"
#include "desk/ScanFilm.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Writes a contact sheet of a scanned film: FILE.pdf pages for print, FILE.png one tall picture; a picture from the middle
/// of every shot with its number, kind, first file frame and length. Answers notes for the user. Error: another ending, a
/// film that can't be read, cannotWrite, cancelled.
Result<std::vector<std::string>> writeContactSheet (const ScannedFilm& scanned, const std::string& path,
                                                    const Progress& progress = {});
} // namespace shutterbeat::desk
