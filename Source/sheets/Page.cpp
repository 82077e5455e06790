#include "sheets/Page.h"

#include "sheets/Words.h"

#include <cairo-pdf.h>

namespace shutterbeat::sheets
{
cairo_status_t appendBytes (void* to, const unsigned char* data, unsigned length)
{
    static_cast<std::string*> (to)->append (reinterpret_cast<const char*> (data), length);
    return CAIRO_STATUS_SUCCESS;
}

namespace
{
double headingHeight (const Block& first)
{
    return first.heading ? first.heading->height : 0;
}

/// How many blocks from `first` on go on one page.
std::size_t countOnPage (const std::vector<Block>& blocks, std::size_t first, double textHeight)
{
    double height = headingHeight (blocks[first]);
    std::size_t fits = 0, lastBreak = 0;
    for (std::size_t i = first; i < blocks.size(); ++i)
    {
        height += blocks[i].height + (i > first ? blocks[i].spaceBefore : 0);
        if (height > textHeight && i > first)
            break;
        ++fits;
        if (! blocks[i].keepWithNext || i + 1 == blocks.size())
            lastBreak = fits;
    }
    return lastBreak > 0 ? lastBreak : fits;
}

bool isDate (const std::string& text)
{
    if (text.size() != 10)
        return false;
    for (std::size_t i = 0; i < 10; ++i)
        if (i == 4 || i == 7 ? text[i] != '-' : text[i] < '0' || text[i] > '9')
            return false;
    return true;
}
} // namespace

PageSize pageSize (Paper paper)
{
    PageSize size;
    // A4 is 210 by 297 mm, Letter 8.5 by 11 inches.
    size.width = paper == Paper::a4 ? 210 * 72 / 25.4 : 612;
    size.height = paper == Paper::a4 ? 297 * 72 / 25.4 : 792;
    return size;
}

std::vector<PlacedPage> paginate (const std::vector<Block>& blocks, double textHeight)
{
    std::vector<PlacedPage> pages;
    for (std::size_t first = 0; first < blocks.size();)
    {
        const auto count = countOnPage (blocks, first, textHeight);
        PlacedPage page;
        double top = 0;
        if (blocks[first].heading)
        {
            page.push_back ({ blocks[first].heading.get(), top });
            top += blocks[first].heading->height;
        }
        for (std::size_t i = first; i < first + count; ++i)
        {
            top += i > first ? blocks[i].spaceBefore : 0;
            page.push_back ({ &blocks[i], top });
            top += blocks[i].height;
        }
        pages.push_back (std::move (page));
        first += count;
    }
    return pages;
}

Result<std::string> pdfOf (const std::vector<Block>& blocks, const PageSize& size, Words& words, const std::string& footer,
                           const Imprint& imprint)
{
    std::string bytes;
    cairo_surface_t* surface = cairo_pdf_surface_create_for_stream (appendBytes, &bytes, size.width, size.height);
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, composed (imprint.title).c_str());
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Shutterbeat");
    // Cairo would put the time of day here; the same book has to give the same sheet.
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                    isDate (imprint.stamped) ? imprint.stamped.c_str() : nullptr);
    cairo_t* cairo = cairo_create (surface);
    const auto pages = paginate (blocks, size.textHeight());
    const Style small{ Face::words, 7.5, false, quiet };
    const double folio = size.height - size.bottom + 30;
    for (std::size_t number = 0; number < pages.size(); ++number)
    {
        for (const auto& placed : pages[number])
            placed.block->draw (cairo, size.left, size.top + placed.top);
        const std::string page = "page " + std::to_string (number + 1) + " of " + std::to_string (pages.size());
        words.line (cairo, words.fitted (footer, small, size.textWidth() - 80), small, size.left, folio);
        words.line (cairo, page, small, size.width - size.right, folio, Align::right);
        cairo_show_page (cairo);
    }
    cairo_destroy (cairo);
    cairo_surface_finish (surface);
    const auto status = cairo_surface_status (surface);
    cairo_surface_destroy (surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return cannotWrite ("PDF", cairo_status_to_string (status));
    return bytes;
}
} // namespace shutterbeat::sheets
