#pragma once

#include "Stage.h"

#include <string>

namespace shutterbeat::demo
{

/// Main and end titles are lettered large with a small line beneath; talking cards are set as a paragraph.
enum class CardLook
{
    title,
    words,
    end
};

/// Photographs an intertitle: a bordered card with centred serif lettering. `\n` in `words` breaks a line.
void drawCard (Stage& stage, CardLook look, const std::string& words);

/// Writes lines flush left from (x, y), for letters and signs within a scene.
void writeText (Ink& ink, const std::string& words, const char* font, double x, double y, double width, double grey);

} // namespace shutterbeat::demo
