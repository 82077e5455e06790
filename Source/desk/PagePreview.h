#pragma once

#include "desk/Export.h"
#include "media/Picture.h"

#include <string>
#include <vector>

namespace shutterbeat::desk
{
/// A sheet's pages as pictures, to be looked at before it is made: `width` pixels wide each, as many as `most`.
struct PagePreview
{
    std::vector<media::Picture> pages;
    int count = 0;                  ///< pages of the whole sheet
    std::vector<std::string> notes; ///< what the user should know about the sheet
};

/// Error: a format that is no PDF; as exportBook; a page that can't be drawn.
Result<PagePreview> previewPages (const OpenBook& open, const std::string& format, const ExportWish& wish, int width, int most,
                                  const Progress& progress = {});
} // namespace shutterbeat::desk
