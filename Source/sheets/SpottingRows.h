#pragma once

#include "sheets/Signal.h"
#include "sheets/SpottingNotes.h"

namespace shutterbeat::sheets
{
/// A hit as the spotting notes print it.
struct NotesHit
{
    const spotting::HitTimes* hit = nullptr;
    std::optional<time::Rational> clock;         ///< seconds from the cue's in, or from picture start
    std::shared_ptr<const SheetPicture> picture; ///< already small; null where there is none
    std::string outside;                         ///< "before picture start" where there is no film frame to name
};

/// Where a cue starts or stops: what is seen there.
struct NotesEnd
{
    Signal signal;
    std::shared_ptr<const SheetPicture> picture; ///< null where there is none
    std::string frame;                           ///< its film frame, below the picture
};

/// Makes the blocks of the spotting notes. Blocks draw through `words`, which has to outlive them.
class SpottingRows
{
public:
    SpottingRows (Words& textSetter, double textWidth, bool withPictures)
        : words (textSetter)
        , width (textWidth)
        , pictures (withPictures)
    {
    }

    /// Title, what the times were computed from, and the legend of the marks.
    void title (std::vector<Block>& blocks, const spotting::BookTimes& times, const SheetHead& head) const;
    /// The head of a cue, where it starts and stops, and its hits.
    void cue (std::vector<Block>& blocks, const spotting::CueTimes& cue, const std::vector<NotesHit>& hits, const NotesEnd& in,
              const NotesEnd& out) const;
    /// Hits under a heading of their own.
    void section (std::vector<Block>& blocks, const std::string& heading, const std::string& about,
                  const std::vector<NotesHit>& hits) const;
    /// A single sentence.
    void sentence (std::vector<Block>& blocks, const std::string& text) const;

    /// Width and height of the box a picture is fitted into.
    static constexpr double pictureWidth = 74, pictureHeight = 55.5;

private:
    /// A text of a row: cut into pieces, so that a very long one can go on on the next page.
    struct Piece
    {
        std::string text;
        Style style;
        double before = 0; ///< space above it
        double height = 0;
    };

    [[nodiscard]] double textLeft (const NotesHit& row) const { return ! row.hit->at ? 30 : pictures ? 214 : 134; }
    void addPieces (std::vector<Piece>& to, const std::string& text, const Style& style, double before, double lineWidth) const;
    [[nodiscard]] std::vector<Piece> textsOf (const NotesHit& row) const;
    void hitRows (std::vector<Block>& blocks, const std::vector<NotesHit>& hits, const std::shared_ptr<const Block>& heading) const;
    void hitRow (std::vector<Block>& blocks, const NotesHit& row, const std::shared_ptr<const Block>& heading) const;
    void drawHit (cairo_t* cairo, const NotesHit& row, double x, double y) const;
    void drawFigures (cairo_t* cairo, const NotesHit& row, double right, double y) const;
    [[nodiscard]] double leftHeight (const NotesHit& row) const;
    [[nodiscard]] std::shared_ptr<const Block> continued (const std::string& number, const std::string& name) const;
    [[nodiscard]] Block legend() const;
    [[nodiscard]] Block ends (const NotesEnd& in, const NotesEnd& out) const;

    Words& words;
    double width;
    bool pictures;
};
} // namespace shutterbeat::sheets
