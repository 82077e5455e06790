#pragma once

#include "overlay/Patch.h"

#include <pango/pangocairo.h>

#include <functional>
#include <memory>
#include <string>

namespace shutterbeat::overlay
{
/// Draws one patch: `draw` gets a Cairo context in the coordinates of the whole screen or movie, clipped to the box.
/// The box is widened to even edges.
Patch sketch (const Box& box, const std::function<void (cairo_t*)>& draw);

/// What a text is set in.
enum class Face
{
    words,   ///< Inter
    figures, ///< JetBrains Mono: numbers
    wording  ///< EB Garamond Italic: what a card says
};

struct Lettering
{
    Face face = Face::words;
    double size = 12; ///< pixels
    bool strong = false;
    Dye ink = ivory;
};

enum class Align
{
    left,
    centre,
    right
};

/// Sets text through Pango the same way on every machine with the same fonts. One thread at a time.
class Letters
{
public:
    Letters();

    struct Extent
    {
        double width = 0, height = 0;
    };
    /// Wraps at `width` pixels, at most `lines` of them with an ellipsis after the last; width 0: one line.
    [[nodiscard]] Extent measure (const std::string& text, const Lettering& style, double width = 0, int lines = 0) const;
    /// From its top at y; within [x, x + width] aligned. Width 0: x is the left end, middle or right end of one line.
    void draw (cairo_t* cairo, const std::string& text, const Lettering& style, double x, double y, double width = 0, int lines = 0,
               Align align = Align::left) const;
    /// The largest size up to `largest` at which the text is one line within `width`.
    [[nodiscard]] double sizeFor (const std::string& text, Lettering style, double width, double largest) const;

private:
    struct Unref
    {
        void operator() (gpointer object) const { g_object_unref (object); }
    };
    using Layout = std::unique_ptr<PangoLayout, Unref>;
    [[nodiscard]] Layout layout (const std::string& text, const Lettering& style, double width, int lines) const;

    std::unique_ptr<PangoFontMap, Unref> map;
    std::unique_ptr<PangoContext, Unref> context;
};
} // namespace shutterbeat::overlay
