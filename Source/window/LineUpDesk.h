#pragma once

#include "desk/LineUp.h"

#include <optional>
#include <string>

namespace shutterbeat::window
{
class Bench;

/// Recorded music against the picture, sound by sound. Window thread only; listening runs away from it.
class LineUpDesk
{
public:
    explicit LineUpDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Keeps to sounds the book has; what was heard of one that is placed otherwise now is dropped.
    void refresh();
    /// The sound at hand; null: the book has none.
    [[nodiscard]] const spotting::Sound* sound() const;
    [[nodiscard]] std::size_t number() const { return at; }
    void toSound (int direction);
    /// Shows the sound of that row of the book in the ledger.
    void choose (std::size_t row);
    /// Puts a sound file into the book: where its time stamp or name says, else at the picture on screen.
    void add (const std::string& path);
    /// Listens to the sound at hand and compares it with the hits.
    void check();
    [[nodiscard]] const desk::SoundLineUp* lined() const { return found ? &*found : nullptr; }
    /// The hit that is looked at: index into lined()->hits.
    [[nodiscard]] std::size_t hit() const { return hitAt; }
    void look (std::size_t which);
    /// Plays from a second before the hit looked at.
    void hear();

private:
    Bench& bench;
    std::size_t at = 0, hitAt = 0;
    std::optional<desk::SoundLineUp> found;
    std::optional<spotting::Book> heardIn; ///< the book it was compared with
};
} // namespace shutterbeat::window
