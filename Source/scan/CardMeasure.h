#pragma once

#include "film/GreyPicture.h"

#include <array>
#include <cstddef>
#include <optional>

namespace shutterbeat::scan
{
/// What tells writing on a plain ground from a scene. "Ink" is what stands out from the ground by more than half of the
/// strongest contrast, on the lighter side (or, on a sheet, on the darker).
enum CardFeature : std::size_t
{
    inkContrast,  ///< from the ground to the strongest ink, of 255
    inkShare,     ///< ink of the whole
    tallestBand,  ///< longest run of rows with ink, of the height: lines of writing are low
    thickShare,   ///< ink that survives erosion by 5 x 5: strokes are thin
    crossings,    ///< ink edges in a row with ink, of 20
    midShare,     ///< neither ground nor ink
    borderInk,    ///< ink of the outer twelfth
    groundNoise,  ///< deviation of the ground from its own level, of the contrast
    centreOffset, ///< the middle of the ink from the middle of the picture, sideways, of the width
    groundShare,  ///< ground of the whole
    otherSide,    ///< what is beyond the ground on the other side
    inkEvenness,  ///< how alike in level the ink is: deviation, of the contrast
    tallestPiece, ///< the tallest connected piece of ink, of the height; frames, rules and scratches left out
    largestPiece, ///< the largest, of the ink
    pieceCount,   ///< log of their number, of 5
    inLines,      ///< share of ink that stands in pieces much wider than high: lines of writing
    cardFeatureCount
};
using CardFeatures = std::array<float, cardFeatureCount>;

/// Light writing on the whole picture (which must be at least 64 x 48). Nothing: no contrast worth the name.
std::optional<CardFeatures> lightOnDarkFeatures (const film::GreyPicture& picture);

/// Dark writing on the largest flat light thing in the picture. Nothing: there is no such thing, or nothing on it.
std::optional<CardFeatures> darkOnLightFeatures (const film::GreyPicture& picture);

/// How much the picture looks like a card, 0 to 1: light letters on dark, or dark letters on a light sheet.
float cardLikelihood (const film::GreyPicture& picture);
} // namespace shutterbeat::scan
