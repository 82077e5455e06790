#include "window/TempoCurve.h"

#include "window/Controls.h"

#include <algorithm>
#include <cmath>

namespace shutterbeat::window
{
namespace
{
constexpr float axisHeight = 22.0f;

juce::String tempoWords (double beatsPerMinute)
{
    return juce::String (beatsPerMinute, 2);
}
} // namespace

float TempoCurve::Scale::x (double tempo) const
{
    return box.getX() + static_cast<float> ((tempo - lowest) / (highest - lowest)) * box.getWidth();
}

float TempoCurve::Scale::y (double value) const
{
    return box.getY() + static_cast<float> (1 - std::min (1.0, value / most)) * box.getHeight();
}

double TempoCurve::Scale::tempo (float at) const
{
    return lowest + static_cast<double> ((at - box.getX()) / box.getWidth()) * (highest - lowest);
}

TempoCurve::TempoCurve (TempoDesk& theDesk)
    : desk (theDesk)
{
    setComponentID ("tempo.curve");
    setTitle ("Error over tempo");
    setMouseClickGrabsKeyboardFocus (false);
}

TempoCurve::Scale TempoCurve::scale() const
{
    Scale by;
    by.box = getLocalBounds().toFloat().reduced (8.0f, 8.0f).withTrimmedBottom (axisHeight);
    by.lowest = desk.wish().fit.lowest;
    by.highest = std::max (by.lowest + .01, desk.wish().fit.highest);
    double most = 0;
    if (const auto* answer = desk.answer())
        for (std::size_t i = 0; i < answer->curve.size(); ++i)
            most = std::max ({ most, answer->chance[i] * 1.2,
                               answer->curve[i].fits() ? std::min (answer->curve[i].value, 2 * answer->chance[i]) : 0 });
    by.most = std::max (most, 1e-9);
    return by;
}

/// A point a pixel, the best of its tempos, so that no valley is lost.
void TempoCurve::paintCurve (juce::Graphics& g, const Scale& by, const desk::TempoAnswer& answer) const
{
    const auto& colours = theme();
    const auto columns = static_cast<std::size_t> (std::max (1.0f, by.box.getWidth()));
    const auto each = std::max<std::size_t> (1, answer.curve.size() / columns);
    juce::Path curve, chance;
    bool drawing = false;
    for (std::size_t i = 0; i < answer.curve.size(); i += each)
    {
        const auto end = std::min (answer.curve.size(), i + each);
        const auto* best = &answer.curve[i];
        for (std::size_t k = i; k < end; ++k)
            if (answer.curve[k].value < best->value)
                best = &answer.curve[k];
        const juce::Point<float> luck (by.x (answer.curve[i].beatsPerMinute), by.y (answer.chance[i]));
        i == 0 ? chance.startNewSubPath (luck) : chance.lineTo (luck);
        if (! best->fits())
        {
            drawing = false;
            continue;
        }
        const juce::Point<float> point (by.x (best->beatsPerMinute), by.y (best->value));
        drawing ? curve.lineTo (point) : curve.startNewSubPath (point);
        drawing = true;
    }
    juce::Path dashed;
    const float dashes[] = { 4.0f, 4.0f };
    juce::PathStrokeType (1.2f).createDashedStroke (dashed, chance, dashes, 2);
    g.setColour (colours.quiet);
    g.fillPath (dashed);
    g.setColour (colours.night);
    g.strokePath (curve, juce::PathStrokeType (1.6f, juce::PathStrokeType::curved));
}

void TempoCurve::paintAxis (juce::Graphics& g, const Scale& by) const
{
    const auto& colours = theme();
    const auto numbers = font (Face::numbers, size::small);
    const double range = by.highest - by.lowest;
    double step = 1;
    for (const double next : { 2.0, 5.0, 10.0, 20.0, 40.0 })
        if (range / step * 44 > static_cast<double> (by.box.getWidth()))
            step = next;
    g.setColour (colours.raised);
    g.fillRect (by.box.getX(), by.box.getBottom(), by.box.getWidth(), 1.0f);
    for (double tempo = std::ceil (by.lowest / step) * step; tempo <= by.highest; tempo += step)
    {
        g.setColour (colours.raised);
        g.fillRect (by.x (tempo), by.box.getY(), 1.0f, by.box.getHeight());
        drawLine (g, juce::String (juce::roundToInt (tempo)), { by.x (tempo) - 22, by.box.getBottom() + 3, 44, axisHeight - 3 },
                  numbers, colours.quiet, juce::Justification::centred);
    }
}

void TempoCurve::paint (juce::Graphics& g)
{
    const auto& colours = theme();
    g.setColour (colours.ground);
    g.fillRoundedRectangle (getLocalBounds().toFloat(), 4.0f);
    const auto* answer = desk.answer();
    const auto by = scale();
    paintAxis (g, by);
    if (answer == nullptr)
        return drawLine (g, desk.busy() ? "Looking for tempos..." : "", by.box, font (Face::words, size::usual), colours.quiet,
                         juce::Justification::centred);
    paintCurve (g, by, *answer);
    for (std::size_t i = answer->best.size(); i-- > 0;)
    {
        const auto& point = answer->best[i].point;
        const bool chosen = desk.chosen() == i;
        const float radius = chosen ? 5.5f : 3.5f;
        const juce::Point<float> at (by.x (point.beatsPerMinute), by.y (point.value));
        if (chosen)
        {
            g.setColour (colours.lamp.withAlpha (0.35f));
            g.fillRect (at.x - 0.75f, by.box.getY(), 1.5f, by.box.getHeight());
        }
        g.setColour (chosen ? colours.lamp : colours.text);
        g.fillEllipse (at.x - radius, at.y - radius, 2 * radius, 2 * radius);
    }
    if (desk.tapped())
    {
        const float x = by.x (desk.tapped()->beatsPerMinute());
        juce::Path wedge;
        wedge.addTriangle (x - 5, by.box.getY(), x + 5, by.box.getY(), x, by.box.getY() + 8);
        g.setColour (colours.woods);
        g.fillPath (wedge);
    }
    if (under)
        drawLine (g, tempoWords (*under), by.box.withTop (by.box.getY() + 16).withHeight (16).reduced (4, 0),
                  font (Face::numbers, size::small), colours.text, juce::Justification::centredRight);
    drawLine (g, "dashed: what chance alone gives", by.box.withHeight (16).reduced (4, 0), font (Face::words, size::small),
              colours.quiet, juce::Justification::centredRight);
}

void TempoCurve::mouseMove (const juce::MouseEvent& event)
{
    const auto by = scale();
    under = juce::jlimit (by.lowest, by.highest, by.tempo (event.position.x));
    repaint();
}

void TempoCurve::mouseExit (const juce::MouseEvent&)
{
    under.reset();
    repaint();
}

void TempoCurve::mouseDown (const juce::MouseEvent& event)
{
    desk.chooseNear (scale().tempo (event.position.x));
}
} // namespace shutterbeat::window
