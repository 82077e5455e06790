#pragma once

#include "window/Bench.h"
#include "window/PictureFeed.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
/// The film in true proportion of time: ruler, shots and card wordings, running speed, hits by their marks, cues with their bars,
/// sounds as waveforms. Along x runs the delivered time of all reels; a line at the top shows which part of it is in view.
class BandView final : public juce::Component
{
public:
    BandView (Bench& bench, PictureFeed& feed);

    /// Everything anew: the book, the selection or the zoom has changed.
    void refresh();
    /// Only where the film stands.
    void moved();

    /// x of the left edge of a delivered frame over all reels.
    [[nodiscard]] float xOf (double deliveredInAll) const;
    /// The film frame under x.
    [[nodiscard]] film::Position positionAt (float x) const;
    /// Where the loop is drawn, empty when there is none.
    [[nodiscard]] juce::Rectangle<float> loopBox() const;
    /// A hit's mark as it is drawn, empty when it is not in view. For the mouse and for tests.
    [[nodiscard]] juce::Rectangle<float> markOf (const std::string& hit) const;
    /// Where a sound is drawn, empty when it is not in view.
    [[nodiscard]] juce::Rectangle<float> boxOf (const std::string& sound) const;
    /// The part of the overview that stands for what is in view.
    [[nodiscard]] juce::Rectangle<float> viewBox() const;

    void paint (juce::Graphics& g) override;
    void resized() override { refresh(); }
    void mouseDown (const juce::MouseEvent& event) override;
    void mouseDrag (const juce::MouseEvent& event) override;
    void mouseUp (const juce::MouseEvent& event) override;
    void mouseDoubleClick (const juce::MouseEvent& event) override;
    void mouseWheelMove (const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override;

private:
    struct PlacedHit
    {
        std::size_t row = 0; ///< in times()->hits
        juce::Rectangle<float> mark;
        int hidden = 0; ///< hits behind this one that have no room of their own
    };
    struct PlacedSound
    {
        std::size_t row = 0; ///< in the book's sounds
        juce::Rectangle<float> box;
        double start = 0; ///< delivered seconds over all reels of its sample 0
    };
    [[nodiscard]] std::vector<PlacedHit> placedHits() const;
    [[nodiscard]] std::vector<PlacedSound> placedSounds() const;
    [[nodiscard]] double framesPerSecond() const;
    [[nodiscard]] double whole() const;
    [[nodiscard]] double span() const { return whole() / bench.bandZoom; }
    void keepInView (double deliveredInAll);
    void paintRuler (juce::Graphics& g);
    void paintFilm (juce::Graphics& g);
    void paintHits (juce::Graphics& g);
    void paintCues (juce::Graphics& g);
    void paintBars (juce::Graphics& g, const spotting::CueTimes& cue, juce::Rectangle<float> box);
    void paintLoop (juce::Graphics& g);
    void paintOverview (juce::Graphics& g);
    void paintSpeeds (juce::Graphics& g);
    void paintSounds (juce::Graphics& g);
    void paintSound (juce::Graphics& g, const PlacedSound& sound);
    void scrollTo (float x);
    void paintNow (juce::Graphics& g);
    /// What a drag catches on: where it lies, and its name.
    struct Catch
    {
        film::Position at;
        float x = 0;
        std::string name;
    };
    [[nodiscard]] std::optional<Catch> cutNear (float x) const;
    [[nodiscard]] std::optional<Catch> beatNear (float x) const;
    void dragHitTo (float x, bool free);
    void dragRangeTo (float x);
    [[nodiscard]] double deliveredOf (const film::PlaceTimes& at) const;

    Bench& bench;
    PictureFeed& feed;
    std::vector<PlacedHit> hits;
    std::vector<PlacedSound> sounds;
    std::vector<double> shotStarts; ///< delivered frame of each shot's head, and the end of the last
    double from = 0;                ///< delivered frame at the left edge
    double zoomSeen = 1;
    float lastNow = -1;
    float grabOffset = 0;
    std::string pressed; ///< hit under the mouse when it went down
    bool scrubbing = false, scrolling = false;
    std::optional<float> rangeFrom; ///< where a stretch is being marked from
};
} // namespace shutterbeat::window
