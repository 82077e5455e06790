#include "window/Marks.h"

#include "spotting/MarkShapes.h"

#include <cmath>

namespace shutterbeat::window
{
namespace
{
/// Points in a box of 1 x 1.
juce::Path polygon (juce::Rectangle<float> box, std::initializer_list<juce::Point<float>> points)
{
    juce::Path path;
    bool first = true;
    for (const auto& point : points)
    {
        const auto at = box.getRelativePoint (point.x, point.y);
        first ? path.startNewSubPath (at) : path.lineTo (at);
        first = false;
    }
    path.closeSubPath();
    return path;
}
} // namespace

juce::Path markShape (spotting::HitKind kind, juce::Rectangle<float> box)
{
    juce::Path path;
    path.setUsingNonZeroWinding (false); // rings and frames keep their holes
    const auto at = [&] (double x, double y) { return box.getRelativePoint (static_cast<float> (x), static_cast<float> (y)); };
    using Kind = spotting::MarkStep::Kind;
    for (const auto& step : spotting::markShape (kind))
        switch (step.kind)
        {
        case Kind::move:
            path.startNewSubPath (at (step.x, step.y));
            break;
        case Kind::line:
            path.lineTo (at (step.x, step.y));
            break;
        case Kind::curve:
            path.cubicTo (at (step.x1, step.y1), at (step.x2, step.y2), at (step.x, step.y));
            break;
        case Kind::close:
            path.closeSubPath();
            break;
        }
    return path;
}

void drawMark (juce::Graphics& g, juce::Rectangle<float> box, spotting::HitKind kind, spotting::Weight weight, bool open,
               juce::Colour colour, juce::Colour dot)
{
    const float line = juce::jmax (1.1f, box.getWidth() * 0.09f);
    const auto inside = box.reduced (line * 0.5f);
    const auto shape = markShape (kind, inside);
    g.setColour (colour);
    if (const double from = spotting::markFillFrom (weight); from < 1)
    {
        const juce::Graphics::ScopedSaveState saved (g);
        const int top = juce::roundToInt (inside.getY() + static_cast<float> (from) * inside.getHeight());
        if (from <= 0 || g.reduceClipRegion (box.expanded (1).toNearestInt().withTop (top)))
            g.fillPath (shape);
    }
    g.strokePath (shape, juce::PathStrokeType (line, juce::PathStrokeType::curved));
    if (open)
    {
        // As on paper, but no smaller than the eye needs on a screen.
        const spotting::MarkDot place;
        const float r = juce::jmax (1.5f, box.getWidth() * static_cast<float> (place.radius));
        const auto centre = box.getRelativePoint (static_cast<float> (place.x), static_cast<float> (place.y));
        g.setColour (dot);
        g.fillEllipse (centre.x - r, juce::jmin (centre.y, box.getY() - r) - r, 2 * r, 2 * r);
    }
}

juce::Path signShape (Sign sign, juce::Rectangle<float> box)
{
    juce::Path path;
    const auto bar = [&] (float x, float width)
    { path.addRectangle (box.getX() + box.getWidth() * x, box.getY(), box.getWidth() * width, box.getHeight()); };
    switch (sign)
    {
    case Sign::play:
        return polygon (box, { { 0.12f, 0.0f }, { 1.0f, 0.5f }, { 0.12f, 1.0f } });
    case Sign::pause:
        bar (0.14f, 0.24f);
        bar (0.62f, 0.24f);
        return path;
    case Sign::stepOn:
        path = polygon (box, { { 0.36f, 0.1f }, { 0.96f, 0.5f }, { 0.36f, 0.9f } });
        bar (0.08f, 0.12f);
        return path;
    case Sign::stepBack:
        path = polygon (box, { { 0.64f, 0.1f }, { 0.04f, 0.5f }, { 0.64f, 0.9f } });
        bar (0.80f, 0.12f);
        return path;
    case Sign::cutOn:
        path = polygon (box, { { 0.0f, 0.1f }, { 0.56f, 0.5f }, { 0.0f, 0.9f } });
        path.addPath (markShape (spotting::HitKind::cut, box.withTrimmedLeft (box.getWidth() * 0.6f)));
        return path;
    case Sign::cutBack:
        path = signShape (Sign::cutOn, box);
        path.applyTransform (juce::AffineTransform::scale (-1, 1, box.getCentreX(), box.getCentreY()));
        return path;
    case Sign::tick:
    case Sign::brokenTick:
    {
        juce::Path line;
        line.startNewSubPath (box.getRelativePoint (0.08f, 0.55f));
        line.lineTo (sign == Sign::tick ? box.getRelativePoint (0.38f, 0.85f) : box.getRelativePoint (0.3f, 0.8f));
        if (sign == Sign::tick)
            line.lineTo (box.getRelativePoint (0.94f, 0.16f));
        else
        {
            line.startNewSubPath (box.getRelativePoint (0.68f, 0.46f));
            line.lineTo (box.getRelativePoint (1.0f, 0.02f));
        }
        juce::PathStrokeType (box.getWidth() * 0.16f, juce::PathStrokeType::mitered, juce::PathStrokeType::rounded)
            .createStrokedPath (path, line);
        return path;
    }
    case Sign::gate: // an aperture between two rows of perforations
        path.addRoundedRectangle (box.getX() + box.getWidth() * 0.28f, box.getY() + box.getHeight() * 0.2f, box.getWidth() * 0.44f,
                                  box.getHeight() * 0.6f, box.getWidth() * 0.06f);
        for (int i = 0; i < 3; ++i)
            for (const float x : { 0.04f, 0.82f })
                path.addRoundedRectangle (box.getX() + box.getWidth() * x,
                                          box.getY() + box.getHeight() * (0.06f + 0.34f * static_cast<float> (i)),
                                          box.getWidth() * 0.14f, box.getHeight() * 0.2f, box.getWidth() * 0.04f);
        return path;
    }
    return path;
}
} // namespace shutterbeat::window
