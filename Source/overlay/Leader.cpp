#include "overlay/Leader.h"

#include <algorithm>

namespace shutterbeat::overlay
{
std::vector<Patch> drawLeader (const Letters& letters, const Box& picture, const LeaderFrame& frame)
{
    std::vector<Patch> patches;
    const double tall = picture.height, middle = picture.x + picture.width / 2.0;
    const Lettering numeral{ Face::wording, tall * 0.42, false, ivory };
    const Lettering title{ Face::words, tall * 0.032, true, quiet };
    const Lettering details{ Face::words, tall * 0.024, false, quiet };
    const double edge = tall * 0.09;

    const auto number = std::to_string (frame.second);
    const auto size = letters.measure (number, numeral);
    const double top = picture.y + tall * 0.47 - size.height / 2;
    const auto whole = [] (double value) { return static_cast<int> (value); };
    patches.push_back (sketch ({ whole (middle - size.width), whole (top), whole (2 * size.width) + 2, whole (size.height) + 2 },
                               [&] (cairo_t* cairo) { letters.draw (cairo, number, numeral, middle, top, 0, 0, Align::centre); }));

    // A row of marks, one a frame, never broader than half the picture.
    const int count = std::max (1, frame.frames);
    const double step = std::min (tall * 0.02, picture.width * 0.5 / count);
    const double left = middle - step * (count - 1) / 2.0, y = picture.y + tall * 0.76, length = tall * 0.022;
    patches.push_back (sketch ({ whole (left - step), whole (y) - 1, whole (step * (count + 1)), whole (length) + 4 },
                               [&] (cairo_t* cairo)
                               {
                                   cairo_set_line_width (cairo, std::max (1.5, step * 0.3));
                                   for (int i = 0; i < count; ++i)
                                   {
                                       const auto& ink = i <= frame.frame ? lamplight : quiet;
                                       cairo_set_source_rgba (cairo, ink.red, ink.green, ink.blue, i <= frame.frame ? 1.0 : 0.3);
                                       cairo_move_to (cairo, left + step * i, y);
                                       cairo_line_to (cairo, left + step * i, y + length);
                                       cairo_stroke (cairo);
                                   }
                               }));

    const double inner = picture.width - 2 * edge;
    const auto line = [&] (const std::string& text, const Lettering& style, double at)
    {
        if (! text.empty())
            patches.push_back (sketch ({ whole (picture.x + edge), whole (at), whole (inner), whole (style.size * 1.5) },
                                       [&] (cairo_t* cairo)
                                       { letters.draw (cairo, text, style, picture.x + edge, at, inner, 1, Align::centre); }));
    };
    line (frame.title, title, picture.y + edge);
    line (frame.details, details, picture.bottom() - edge - details.size * 1.4);
    return patches;
}

Patch drawCard (const Letters& letters, const Box& picture, const std::string& wording)
{
    return sketch (picture,
                   [&] (cairo_t* cairo)
                   {
                       const double edge = picture.height * 0.07, inner = picture.width - 4.4 * edge;
                       cairo_set_source_rgba (cairo, quiet.red, quiet.green, quiet.blue, 0.6);
                       for (const double inset : { edge, edge * 1.14 })
                       {
                           cairo_set_line_width (cairo, inset > edge ? 1 : 2);
                           cairo_rectangle (cairo, picture.x + inset, picture.y + inset, picture.width - 2 * inset,
                                            picture.height - 2 * inset);
                           cairo_stroke (cairo);
                       }
                       // As large as fits: a long wording is set smaller.
                       Lettering style{ Face::wording, picture.height * 0.085, false, ivory };
                       auto size = letters.measure (wording, style, inner);
                       while (size.height > picture.height - 3.6 * edge && style.size > 8)
                       {
                           style.size *= 0.92;
                           size = letters.measure (wording, style, inner);
                       }
                       letters.draw (cairo, wording, style, picture.x + 2.2 * edge, picture.y + (picture.height - size.height) / 2,
                                     inner, 0, Align::centre);
                   });
}
} // namespace shutterbeat::overlay
