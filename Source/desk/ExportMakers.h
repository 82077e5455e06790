#pragma once

#include "desk/Export.h"
#include "desk/ExportPictures.h"
#include "exchange/Written.h"

#include <functional>

namespace shutterbeat::desk
{
/// What a format's writer works from.
struct ExportJob
{
    const OpenBook& open;
    const spotting::BookTimes& times;
    const ExportWish& wish;
    const ExportPictures& pictures;
    const Progress& progress;
};

/// A format and its writer: bytes that are then saved, or (for large ones) files of its own making.
struct ExportMaker
{
    Format format;
    std::function<Result<exchange::Written> (const ExportJob&)> write;
    PicturesOf pictures = PicturesOf::none;
    std::function<Result<Exported> (const ExportJob&, const std::string& path)> writeFile = {};
};

/// All of them, in the order they are offered. To add a format: one entry here.
const std::vector<ExportMaker>& exportMakers();
} // namespace shutterbeat::desk
