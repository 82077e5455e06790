#pragma once

#include "spotting/SpeedTable.h"

#include <optional>
#include <string>

namespace shutterbeat::window
{
class Bench;

/// Running speeds along the edition: what a speed would do is told before it is taken. Window thread only.
class SpeedsDesk
{
public:
    explicit SpeedsDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// How far a speed reaches.
    enum class Reach
    {
        shot, ///< the one on screen
        run,  ///< those beside it that have its speed now
        film
    };
    [[nodiscard]] Reach reach() const { return reaches; }
    void setReach (Reach to);
    [[nodiscard]] const std::string& typed() const { return words; }
    /// "18", "200/11", "80ft/min"; what it would do is worked out at once where it can be read.
    void type (const std::string& speed);
    /// What the typed speed would do, in a sentence; why it can't be read; empty while nothing is typed.
    [[nodiscard]] std::string effect() const;
    /// One step.
    void take();

private:
    [[nodiscard]] Result<spotting::Book> changed() const;

    Bench& bench;
    Reach reaches = Reach::film;
    std::string words;
};
} // namespace shutterbeat::window
