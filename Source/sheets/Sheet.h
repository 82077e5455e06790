#pragma once

#include "sheets/Page.h"
#include "sheets/Picture.h"
#include "sheets/Words.h"
#include "spotting/Times.h"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::sheets
{
/// What stands over a sheet besides what the times say.
struct SheetHead
{
    std::string title;   ///< of the book
    std::string stamped; ///< date (2026-05-01); empty: none is printed
    Paper paper = Paper::a4;
    std::string revision = {}; ///< of the book; empty: none was named
};

/// A sheet as PDF, and what the user should know about it.
struct Sheet
{
    std::string pdf;
    std::vector<std::string> notes; ///< letters no font has, fonts not installed, pictures that could not be had
};

/// The picture of a film frame, or null where it can't be had (made cards, places outside the picture).
using PictureAt = std::function<std::shared_ptr<const SheetPicture> (const film::Position&)>;

/// A fact about what the times were computed from: "Final rate", "25, true fill".
struct Fact
{
    std::string name, text;
};
/// Edition, running speed, final rate, where it starts, length, what it holds, date.
std::vector<Fact> factsOf (const spotting::BookTimes& times, const SheetHead& head);

/// A document being set: blocks on pages of one size, which draw through its own Words.
class SheetPages
{
public:
    /// `what` is the sheet's name as printed: "Cue list".
    SheetPages (const spotting::BookTimes& bookTimes, const SheetHead& sheetHead, std::string sheetName, bool landscape = false);
    SheetPages (const SheetPages&) = delete;
    SheetPages& operator= (const SheetPages&) = delete;

    /// Title of the book, name of the sheet, and the facts.
    void opening (const std::vector<Fact>& more = {});
    /// A block to be drawn later; `draw` gets its top left corner.
    Block& add (double height, std::function<void (cairo_t*, double x, double y)> draw, double spaceBefore = 0);
    /// A heading over what follows it, with a sentence below it where there is one.
    void heading (const std::string& text, const std::string& about = "");
    /// A text over the whole width, cut where a page ends.
    void paragraph (const std::string& text, const Style& style = { Face::words, 9 }, double spaceBefore = 6);
    /// The PDF. Error: Cairo could not write.
    Result<Sheet> finish();

    [[nodiscard]] double width() const { return size.textWidth(); }

    const spotting::BookTimes& times;
    const SheetHead& head;
    const std::string name;
    PageSize size;
    Words words;
    std::vector<Block> blocks;
    std::vector<std::string> notes;
};

/// A filled rectangle.
void fillBox (cairo_t* cairo, double x, double y, double width, double height, const Dye& dye);

/// A label apart from what Label::shown() adds to it where it wrapped: "(+1 day)".
struct PaperTimecode
{
    std::string label, day;
};
/// The timecode of a place, or "frame 123" at a rate without.
PaperTimecode paperTimecode (const film::PlaceTimes& at);

/// "3 cues", "1 cue".
std::string counted (std::size_t number, const std::string& one, const std::string& many);

/// Draws the picture fitted into a box from its top left corner; answers the height it takes. Null draws nothing.
double drawFitted (cairo_t* cairo, const std::shared_ptr<const SheetPicture>& picture, double x, double y, double boxWidth,
                   double boxHeight);
} // namespace shutterbeat::sheets
