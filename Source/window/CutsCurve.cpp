#include "window/CutsCurve.h"

#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
CutsCurve::CutsCurve (Bench& theBench)
    : bench (theBench)
{
    setComponentID ("film.curve");
    setTitle ("Change of picture along the reel, and the threshold for cuts");
    setMouseClickGrabsKeyboardFocus (false);
}

juce::Rectangle<float> CutsCurve::plot() const
{
    return getLocalBounds().toFloat().reduced (6.0f, 8.0f);
}

float CutsCurve::yOf (double value) const
{
    // Weak changes are the ones to be told apart: they get the greater part of the height.
    return plot().getBottom() - static_cast<float> (std::sqrt (std::clamp (value, 0.0, 1.0))) * plot().getHeight();
}

bool CutsCurve::onLine (float y) const
{
    return std::abs (y - yOf (bench.cuts.threshold())) < 7;
}

void CutsCurve::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.setColour (colours.ground);
    g.fillRoundedRectangle (getLocalBounds().toFloat(), 4.0f);
    const auto* result = bench.cuts.result();
    const auto box = plot();
    if (result == nullptr || result->curve.empty())
        return drawLine (g, bench.job ? "Looking through the film..." : "Not looked through yet", box,
                         font (Face::words, size::usual), colours.quiet, juce::Justification::centred);
    const auto columns = std::max (1, juce::roundToInt (box.getWidth()));
    const auto frames = result->curve.size();
    const float cutAt = yOf (bench.cuts.threshold());
    for (int x = 0; x < columns; ++x)
    {
        const auto from = frames * static_cast<std::size_t> (x) / static_cast<std::size_t> (columns);
        const auto to = std::max (from + 1, frames * static_cast<std::size_t> (x + 1) / static_cast<std::size_t> (columns));
        float most = 0;
        for (auto i = from; i < std::min (frames, to); ++i)
            most = std::max (most, result->curve[i]);
        const float y = yOf (most);
        g.setColour (y <= cutAt ? colours.night : colours.quiet.withAlpha (0.7f));
        g.fillRect (box.getX() + static_cast<float> (x), y, 1.0f, box.getBottom() - y);
    }
    if (const auto here = bench.cuts.fileFrameShown())
    {
        g.setColour (colours.lamp);
        g.fillRect (box.getX() + static_cast<float> (*here) / static_cast<float> (frames) * box.getWidth() - 0.75f, box.getY(),
                    1.5f, box.getHeight());
    }
    g.setColour (colours.rose);
    g.fillRect (box.getX(), cutAt - 0.75f, box.getWidth(), 1.5f);
    juce::Path grip;
    grip.addTriangle (box.getRight(), cutAt - 6, box.getRight(), cutAt + 6, box.getRight() - 8, cutAt);
    g.fillPath (grip);
}

void CutsCurve::mouseMove (const juce::MouseEvent& event)
{
    setMouseCursor (onLine (event.position.y) ? juce::MouseCursor::UpDownResizeCursor : juce::MouseCursor::NormalCursor);
}

void CutsCurve::mouseDown (const juce::MouseEvent& event)
{
    drawing = onLine (event.position.y);
    mouseDrag (event);
}

void CutsCurve::mouseDrag (const juce::MouseEvent& event)
{
    const auto box = plot();
    if (drawing)
    {
        const double height = static_cast<double> ((box.getBottom() - event.position.y) / box.getHeight());
        return bench.cuts.setThreshold (height <= 0 ? 0 : height * height);
    }
    const auto* result = bench.cuts.result();
    if (result == nullptr)
        return;
    const double part = std::clamp (static_cast<double> ((event.position.x - box.getX()) / box.getWidth()), 0.0, 1.0);
    bench.cuts.goToFileFrame (std::clamp<std::int64_t> (std::llround (part * static_cast<double> (result->fileFrames)), 0,
                                                        std::max<std::int64_t> (0, result->fileFrames - 1)));
}
} // namespace shutterbeat::window
