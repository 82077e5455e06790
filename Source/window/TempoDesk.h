#pragma once

#include "desk/CueFit.h"
#include "music/Tap.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// One tempo for a cue's hits, as it is being looked for: what was asked, what fits, which of the tempos listed is looked at.
/// Nothing is written until take(). Window thread only; the fit itself runs away from it.
class TempoDesk
{
public:
    explicit TempoDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// The cue at the picture on screen, or the selected one, becomes the one worked on, when there is one.
    void follow();
    /// The next or previous cue of the film (1, -1).
    void toCue (int direction);
    [[nodiscard]] const std::string& cue() const { return cueId; }

    [[nodiscard]] const desk::TempoWish& wish() const { return theWish; }
    void setMeasure (music::FitMeasure measure);
    void setGrid (double beats);
    void setMustsBind (bool bind);
    void setFromIn (bool fromIn);
    /// "80-120". Said when it makes no sense.
    void setRange (const std::string& typed);
    [[nodiscard]] std::string rangeText() const;

    /// Fits anew when the cue, its hits or what is asked have changed; called whenever the bench has changed.
    void refresh();
    [[nodiscard]] bool busy() const { return fitting; }
    /// What was found last; none while nothing was, see trouble().
    [[nodiscard]] const desk::TempoAnswer* answer() const { return found ? &*found : nullptr; }
    [[nodiscard]] const std::string& trouble() const { return why; }

    /// Looks at one of the tempos listed, or nothing.
    void choose (std::optional<std::size_t> which);
    void chooseNext (int direction);
    /// The one of the list that is nearest to a tempo.
    void chooseNear (double beatsPerMinute);
    [[nodiscard]] std::optional<std::size_t> chosen() const { return which; }
    /// The book as it would be with the tempo looked at: what is heard and seen meanwhile. None: nothing is looked at.
    [[nodiscard]] std::optional<spotting::Book> tried() const;
    /// The same, as the map alone and seconds of bar 1 from the cue's in.
    [[nodiscard]] std::optional<std::pair<music::TempoMap, time::Rational>> triedMap() const;
    /// Plays the cue from its start with the click of the tempo looked at.
    void hear();
    /// The tempo looked at becomes the cue's, as one step.
    void take();

    /// Somebody taps the beat along: seconds of the film's clock. After a few taps their tempo is said and the list looked
    /// at beside it.
    void tap();
    [[nodiscard]] const std::optional<music::Tapped>& tapped() const { return tapsFit; }
    /// What was tapped becomes the cue's tempo, bar 1 on the first beat.
    void takeTapped();

private:
    void ask();

    Bench& bench;
    std::string cueId;
    desk::TempoWish theWish;
    std::optional<desk::TempoAnswer> found;
    std::string why;
    std::optional<std::size_t> which;
    bool fitting = false, again = false;
    std::string askedCue;
    std::optional<spotting::Book> askedOf; ///< the book the last fit was made of
    std::vector<double> taps;
    std::optional<music::Tapped> tapsFit;
};
} // namespace shutterbeat::window
