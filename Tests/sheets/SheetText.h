#pragma once

#include "sheets/Poppler.h"

#include "sheets/Picture.h"
#include "sheets/Sheet.h"

#include "film/Timings.h"

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::tests
{
/// A grey picture for every place that has one, another grey for each shot.
inline std::shared_ptr<const sheets::SheetPicture> greyPicture (const film::Position& position)
{
    if (position.where != film::Position::Where::picture)
        return nullptr;
    return std::make_shared<const sheets::SheetPicture> (sheets::SheetPicture{
        208, 156, true, std::vector<std::uint8_t> (208 * 156, static_cast<std::uint8_t> (60 + position.shot * 10)) });
}

/// The words of a sheet, laid out as on the page.
inline std::string textOf (const Result<sheets::Sheet>& sheet)
{
    REQUIRE (sheet.ok());
    return poppler ("pdftotext -layout", sheet->pdf, "-");
}

inline bool has (const std::string& text, const std::string& part)
{
    return text.find (part) != std::string::npos;
}

inline void holds (const std::string& text, const std::vector<std::string>& parts)
{
    for (const auto& part : parts)
    {
        INFO (part);
        CHECK (has (text, part));
    }
}
} // namespace shutterbeat::tests
