#include "sheets/ContactSheet.h"

#include "sheets/Fonts.h"
#include "sheets/MarkDraw.h"
#include "sheets/Words.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
constexpr double gap = 12;       // between pictures, points
constexpr double lettering = 25; // below a picture
constexpr double rowGap = 9;
constexpr double titleHeight = 74;

void fill (cairo_t* cairo, const Dye& dye, double x, double y, double width, double height)
{
    cairo_set_source_rgb (cairo, dye.red, dye.green, dye.blue);
    cairo_rectangle (cairo, x, y, width, height);
    cairo_fill (cairo);
}

/// Thousands apart by a thin blank, so that long films read well: "12 040".
std::string grouped (std::int64_t number)
{
    std::string digits = std::to_string (number);
    for (auto at = static_cast<std::ptrdiff_t> (digits.size()) - 3; at > 0; at -= 3)
        digits.insert (static_cast<std::size_t> (at), "\xe2\x80\x89");
    return digits;
}

/// Everything that rows are drawn with.
struct Rows
{
    const ContactFilm& film;
    const ContactPicture& pictureOf;
    Words& words;
    double width = 0; ///< of the text
    int columns = 1;
    double aspect = 1;
    double pixels = 2.8; ///< a point
    std::size_t missing = 0;

    [[nodiscard]] double cellWidth() const { return (width - gap * (columns - 1)) / columns; }
    [[nodiscard]] double pictureHeight() const { return cellWidth() / aspect; }

    Block title() const
    {
        Block block;
        block.height = titleHeight;
        block.keepWithNext = true;
        block.draw = [this] (cairo_t* cairo, double x, double y)
        {
            const Style large{ Face::wording, 26 };
            const Style small{ Face::words, 9, false, quiet };
            words.line (cairo, words.fitted (film.title, large, width), large, x, y + 24);
            words.line (cairo, words.fitted (film.figures, small, width), small, x, y + 41);
            words.line (cairo, words.fitted (film.cadence, small, width), small, x, y + 53);
            fill (cairo, hairline, x, y + 62, width, 0.6);
        };
        return block;
    }

    Block row (std::size_t from)
    {
        const std::size_t to = std::min (film.shots.size(), from + static_cast<std::size_t> (columns));
        Block block;
        block.height = pictureHeight() + lettering;
        block.spaceBefore = rowGap;
        // Pictures are had when they are drawn, a row at a time: a long film has thousands.
        block.draw = [this, from, to] (cairo_t* cairo, double x, double y)
        {
            for (std::size_t i = from; i < to; ++i)
                cell (cairo, i, pictureFor (i), x + static_cast<double> (i - from) * (cellWidth() + gap), y);
        };
        return block;
    }

private:
    std::optional<SheetPicture> pictureFor (std::size_t index)
    {
        auto picture = pictureOf ? pictureOf (index) : std::nullopt;
        if (picture && picture->whole())
            return smaller (*picture, static_cast<int> (cellWidth() * pixels + 0.5),
                            static_cast<int> (pictureHeight() * pixels + 0.5));
        ++missing;
        return std::nullopt;
    }

    void cell (cairo_t* cairo, std::size_t index, const std::optional<SheetPicture>& picture, double x, double y) const
    {
        const auto& shot = film.shots[index];
        const double w = cellWidth();
        const double h = pictureHeight();
        if (picture)
            drawPicture (cairo, *picture, x, y, w, h);
        cairo_set_source_rgb (cairo, hairline.red, hairline.green, hairline.blue);
        cairo_set_line_width (cairo, 0.5);
        cairo_rectangle (cairo, x, y, w, h);
        cairo_stroke (cairo);

        const Style number{ Face::words, 9, true };
        const Style kind{ Face::words, 7.5, false, shot.kind == film::ShotKind::card ? night : quiet };
        const Style figures{ Face::figures, 7, false, quiet };
        const std::string name = std::to_string (index + 1) + (shot.doubtful ? " ?" : "");
        double left = x;
        words.line (cairo, name, number, left, y + h + 11);
        left += words.measure (name, number).width + 5;
        if (shot.kind == film::ShotKind::card)
        {
            drawMark (cairo, spotting::HitKind::card, spotting::Weight::must, false, left, y + h + 3.6, 8, night);
            left += 11;
        }
        if (shot.kind != film::ShotKind::shot)
            words.line (cairo, std::string (film::shotKindName (shot.kind)), kind, left, y + h + 11);
        words.line (cairo, grouped (shot.first), figures, x, y + h + 21);
        words.line (cairo, "+" + grouped (shot.frames), figures, x + w, y + h + 21, Align::right);
    }
};

std::vector<Block> blocksOf (Rows& sheet)
{
    std::vector<Block> blocks{ sheet.title() };
    for (std::size_t i = 0; i < sheet.film.shots.size(); i += static_cast<std::size_t> (sheet.columns))
        blocks.push_back (sheet.row (i));
    if (blocks.size() > 1)
        blocks[1].spaceBefore = 0;
    return blocks;
}

std::vector<std::string> notesOf (const Rows& sheet)
{
    auto notes = missingFamilies();
    if (sheet.missing > 0)
        notes.push_back (std::to_string (sheet.missing) + " of " + std::to_string (sheet.film.shots.size())
                         + " pictures could not be had; their places are empty");
    for (auto& note : sheet.words.missingLetters())
        notes.push_back (std::move (note));
    return notes;
}
} // namespace

Result<ContactPage> contactPdf (const ContactFilm& film, double aspect, const ContactPicture& pictureOf, Paper paper)
{
    Words words;
    auto size = pageSize (paper);
    size.left = size.right = 48;
    size.top = 46;
    Rows sheet{ film, pictureOf, words, size.textWidth(), 5, aspect };
    const auto blocks = blocksOf (sheet);
    auto pdf = pdfOf (blocks, size, words,
                      film.title + ": each shot with its number, kind, first frame and length in frames; ? marks a weak cut",
                      { film.title + " \xe2\x80\x93 Contact sheet", film.stamped });
    if (! pdf)
        return pdf.error();
    return ContactPage{ std::move (*pdf), notesOf (sheet) };
}

Result<ContactPage> contactPng (const ContactFilm& film, double aspect, const ContactPicture& pictureOf)
{
    constexpr double width = 960; // points
    constexpr double margin = 32;
    constexpr double tallest = 32000; // pixels: what Cairo and most viewers hold
    Words words;
    Rows sheet{ film, pictureOf, words, width - 2 * margin, 8, aspect };
    const auto rows = (film.shots.size() + 7) / 8;
    const double height = 2 * margin + titleHeight + static_cast<double> (rows) * (sheet.pictureHeight() + lettering + rowGap);
    // Two pixels a point are crisp on any screen; long films make do with one.
    const double scale = height * 2 <= tallest ? 2 : 1;
    if (height * scale > tallest)
        return usageError ("contact sheet",
                           std::to_string (film.shots.size()) + " shots are too many for one picture; write it as a .pdf");
    sheet.pixels = scale;
    const auto blocks = blocksOf (sheet);
    cairo_surface_t* surface =
        cairo_image_surface_create (CAIRO_FORMAT_RGB24, static_cast<int> (width * scale), static_cast<int> (height * scale + 0.5));
    cairo_t* cairo = cairo_create (surface);
    cairo_scale (cairo, scale, scale);
    fill (cairo, { 1, 1, 1 }, 0, 0, width, height);
    double y = margin;
    for (const auto& block : blocks)
    {
        y += block.spaceBefore;
        block.draw (cairo, margin, y);
        y += block.height;
    }
    cairo_destroy (cairo);
    ContactPage page;
    auto status = cairo_surface_status (surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_write_to_png_stream (surface, appendBytes, &page.bytes);
    cairo_surface_destroy (surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return cannotWrite ("contact sheet", cairo_status_to_string (status));
    page.notes = notesOf (sheet);
    return page;
}
} // namespace shutterbeat::sheets
