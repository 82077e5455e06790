#pragma once

#include "spotting/Book.h"

#include <string>

namespace shutterbeat::window
{
/// What the lists of hits and cues are narrowed to.
struct ListFilter
{
    std::string words; ///< every one of them stands somewhere in what the row is about; empty: all
    bool mustOnly = false, openOnly = false;

    [[nodiscard]] bool narrows() const { return ! words.empty() || mustOnly || openOnly; }
    [[nodiscard]] bool lets (const spotting::HitPoint& hit, const spotting::Book& book) const;
    [[nodiscard]] bool lets (const spotting::Cue& cue) const;
};
} // namespace shutterbeat::window
