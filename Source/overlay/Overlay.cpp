#include "overlay/Overlay.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::overlay
{
namespace
{
constexpr const char* widestTimecode = "00:00:00:00";

Box boxAround (double x, double y, double width, double height)
{
    const int left = static_cast<int> (std::floor (x)), top = static_cast<int> (std::floor (y));
    return { left, top, static_cast<int> (std::ceil (x + width)) - left, static_cast<int> (std::ceil (y + height)) - top };
}
} // namespace

Overlay::Overlay (int width_, int height_, const Box& picture_, const Parts& parts_)
    : width (width_)
    , height (height_)
    , picture (picture_)
    , parts (parts_)
{
    const int narrower = std::min (picture.x, width - picture.right());
    beside = narrower >= std::max (72, width / 12);
    if (beside)
    {
        barWidth = narrower;
        pad = barWidth / 9;
        margin = std::max (pad, height / 24.0);
        figures = letters.sizeFor (widestTimecode, { Face::figures, 12, true }, barWidth - 2 * pad, height / 16.0);
    }
    else
    {
        margin = height / 30.0;
        figures = std::max (12.0, height / 24.0);
    }
    caption = std::max (9.0, figures * 0.68);
}

void Overlay::keep (const std::string& name, const std::string& key, const Box& box, const std::function<void (cairo_t*)>& paint)
{
    auto& last = drawn[name];
    if (last.key != key || ! last.patch.pixels)
    {
        last.key = key;
        last.patch = sketch (box, paint);
    }
    patches.push_back (last.patch);
}

std::vector<Patch> Overlay::draw (const Readout& given)
{
    Readout readout = given;
    const auto only = [] (bool wanted, std::string& text)
    {
        if (! wanted)
            text.clear();
    };
    only (parts.timecode, readout.timecode);
    only (parts.frame, readout.frame);
    only (parts.feet, readout.feet);
    only (parts.bar, readout.bar);
    only (parts.cue, readout.cueNumber);
    only (parts.cue, readout.cueTitle);
    only (parts.receiver, readout.receiver);
    if (! parts.countdown)
        readout.next.reset();
    patches.clear();
    if (beside)
        inBars (readout);
    else
        overPicture (readout);
    return std::move (patches);
}

/// A small name and a number under it, at the foot of the left bar; `bottom` moves up.
void Overlay::group (const char* name, const std::string& text, const std::string& widest, double& bottom)
{
    const Lettering small{ Face::words, caption, false, quiet };
    // What is short may be larger than the timecode, which fills the bar.
    Lettering number{ Face::figures, figures * 1.3, true, ivory };
    const double numberHeight = letters.measure ("0", number).height;
    number.size = letters.sizeFor (text.size() > widest.size() ? text : widest, number, barWidth - 2 * pad, number.size);
    const double nameHeight = letters.measure (name, small).height;
    const double top = bottom - nameHeight - numberHeight;
    if (! text.empty())
        keep (name, text, boxAround (0, top, barWidth, bottom - top),
              [&] (cairo_t* cairo)
              {
                  letters.draw (cairo, name, small, pad, top);
                  letters.draw (cairo, text, number, pad, top + nameHeight);
              });
    bottom = top - figures * 0.55;
}

void Overlay::inBars (const Readout& readout)
{
    const double inner = barWidth - 2 * pad;
    double bottom = height - margin;
    if (parts.timecode && ! readout.timecode.empty())
        group ("timecode", readout.timecode, widestTimecode, bottom);
    if (parts.frame)
        group ("film frame", readout.frame, "0000000", bottom);
    if (parts.feet)
        group ("feet", readout.feet, "00000+00", bottom);
    if (parts.bar)
        group ("bar | beat", readout.bar, "0000|00", bottom);

    const Lettering small{ Face::words, caption, false, quiet };
    if (! readout.cueNumber.empty() || ! readout.cueTitle.empty())
    {
        const Lettering number{ Face::words, figures * 1.15, true, night };
        const Lettering title{ Face::words, caption * 1.1, false, ivory };
        const double numberHeight = letters.measure ("1M1", number).height;
        const double titleHeight = letters.measure (readout.cueTitle, title, inner, 5).height;
        keep ("cue", readout.cueNumber + "\n" + readout.cueTitle,
              boxAround (0, margin, barWidth, numberHeight * 1.15 + titleHeight),
              [&] (cairo_t* cairo)
              {
                  letters.draw (cairo, readout.cueNumber, number, pad, margin, inner, 1);
                  letters.draw (cairo, readout.cueTitle, title, pad, margin + numberHeight * 1.15, inner, 5);
              });
    }

    const double left = width - barWidth + pad;
    if (readout.next)
    {
        const auto& next = *readout.next;
        const Lettering count{ Face::figures, figures * 1.9, true, lamplight };
        const double countHeight = letters.measure ("0", count).height;
        const double smallHeight = letters.measure ("0", small).height;
        const double labelTop = margin + smallHeight + countHeight * 1.02 + smallHeight * 1.6;
        const Lettering label{ next.wording ? Face::wording : Face::words, caption * (next.wording ? 1.35 : 1.1), false, ivory };
        const double markSize = next.mark ? figures * 0.95 : 0;
        // A mark may have a dot above it, a quarter of its size. Patches begin and end on even pixels, these two on the same.
        const double parting = 2 * std::floor ((labelTop - markSize * 0.4) / 2);
        keep ("count", next.seconds + "\n" + next.frames, boxAround (width - barWidth, margin, barWidth, parting - margin),
              [&] (cairo_t* cairo)
              {
                  letters.draw (cairo, "next hit in", small, left, margin);
                  letters.draw (cairo, next.seconds, count, left, margin + smallHeight, inner, 1);
                  letters.draw (cairo, next.frames + (next.frames == "1" ? " frame" : " frames"), small, left,
                                margin + smallHeight + countHeight);
              });
        const double words = labelTop + (next.mark ? markSize * 1.5 : 0);
        const double labelHeight = letters.measure (next.label, label, inner, 7).height;
        keep ("next", next.label + "\n" + next.markKey,
              boxAround (width - barWidth, parting, barWidth, words - parting + labelHeight),
              [&] (cairo_t* cairo)
              {
                  if (next.mark)
                      next.mark (cairo, left, labelTop, markSize);
                  letters.draw (cairo, next.label, label, left, words, inner, 7);
              });
    }
    if (! readout.receiver.empty())
    {
        const double tall = letters.measure (readout.receiver, small, inner, 6).height;
        keep ("receiver", readout.receiver, boxAround (width - barWidth, height - margin - tall, barWidth, tall),
              [&] (cairo_t* cairo) { letters.draw (cairo, readout.receiver, small, left, height - margin - tall, inner, 6); });
    }
}

/// Where a row at the upper or lower edge begins: in the middle of a bar that holds it, else inside the picture.
double Overlay::lineTop (bool atTop, double rowHeight) const
{
    const double bar = atTop ? picture.y : height - picture.bottom();
    if (bar >= rowHeight + 4)
        return atTop ? (bar - rowHeight) / 2 : height - (bar + rowHeight) / 2;
    return atTop ? picture.y + margin : picture.bottom() - margin - rowHeight;
}

/// A text on a dim ground as broad as the widest text it may hold, so that it does not jump.
void Overlay::panel (const char* name, const std::string& text, const std::string& widest, const Lettering& style, double x,
                     double y, Align align)
{
    const double edge = style.size * 0.4;
    const auto size = letters.measure (text.size() > widest.size() ? text : widest, style);
    const double wide = std::min (size.width, width - 2.0 * margin - 2 * edge), tall = size.height;
    const double left = align == Align::left ? x : align == Align::right ? x - wide - 2 * edge : x - wide / 2 - edge;
    keep (name, text, boxAround (left, y, wide + 2 * edge, tall + edge),
          [&] (cairo_t* cairo)
          {
              const double radius = edge * 0.7, right = left + wide + 2 * edge, foot = y + tall + edge;
              cairo_new_sub_path (cairo);
              cairo_arc (cairo, right - radius, y + radius, radius, -M_PI / 2, 0);
              cairo_arc (cairo, right - radius, foot - radius, radius, 0, M_PI / 2);
              cairo_arc (cairo, left + radius, foot - radius, radius, M_PI / 2, M_PI);
              cairo_arc (cairo, left + radius, y + radius, radius, M_PI, M_PI * 3 / 2);
              cairo_close_path (cairo);
              cairo_set_source_rgba (cairo, ground.red, ground.green, ground.blue, 0.66);
              cairo_fill (cairo);
              letters.draw (cairo, text, style, left + edge, y + edge / 2, wide + 1, 1, align);
          });
}

void Overlay::overPicture (const Readout& readout)
{
    const Lettering number{ Face::figures, figures, true, ivory };
    const Lettering words{ Face::words, caption, false, ivory };
    const double row = letters.measure ("0", number).height + number.size * 0.4;
    const double left = picture.x + margin, right = picture.right() - margin;
    const double foot = lineTop (false, row), top = lineTop (true, row);
    double x = left;
    const auto next = [&] (const char* name, const std::string& text, const std::string& widest, const Lettering& style)
    {
        if (text.empty())
            return;
        panel (name, text, widest, style, x, foot, Align::left);
        x += patches.back().box.width + figures * 0.35;
    };
    next ("timecode", readout.timecode, widestTimecode, number);
    const Lettering second{ Face::figures, figures, false, ivory };
    next ("film frame", readout.frame, "000000", second);
    next ("feet", readout.feet, "0000+00", second);
    next ("bar | beat", readout.bar, "000|0", { Face::figures, figures, true, night });
    if (! readout.receiver.empty())
    {
        // One line here, whatever it was written as. Beside the numbers where there is room, else above them.
        std::string receiver = readout.receiver;
        std::replace (receiver.begin(), receiver.end(), '\n', ' ');
        const auto wide = letters.measure (receiver, words).width + caption;
        panel ("receiver", receiver, "", words, right, wide < right - x ? foot : foot - row - figures * 0.35, Align::right);
    }
    if (! readout.cueNumber.empty() || ! readout.cueTitle.empty())
        panel ("cue", readout.cueNumber + (readout.cueNumber.empty() || readout.cueTitle.empty() ? "" : "  ") + readout.cueTitle,
               "", { Face::words, figures * 0.85, true, night }, left, top, Align::left);
    if (readout.next)
    {
        const auto& hit = *readout.next;
        panel ("count", hit.seconds + "  " + hit.frames, "00.0  0000", { Face::figures, figures, true, lamplight }, right, top,
               Align::right);
        if (! hit.label.empty())
            panel ("next", hit.label, "",
                   { hit.wording ? Face::wording : Face::words, caption * (hit.wording ? 1.3 : 1.0), false, ivory }, right,
                   top + row + figures * 0.3, Align::right);
    }
}
} // namespace shutterbeat::overlay
