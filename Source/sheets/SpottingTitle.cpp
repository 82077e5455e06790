#include "sheets/MarkDraw.h"
#include "sheets/SpottingRows.h"
#include "time/Clock.h"

#include <algorithm>
#include <array>

namespace shutterbeat::sheets
{
namespace
{
using spotting::HitKind;
using spotting::Weight;
} // namespace

Block SpottingRows::legend() const
{
    struct Sign
    {
        HitKind kind;
        Weight weight;
        bool open;
        std::string text;
    };
    std::vector<Sign> kinds, weights;
    for (const auto kind : { HitKind::cut, HitKind::card, HitKind::gag, HitKind::action, HitKind::entrance, HitKind::effect,
                             HitKind::mood, HitKind::seenMusic, HitKind::stop })
        kinds.push_back ({ kind, Weight::must, false, std::string (spotting::hitKindName (kind)) });
    for (const auto weight : { Weight::must, Weight::should, Weight::may })
        weights.push_back ({ HitKind::effect, weight, false, std::string (spotting::weightName (weight)) });
    weights.push_back ({ HitKind::effect, Weight::may, true, "open question" });
    Block block;
    const std::string about =
        pictures ? "Beside each picture: clock from the cue’s in, timecode, feet and frames. Below it: its film frame."
                 : "With each hit: clock from the cue’s in, timecode, film frame, feet and frames.";
    block.height = 64;
    block.spaceBefore = 16;
    block.draw = [this, kinds, weights, about] (cairo_t* cairo, double x, double y)
    {
        const auto row = [&] (const std::vector<Sign>& signs, double baseline, double gap)
        {
            double left = x;
            for (const auto& sign : signs)
            {
                const Style style{ Face::words, 8 };
                drawMark (cairo, sign.kind, sign.weight, sign.open, left, baseline - 8.5, 10);
                words.line (cairo, sign.text, style, left + 15, baseline);
                left += 15 + words.measure (sign.text, style).width + gap;
            }
        };
        cairo_set_source_rgb (cairo, hairline.red, hairline.green, hairline.blue);
        cairo_rectangle (cairo, x, y, width, 0.5);
        cairo_fill (cairo);
        row (kinds, y + 21, 13);
        row (weights, y + 42, 13);
        words.line (cairo, about, label, x, y + 61);
    };
    return block;
}

void SpottingRows::title (std::vector<Block>& blocks, const spotting::BookTimes& times, const SheetHead& head) const
{
    const Style titleStyle{ Face::wording, 32 };
    const std::string name = head.title.empty() ? "Untitled" : head.title;
    for (const auto& piece : words.pieces (name, titleStyle, width, 3))
    {
        Block block;
        block.height = words.measure (piece, titleStyle, width).height;
        block.keepWithNext = true;
        block.draw = [this, piece, titleStyle] (cairo_t* cairo, double x, double y)
        { words.block (cairo, piece, titleStyle, x, y, width); };
        blocks.push_back (std::move (block));
    }
    Block what;
    what.height = 24;
    what.keepWithNext = true;
    what.draw = [this] (cairo_t* cairo, double x, double y) {
        words.line (cairo, "Spotting notes", { Face::words, 12, true, night }, x, y + 14);
    };
    blocks.push_back (std::move (what));

    const auto facts = factsOf (times, head);
    constexpr double nameWidth = 78;
    const double column = width / 2, room = column - nameWidth - 12;
    // Two columns read down; each line as high as its longer fact.
    const std::size_t rows = (facts.size() + 1) / 2;
    std::vector<double> tops{ 0 };
    for (std::size_t i = 0; i < rows; ++i)
    {
        double height = words.measure (facts[i].text, value, room).height;
        if (rows + i < facts.size())
            height = std::max (height, words.measure (facts[rows + i].text, value, room).height);
        tops.push_back (tops.back() + height + 3);
    }
    Block basis;
    basis.height = tops.back();
    basis.spaceBefore = 8;
    basis.keepWithNext = true;
    basis.draw = [this, facts, rows, tops, column, room] (cairo_t* cairo, double x, double y)
    {
        for (std::size_t i = 0; i < facts.size(); ++i)
        {
            const double left = x + (i < rows ? 0 : column), top = y + tops[i % rows];
            words.line (cairo, facts[i].name, label, left, top + words.measure (facts[i].text, value, room).baseline);
            words.block (cairo, facts[i].text, value, left + nameWidth, top, room);
        }
    };
    blocks.push_back (std::move (basis));
    blocks.push_back (legend());
}
} // namespace shutterbeat::sheets
