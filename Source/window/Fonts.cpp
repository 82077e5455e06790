#include "window/Fonts.h"

#include <array>

namespace shutterbeat::window
{
namespace
{
juce::Typeface::Ptr typefaceOf (Face face)
{
    static std::array<juce::Typeface::Ptr, 5> loaded;
    auto& typeface = loaded[static_cast<std::size_t> (face)];
    if (typeface == nullptr)
    {
        const auto file = fontFile (face);
        typeface = juce::Typeface::createSystemTypefaceFor (file.begin, static_cast<size_t> (file.end - file.begin));
        // JUCE takes the typefaces down before our statics go: let them go first, then.
        struct Release final : juce::DeletedAtShutdown
        {
            ~Release() override { loaded.fill (nullptr); }
        };
        static Release* release = new Release();
        juce::ignoreUnused (release);
    }
    return typeface;
}
} // namespace

// The one place that knows how a font is made: JUCE 8 has other constructors than JUCE 7.
juce::Font font (Face face, float height)
{
#if JUCE_MAJOR_VERSION >= 8
    return juce::Font (juce::FontOptions (typefaceOf (face)).withPointHeight (height));
#else
    juce::Font made (typefaceOf (face));
    made.setHeight (height * made.getHeight() / juce::jmax (1.0f, made.getHeightInPoints()));
    return made;
#endif
}

float textWidth (const juce::Font& font, const juce::String& text)
{
#if JUCE_MAJOR_VERSION >= 8
    return juce::GlyphArrangement::getStringWidth (font, text);
#else
    return font.getStringWidthFloat (text);
#endif
}
} // namespace shutterbeat::window
