#include "sheets/SpottingRows.h"

#include "sheets/MarkDraw.h"
#include "time/Clock.h"

#include <algorithm>

namespace shutterbeat::sheets
{
namespace
{
const Style rowWords{ Face::words, 8.5, false, black };
const Style smallFigures{ Face::figures, 8.5, false, black };
constexpr double figureLine = 12;
constexpr double markSize = 13, pictureLeft = 30, rowGap = 10, firstGap = 15, captionHeight = 11;
constexpr double endWidth = 66, endHeight = 49.5;
constexpr int pieceLines = 12;    ///< lines of a text that are kept together
constexpr double mostInRow = 190; ///< height of the texts of one row; what is over goes on below

/// What stands below the clock of a hit, a line each: timecode, reel and day where they are not the first, film frame
/// (unless it stands below the picture) and feet.
std::vector<std::string> figuresOf (const NotesHit& row)
{
    const auto& at = *row.hit->at;
    const auto timecode = paperTimecode (at);
    std::vector<std::string> lines{ timecode.label };
    const std::string reel = at.reel > 0 ? "reel " + std::to_string (at.reel + 1) : "";
    if (! reel.empty() || ! timecode.day.empty())
        lines.push_back (reel + (reel.empty() || timecode.day.empty() ? "" : " ") + timecode.day);
    if (! row.outside.empty())
        lines.push_back (row.outside);
    else
        lines.push_back ((row.picture ? "" : "film " + std::to_string (at.filmFrame) + "  ") + at.feet + " ft");
    return lines;
}

/// "At title" within a sentence.
std::string lowered (std::string text)
{
    if (! text.empty() && text[0] >= 'A' && text[0] <= 'Z')
        text[0] = static_cast<char> (text[0] - 'A' + 'a');
    return text;
}

/// Limits that are not the usual 40 and 80 ms are worth saying.
std::string factsOf (const spotting::HitPoint& hit)
{
    std::string facts = hit.label.empty() ? "" : std::string (spotting::hitKindName (hit.kind)) + ", ";
    facts += spotting::weightName (hit.weight);
    if (hit.lead.sign() != 0)
        facts += ", music " + time::decimalText (hit.lead.sign() < 0 ? -hit.lead : hit.lead, 3) + " s "
                 + (hit.lead.sign() < 0 ? "before" : "after") + " the picture";
    if (hit.earlyMs != 40 || hit.lateMs != 80)
        facts += ", " + std::to_string (hit.earlyMs) + " ms early to " + std::to_string (hit.lateMs) + " ms late";
    if (! hit.askedBy.empty())
        facts += ", asked by " + hit.askedBy;
    return facts + (hit.agreed ? "" : ", open question");
}
} // namespace

void SpottingRows::addPieces (std::vector<Piece>& to, const std::string& text, const Style& style, double before,
                              double lineWidth) const
{
    if (text.empty())
        return;
    for (auto& piece : words.pieces (text, style, lineWidth, pieceLines))
    {
        const double height = words.measure (piece, style, lineWidth).height;
        to.push_back ({ std::move (piece), style, before, height });
        before = 0;
    }
}

std::vector<SpottingRows::Piece> SpottingRows::textsOf (const NotesHit& row) const
{
    const auto& hit = row.hit->hit;
    const double room = width - textLeft (row);
    std::vector<Piece> texts;
    const bool card = hit.kind == spotting::HitKind::card;
    // A hit without a name is called by its kind.
    const std::string name = hit.label.empty() ? std::string (spotting::hitKindName (hit.kind)) : hit.label;
    addPieces (texts, name, card && ! hit.label.empty() ? Style{ Face::wording, 14 } : Style{ Face::words, 10.5, true }, 0, room);
    addPieces (texts, factsOf (hit), { Face::words, 8, false, quiet }, texts.empty() ? 0 : 2, room);
    addPieces (texts, row.hit->lost, { Face::words, 8.5, false, rose }, 2, room);
    addPieces (texts, hit.note, { Face::words, 9 }, 4, room);
    return texts;
}

double SpottingRows::leftHeight (const NotesHit& row) const
{
    double height = row.hit->at ? 16 + figureLine * static_cast<double> (figuresOf (row).size()) : markSize + 4;
    if (row.picture)
        height =
            std::max (height, std::min (pictureHeight, pictureWidth * row.picture->height / row.picture->width) + captionHeight);
    return height;
}

void SpottingRows::drawFigures (cairo_t* cairo, const NotesHit& row, double right, double y) const
{
    if (! row.hit->at)
        return;
    if (row.clock)
        words.line (cairo, time::clockText (*row.clock), { Face::figures, 12, true }, right, y + 10, Align::right);
    else
        words.line (cairo, "other reel", label, right, y + 10, Align::right);
    double baseline = y + 23;
    for (const auto& line : figuresOf (row))
    {
        words.line (cairo, line, baseline < y + 24 ? smallFigures : quietFigures, right, baseline, Align::right);
        baseline += figureLine;
    }
}

void SpottingRows::drawHit (cairo_t* cairo, const NotesHit& row, double x, double y) const
{
    const auto& hit = row.hit->hit;
    drawMark (cairo, hit.kind, hit.weight, ! hit.agreed, x + 3, y + 3, markSize);
    if (row.picture)
    {
        const double w = row.picture->width, h = row.picture->height;
        const double scale = std::min (pictureWidth / w, pictureHeight / h);
        drawPicture (cairo, *row.picture, x + pictureLeft, y, w * scale, h * scale);
        words.line (cairo, std::to_string (row.hit->at ? row.hit->at->filmFrame : 0), quietFigures, x + pictureLeft + w * scale / 2,
                    y + h * scale + 9, Align::centre);
    }
    drawFigures (cairo, row, x + textLeft (row) - 16, y);
}

void SpottingRows::hitRow (std::vector<Block>& blocks, const NotesHit& row, const std::shared_ptr<const Block>& heading) const
{
    // The first block holds picture, figures and as much text as is good; the others are text alone.
    auto texts = textsOf (row);
    bool first = true;
    for (std::size_t next = 0; next < texts.size() || first; first = false)
    {
        std::vector<Piece> here;
        double height = 0;
        while (next < texts.size() && (here.empty() || height + texts[next].before + texts[next].height <= mostInRow))
        {
            height += (here.empty() ? 0 : texts[next].before) + texts[next].height;
            here.push_back (std::move (texts[next++]));
        }
        Block block;
        block.height = first ? std::max (height, leftHeight (row)) : height;
        block.spaceBefore = first ? rowGap : 0;
        block.heading = heading;
        block.draw = [this, row, here = std::move (here), first] (cairo_t* cairo, double x, double y)
        {
            if (first)
                drawHit (cairo, row, x, y);
            double top = y;
            for (std::size_t i = 0; i < here.size(); ++i)
            {
                top += i > 0 ? here[i].before : 0;
                words.block (cairo, here[i].text, here[i].style, x + textLeft (row), top, width - textLeft (row));
                top += here[i].height;
            }
        };
        blocks.push_back (std::move (block));
    }
}

void SpottingRows::hitRows (std::vector<Block>& blocks, const std::vector<NotesHit>& hits,
                            const std::shared_ptr<const Block>& heading) const
{
    if (hits.empty())
        return;
    const auto firstBlock = blocks.size();
    // A row alone at either end of a page looks lost: the first two and the last two of a cue stay together.
    for (std::size_t i = 0; i < hits.size(); ++i)
    {
        hitRow (blocks, hits[i], heading);
        if (i + 1 < hits.size() && (i == 0 || i + 2 == hits.size()))
            blocks.back().keepWithNext = true;
    }
    blocks[firstBlock].spaceBefore = firstGap;
}

std::shared_ptr<const Block> SpottingRows::continued (const std::string& number, const std::string& name) const
{
    Block block;
    block.height = 32;
    block.draw = [this, number, name] (cairo_t* cairo, double x, double y)
    {
        fillBox (cairo, x, y, width, 0.5, night);
        const Style strong{ Face::words, 10, true, night };
        words.line (cairo, number, strong, x, y + 15);
        const double after = number.empty() ? 0 : words.measure (number, strong).width + 8;
        const Style plain{ Face::words, 9, false, quiet };
        words.line (cairo, words.fitted (name, plain, width - after - 60), plain, x + after, y + 15);
        words.line (cairo, "continued", label, x + width, y + 15, Align::right);
    };
    return std::make_shared<const Block> (std::move (block));
}

/// Side by side, why a cue starts and why it stops: the pictures there and what is seen.
Block SpottingRows::ends (const NotesEnd& in, const NotesEnd& out) const
{
    const double column = width / 2, left = pictures ? endWidth + 12 : 0, room = column - left - 16;
    const auto styleOf = [] (const NotesEnd& end) {
        return end.signal.title ? Style{ Face::wording, 12 } : Style{ Face::words, 9.5 };
    };
    // As many lines as stand beside the picture; a long wording is among the hits in full.
    const auto textOf = [&] (const NotesEnd& end)
    {
        const auto lines = words.pieces (end.signal.what, styleOf (end), room, 3);
        return lines.size() > 1 ? lines[0].substr (0, lines[0].rfind (' ')) + " …" : end.signal.what;
    };
    const std::string texts[2] = { textOf (in), textOf (out) };
    Block block;
    block.height = pictures && (in.picture || out.picture) ? endHeight + captionHeight : 0;
    for (const auto* end : { &in, &out })
        block.height = std::max (block.height, 14 + words.measure (texts[end == &out ? 1 : 0], styleOf (*end), room).height);
    block.spaceBefore = 8;
    block.draw = [=, this] (cairo_t* cairo, double x, double y)
    {
        for (const auto* end : { &in, &out })
        {
            const bool last = end == &out;
            const double at = x + (last ? column : 0);
            if (end->picture)
            {
                const double high = drawFitted (cairo, end->picture, at, y, endWidth, endHeight);
                words.line (cairo, end->frame, quietFigures, at + endWidth / 2, y + high + 9, Align::centre);
            }
            const double from = at + (end->picture ? left : 0);
            words.line (cairo, std::string (last ? "stops" : "starts") + ", " + lowered (end->signal.how), label, from, y + 8);
            words.block (cairo, texts[last ? 1 : 0], styleOf (*end), from, y + 13, room);
        }
    };
    return block;
}

void SpottingRows::cue (std::vector<Block>& blocks, const spotting::CueTimes& row, const std::vector<NotesHit>& hits,
                        const NotesEnd& in, const NotesEnd& out) const
{
    const auto& cue = row.cue;
    const Style numberStyle{ Face::words, 19, true, night };
    const std::string number = words.fitted (cue.number, numberStyle, width * 0.4);
    const double titleLeft = number.empty() ? 0 : words.measure (number, numberStyle).width + 12;
    const std::string status = std::string (spotting::cueKindName (cue.kind)) + ", "
                               + std::string (spotting::cueStatusName (cue.status))
                               + (cue.version.empty() ? "" : ", version " + cue.version);
    const double titleRoom = width - titleLeft - words.measure (status, rowWords).width - 16;
    std::vector<Piece> texts;
    addPieces (texts, cue.title, { Face::words, 13, true }, 0, titleRoom);
    const double titleHeight = texts.empty() ? 0 : texts.front().height;
    const double titleLine = texts.empty() ? 16 : words.measure (texts.front().text, texts.front().style, titleRoom).baseline;
    const double timesTop = 14 + std::max (22.0, titleHeight + 19 - titleLine) + 6;
    // What is left of a title of many lines goes on below.
    std::vector<Piece> below (texts.begin() + (texts.empty() ? 0 : 1), texts.end());
    addPieces (below, cue.mood, { Face::words, 10 }, 0, width - 60);
    addPieces (below, cue.note, { Face::words, 9, false, quiet }, below.empty() ? 0 : 3, width - 60);
    addPieces (below, row.lost, { Face::words, 8.5, false, rose }, 3, width - 60);
    const std::string tempo = spotting::tempoText (cue);

    Block head;
    head.height = timesTop + 34;
    head.spaceBefore = 26;
    head.keepWithNext = true;
    const std::string title = texts.empty() ? "" : texts.front().text;
    head.draw = [this, row, number, numberStyle, titleLeft, titleRoom, titleLine, title, status, timesTop,
                 tempo] (cairo_t* cairo, double x, double y)
    {
        fillBox (cairo, x, y, width, 1.2, night);
        const double base = y + 14 + 19;
        words.line (cairo, number, numberStyle, x, base);
        words.block (cairo, title, { Face::words, 13, true }, x + titleLeft, base - titleLine, titleRoom);
        words.line (cairo, status, rowWords, x + width, base, Align::right);
        const auto time = [&] (double left, const std::string& what, const std::string& timecode, const std::string& clock)
        {
            words.line (cairo, what, label, x + left, y + timesTop + 8);
            words.line (cairo, timecode, { Face::figures, 10 }, x + left, y + timesTop + 21);
            if (! clock.empty())
                words.line (cairo, clock, quietFigures, x + left + words.measure (timecode, { Face::figures, 10 }).width + 8,
                            y + timesTop + 21);
        };
        const auto end = [&] (double left, const std::string& what, const std::optional<film::PlaceTimes>& at)
        {
            if (! at)
                return time (left, what, "lost", "");
            const auto timecode = paperTimecode (*at);
            const std::string reel = at->reel > 0 ? ", reel " + std::to_string (at->reel + 1) : "";
            time (left, what + reel + (timecode.day.empty() ? "" : " " + timecode.day), timecode.label,
                  time::clockText (at->clock));
        };
        end (0, "in", row.in);
        end (width * 0.31, "out", row.out);
        time (width * 0.62, "length", row.length ? time::clockText (*row.length) : "not in one reel", "");
        if (! tempo.empty())
            time (width * 0.82, "beats a minute", tempo, "");
    };
    blocks.push_back (std::move (head));
    const auto heading = continued (cue.number, cue.title);
    blocks.push_back (ends (in, out));
    blocks.back().keepWithNext = true;
    blocks.back().heading = heading;
    for (std::size_t i = 0; i < below.size(); ++i)
    {
        Block block;
        block.height = below[i].height;
        block.spaceBefore = i == 0 ? 6 : below[i].before;
        block.keepWithNext = true;
        block.heading = heading;
        block.draw = [this, piece = below[i]] (cairo_t* cairo, double x, double y)
        { words.block (cairo, piece.text, piece.style, x, y, width - 60); };
        blocks.push_back (std::move (block));
    }
    if (hits.empty())
        blocks.back().keepWithNext = false;
    hitRows (blocks, hits, heading);
}

void SpottingRows::section (std::vector<Block>& blocks, const std::string& heading, const std::string& about,
                            const std::vector<NotesHit>& hits) const
{
    if (hits.empty())
        return;
    Block head;
    head.height = 44;
    head.spaceBefore = 26;
    head.keepWithNext = true;
    head.draw = [this, heading, about] (cairo_t* cairo, double x, double y)
    {
        fillBox (cairo, x, y, width, 1.2, night);
        words.line (cairo, heading, { Face::words, 13, true }, x, y + 22);
        words.line (cairo, about, label, x, y + 36);
    };
    blocks.push_back (std::move (head));
    hitRows (blocks, hits, continued ("", heading));
}

void SpottingRows::sentence (std::vector<Block>& blocks, const std::string& text) const
{
    Block block;
    block.height = 16;
    block.spaceBefore = 24;
    block.draw = [this, text] (cairo_t* cairo, double x, double y) { words.line (cairo, text, { Face::words, 10 }, x, y + 12); };
    blocks.push_back (std::move (block));
}
} // namespace shutterbeat::sheets
