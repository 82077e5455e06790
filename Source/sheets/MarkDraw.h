#pragma once

#include "sheets/Dye.h"
#include "spotting/MarkShapes.h"

#include <cairo.h>

namespace shutterbeat::sheets
{
/// Draws the mark of a hit in the square at (x, y) of `size` points: shape by kind, fill by weight, a dot of `dot` dye
/// above it for an open question.
void drawMark (cairo_t* cairo, spotting::HitKind kind, spotting::Weight weight, bool open, double x, double y, double size,
               const Dye& ink = black, const Dye& dot = night);
} // namespace shutterbeat::sheets
