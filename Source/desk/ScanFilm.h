#pragma once

#include "desk/Progress.h"
#include "media/FilmFile.h"
#include "scan/Measures.h"
#include "scan/ScanResult.h"

#include <optional>
#include <string>

namespace shutterbeat::desk
{
/// A film file that was opened and looked through once: what shots are made from, for any threshold, with scan::shots.
struct MeasuredFilm
{
    media::FilmInfo film;
    scan::Measures measures;
    bool before = false; ///< it had been looked through earlier, and what was measured then was kept
};

/// Opens a file and measures its pictures in one pass, or takes what an earlier pass measured. Error: as media::openFilm;
/// cancelled.
Result<MeasuredFilm> measureFilm (const std::string& path, const Progress& progress = {});

/// A film file with its shots.
struct ScannedFilm
{
    media::FilmInfo film;
    scan::ScanResult scan;
};

/// Measures one file and makes shots of it. Error: as measureFilm. `threshold` 0 to 1: how strong a change must be to end a
/// shot; none: the usual one. Another threshold needs no second pass.
Result<ScannedFilm> scanFilm (const std::string& path, const Progress& progress = {}, std::optional<double> threshold = {});
} // namespace shutterbeat::desk
