#pragma once

namespace shutterbeat::window
{
/// What a piece of text is; each has its typeface.
enum class Face
{
    words,   ///< Inter
    strong,  ///< Inter Medium
    numbers, ///< JetBrains Mono: all that lines up
    clock,   ///< JetBrains Mono Light: the running timecode
    card     ///< EB Garamond Italic: what a card says
};

/// The bytes of a font file inside the program.
struct FontFile
{
    const unsigned char* begin;
    const unsigned char* end;
};
FontFile fontFile (Face face);
} // namespace shutterbeat::window
