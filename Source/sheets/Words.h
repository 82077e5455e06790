#pragma once

#include "sheets/Dye.h"

#include <pango/pangocairo.h>

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::sheets
{
/// What a text is, and so what it is set in.
enum class Face
{
    words,   ///< Inter
    figures, ///< JetBrains Mono: every number that lines up
    wording  ///< EB Garamond Italic: what a card says
};

/// How a text is set. Sizes and all other lengths in points.
struct Style
{
    Face face = Face::words;
    double size = 9;
    bool strong = false;
    Dye ink = black;
};

/// Lettering that most sheets share: names of values, values, figures, and figures read second.
inline constexpr Style label{ Face::words, 7.5, false, quiet };
inline constexpr Style value{ Face::words, 9.5 };
inline constexpr Style figures{ Face::figures, 9 };
inline constexpr Style quietFigures{ Face::figures, 7.5, false, quiet };

enum class Align
{
    left,
    right,
    centre
};

/// Size of a text as set.
struct Extent
{
    double width = 0, height = 0;
    double baseline = 0; ///< of the first line, from its top
};

/// Sets text through Pango, the same on every machine with the same fonts: no hinting, no rounding of positions,
/// tabular figures, text normalised to composed letters (NFC). Remembers each character that no font has.
class Words
{
public:
    Words();

    /// Wraps at `width`; 0: one line.
    [[nodiscard]] Extent measure (const std::string& text, const Style& style, double width = 0);
    /// One line with its baseline at y; x is its left end, right end or centre.
    void line (cairo_t* cairo, const std::string& text, const Style& style, double x, double y, Align align = Align::left);
    /// Wrapped at `width` from its top at y. Answers its height.
    double block (cairo_t* cairo, const std::string& text, const Style& style, double x, double y, double width);
    /// The text wrapped at `width` and cut after every `lines` lines, so that each piece can stand on another page.
    [[nodiscard]] std::vector<std::string> pieces (const std::string& text, const Style& style, double width, int lines);
    /// The text on one line, cut with an ellipsis where it is wider than `width`.
    [[nodiscard]] std::string fitted (const std::string& text, const Style& style, double width);

    /// One sentence a character that no installed font has, naming it and a text it stands in.
    [[nodiscard]] std::vector<std::string> missingLetters() const;

private:
    struct Unref
    {
        void operator() (gpointer object) const { g_object_unref (object); }
    };
    using Layout = std::unique_ptr<PangoLayout, Unref>;

    Layout layout (const std::string& text, const Style& style, double width);
    void noteMissing (PangoLayout* set, const std::string& text);

    std::unique_ptr<PangoFontMap, Unref> map;
    std::unique_ptr<PangoContext, Unref> context;
    std::map<gunichar, std::string> missing; ///< and the first text it stands in
};

/// Text in composed letters (NFC); bytes that are not UTF-8 become U+FFFD.
std::string composed (const std::string& text);
} // namespace shutterbeat::sheets
