#pragma once

#include "time/Result.h"

#include <cairo.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::sheets
{
class Words;

enum class Paper
{
    a4,
    letter
};

/// A page and what of it is printed on, in points.
struct PageSize
{
    double width = 0, height = 0;
    double left = 54, top = 54, right = 62, bottom = 64; ///< margins; the folio stands in the lowest

    [[nodiscard]] double textWidth() const { return width - left - right; }
    [[nodiscard]] double textHeight() const { return height - top - bottom; }
};
PageSize pageSize (Paper paper);

/// For cairo's writing into memory: appends to the std::string that `to` points to.
cairo_status_t appendBytes (void* to, const unsigned char* data, unsigned length);

/// Something printed that is never broken: its height, and how it is drawn from its top left corner.
struct Block
{
    double height = 0;
    std::function<void (cairo_t*, double x, double y)> draw;
    double spaceBefore = 0;    ///< not at the top of a page
    bool keepWithNext = false; ///< no page ends after it while the next one fits on a page with it
    /// What is repeated above it when a page begins with it: the heading of the rows it belongs to.
    std::shared_ptr<const Block> heading;
};

/// A block on its page.
struct PlacedBlock
{
    const Block* block = nullptr;
    double top = 0; ///< from the top of the text
};
using PlacedPage = std::vector<PlacedBlock>;

/// Puts blocks on pages, each page as full as keepWithNext allows: a heading never stands alone at the foot of a page.
/// A chain of kept blocks higher than a page is broken where the page is full.
std::vector<PlacedPage> paginate (const std::vector<Block>& blocks, double textHeight);

/// What a document says about itself in its properties.
struct Imprint
{
    std::string title;
    std::string stamped; ///< date; empty: the file carries no date at all
};

/// Draws blocks as a PDF with "page n of m" and `footer` at the foot of every page. Same blocks, same text and positions.
/// Error: Cairo could not write (out of memory).
Result<std::string> pdfOf (const std::vector<Block>& blocks, const PageSize& size, Words& words, const std::string& footer,
                           const Imprint& imprint);
} // namespace shutterbeat::sheets
