#pragma once

#include "play/Showing.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// A live showing under way: follows the house's projector by what the player does. Window thread only.
class LiveDesk
{
public:
    explicit LiveDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Lays the film out for the house and waits for the first picture. Says so when there is no film.
    void open();
    void close();
    [[nodiscard]] bool isOpen() const { return opened; }
    [[nodiscard]] const play::Showing& show() const { return showing; }
    /// Seconds of the house's clock.
    [[nodiscard]] double clock() const;

    /// "18" film frames a second throughout, "95%" of the book's speeds, "book". Said when it is none of these.
    void setHouse (const std::string& typed);
    [[nodiscard]] std::string houseText() const;

    /// `at`: when the key went down, nanoseconds of the machine's clock.
    void tap (std::int64_t at);
    /// First picture of a reel, or the reel is over.
    void startOrHold();
    /// The print lacks what should be on the screen now: it is struck out up to the next card.
    void skipScene();
    void takeBack();

    void typeLetter (char letter);
    void dropLetter();
    [[nodiscard]] const std::string& letters() const { return typed; }
    [[nodiscard]] std::vector<std::size_t> matches() const;
    /// The first match is on the screen now.
    void jumpToMatch();
    void clearLetters() { typed.clear(); }

    /// The last thing that happened, for the line at the foot.
    std::string said;
    /// The next key or MIDI message that comes becomes the tap.
    bool learning = false;

private:
    void keep();

    Bench& bench;
    bool opened = false;
    std::optional<double> oneSpeed; ///< film frames a second; none: the book's speeds
    double scale = 1;               ///< of the book's speeds
    play::Showing showing;
    std::vector<play::Showing> before;
    std::string typed;
};
} // namespace shutterbeat::window
