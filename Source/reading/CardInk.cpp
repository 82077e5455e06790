#include "reading/CardInk.h"

#include "film/GreyLevels.h"
#include "reading/InkPieces.h"

#include <allheaders.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>

namespace shutterbeat::reading
{
namespace
{
using film::GreyPicture;

struct DropPix
{
    void operator() (Pix* pix) const { pixDestroy (&pix); }
};
using PixPtr = std::unique_ptr<Pix, DropPix>;
struct DropBoxes
{
    void operator() (Boxa* boxes) const { boxaDestroy (&boxes); }
};
struct DropPieces
{
    void operator() (Pixa* pieces) const { pixaDestroy (&pieces); }
};

PixPtr pixOf (const GreyPicture& picture)
{
    PixPtr pix (pixCreate (picture.width, picture.height, 8));
    if (pix)
        for (int y = 0; y < picture.height; ++y)
            for (int x = 0; x < picture.width; ++x)
                pixSetPixel (pix.get(), x, y, picture.at (x, y));
    return pix;
}

GreyPicture pictureOf (Pix* pix)
{
    GreyPicture picture;
    picture.width = pixGetWidth (pix);
    picture.height = pixGetHeight (pix);
    picture.pixels.reserve (static_cast<std::size_t> (picture.width) * static_cast<std::size_t> (picture.height));
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x)
        {
            l_uint32 value = 0;
            pixGetPixel (pix, x, y, &value);
            picture.pixels.push_back (static_cast<std::uint8_t> (value));
        }
    return picture;
}

/// What of the card is the sheet that carries dark writing: the largest light thing, without the black beside it.
std::optional<GreyPicture> sheetOf (const GreyPicture& card)
{
    const auto counts = film::levelCounts (card.pixels);
    const int light = film::levelAt (counts, 0.95);
    if (light < 70)
        return std::nullopt;
    const PixPtr grey = pixOf (card);
    const PixPtr dark (pixThresholdToBinary (grey.get(), std::max (1, light * 6 / 10))); // 1 where darker
    const PixPtr bright (pixInvert (nullptr, dark.get()));
    // Closed, so that writing does not break the sheet it stands on.
    const int reach = std::max (3, card.width / 60) | 1;
    const PixPtr whole (pixCloseBrick (nullptr, bright.get(), reach, reach));
    const std::unique_ptr<Boxa, DropBoxes> boxes (pixConnComp (whole.get(), nullptr, 4));
    int best = 0;
    std::array<int, 4> at{};
    for (int i = 0; i < boxaGetCount (boxes.get()); ++i)
    {
        std::array<int, 4> box{};
        boxaGetBoxGeometry (boxes.get(), i, &box[0], &box[1], &box[2], &box[3]);
        if (box[2] * box[3] > best)
        {
            best = box[2] * box[3];
            at = box;
        }
    }
    if (best * 5 < card.width * card.height)
        return std::nullopt;
    GreyPicture sheet;
    sheet.width = at[2];
    sheet.height = at[3];
    for (int y = at[1]; y < at[1] + at[3]; ++y)
        for (int x = at[0]; x < at[0] + at[2]; ++x)
            sheet.pixels.push_back (card.at (x, y));
    return sheet;
}

/// Dark ink on white: the ground and all beyond it white, the strongest ink black.
bool stretch (GreyPicture& picture, bool darkOnLight)
{
    if (! darkOnLight)
        for (auto& pixel : picture.pixels)
            pixel = static_cast<std::uint8_t> (255 - pixel);
    const auto counts = film::levelCounts (picture.pixels);
    const int ground = film::groundLevel (counts);
    const int ink = film::levelAt (counts, 0.004);
    constexpr int leastContrast = 12;
    if (ground - ink < leastContrast)
        return false;
    const double white = ground - 0.12 * (ground - ink);
    for (auto& pixel : picture.pixels)
        pixel = static_cast<std::uint8_t> (std::clamp ((pixel - ink) * 255.0 / (white - ink), 0.0, 255.0));
    return true;
}

/// How many runs of ink a column of a 1-bit shape has on average.
double strokesOf (Pix* shape)
{
    const int width = pixGetWidth (shape);
    const int height = pixGetHeight (shape);
    int runs = 0;
    for (int x = 0; x < width; ++x)
        for (int y = 0, last = 0; y < height; ++y)
        {
            l_uint32 ink = 0;
            pixGetPixel (shape, x, y, &ink);
            runs += ink != 0 && last == 0 ? 1 : 0;
            last = static_cast<int> (ink);
        }
    return static_cast<double> (runs) / std::max (1, width);
}

/// What is darker than a level, in connected pieces.
struct Ink
{
    PixPtr all;
    std::unique_ptr<Pixa, DropPieces> shapes;
    std::vector<InkPiece> pieces;

    Ink (Pix* grey, int level)
        : all (pixThresholdToBinary (grey, level))
    {
        Pixa* found = nullptr;
        const std::unique_ptr<Boxa, DropBoxes> boxes (pixConnComp (all.get(), &found, 8));
        shapes.reset (found);
        pieces.resize (static_cast<std::size_t> (boxaGetCount (boxes.get())));
        for (std::size_t i = 0; i < pieces.size(); ++i)
        {
            InkPiece& piece = pieces[i];
            boxaGetBoxGeometry (boxes.get(), static_cast<int> (i), &piece.x, &piece.y, &piece.w, &piece.h);
            const PixPtr shape = shapeOf (i);
            pixCountPixels (shape.get(), &piece.area, nullptr);
            piece.strokes = strokesOf (shape.get());
        }
    }

    [[nodiscard]] PixPtr shapeOf (std::size_t i) const { return PixPtr (pixaGetPix (shapes.get(), static_cast<int> (i), L_CLONE)); }

    /// Paints all but the letters white, with the soft edge of their strokes; the letters' own edges are spared.
    void keep (Pix* grey, const std::vector<bool>& letter) const
    {
        const PixPtr away (pixCreateTemplate (all.get()));
        const PixPtr stays (pixCreateTemplate (all.get()));
        for (std::size_t i = 0; i < pieces.size(); ++i)
            pixRasterop (letter[i] ? stays.get() : away.get(), pieces[i].x, pieces[i].y, pieces[i].w, pieces[i].h,
                         PIX_SRC | PIX_DST, shapeOf (i).get(), 0, 0);
        const PixPtr wide (pixDilateBrick (nullptr, away.get(), 5, 5));
        const PixPtr spared (pixDilateBrick (nullptr, stays.get(), 3, 3));
        const PixPtr painted (pixSubtract (nullptr, wide.get(), spared.get()));
        pixPaintThroughMask (grey, painted.get(), 0, 0, 255);
    }
};

/// Takes away what is no letter; answers the height of the letters there are most of, 0 without any.
double clean (Pix* grey)
{
    // First whatever is darker than the ground at all, so that thin and faint ornaments are seen whole; then the ink proper.
    double height = 0;
    for (const int level : { 200, 128 })
    {
        const Ink ink (grey, level);
        auto letter = lettersAmong (ink.pieces, pixGetWidth (grey), pixGetHeight (grey));
        if (level == 200)
            takeLeaders (ink.pieces, letter);
        ink.keep (grey, letter);
        height = letterHeightOf (ink.pieces, letter);
    }
    return height;
}

std::optional<CardInk> madeReady (GreyPicture picture, bool darkOnLight, double size)
{
    if (picture.width < 16 || picture.height < 16 || ! stretch (picture, darkOnLight))
        return std::nullopt;
    const PixPtr pix = pixOf (picture);
    if (! pix)
        return std::nullopt;
    CardInk ink;
    ink.darkOnLight = darkOnLight;
    const double height = clean (pix.get());
    if (height <= 0)
        return std::nullopt;
    // Tesseract's network wants letters of some thirty pixels.
    const double bestHeight = 32 * size;
    const auto factor = static_cast<float> (std::clamp (bestHeight / height, 0.25, 6.0));
    const PixPtr scaled (std::abs (factor - 1) < 0.1F ? pixClone (pix.get()) : pixScale (pix.get(), factor, factor));
    // White round it: letters at the very edge are not seen.
    constexpr int margin = 24;
    const PixPtr framed (scaled ? pixAddBorder (scaled.get(), margin, 255) : nullptr);
    if (! framed)
        return std::nullopt;
    ink.letterHeight = height * factor;
    ink.picture = pictureOf (framed.get());
    return ink;
}
} // namespace

std::vector<CardInk> inkOf (const GreyPicture& card, double size)
{
    std::vector<CardInk> all;
    const auto counts = film::levelCounts (card.pixels);
    const int ground = film::groundLevel (counts);
    auto light = madeReady (card, false, size);
    std::optional<CardInk> dark;
    if (auto sheet = sheetOf (card))
        dark = madeReady (std::move (*sheet), true, size);
    const bool darkFirst = dark && ground > 110;
    if (darkFirst)
        all.push_back (std::move (*dark));
    if (light)
        all.push_back (std::move (*light));
    if (dark && ! darkFirst)
        all.push_back (std::move (*dark));
    return all;
}
} // namespace shutterbeat::reading
