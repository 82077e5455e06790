#pragma once

#include "desk/OpenBook.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// Films found again in a folder.
struct FoundFilms
{
    std::vector<film::Print> prints;  ///< of the book, with the files found
    std::vector<std::string> found;   ///< their paths
    std::vector<std::string> missing; ///< paths, as the book has them, of those that are not in the folder
    std::vector<std::string> notes;   ///< files of the right name that are another film, and why
};

/// Looks through a folder and all folders in it for the missing films: by name first, then by what is in the file whatever it is
/// called. Links to folders are not followed. Error: not a folder that can be read, cancelled.
Result<FoundFilms> findFilms (const OpenBook& open, const std::vector<MissingFilm>& missing, const std::string& folder,
                              const Progress& progress = {});
} // namespace shutterbeat::desk
