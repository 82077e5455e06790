#pragma once

#include "spotting/Carry.h"
#include "spotting/RecutEdit.h"
#include "spotting/RecutRows.h"
#include "spotting/Remedies.h"

#include <optional>
#include <string>
#include <vector>

namespace shutterbeat::window
{
class Bench;

/// From one edition to the next: a new print matched, what is in doubt decided, what happened to hits and cues. Window thread
/// only; matching runs away from it.
class RecutDesk
{
public:
    explicit RecutDesk (Bench& owner)
        : bench (owner)
    {
    }

    /// Matches a new print of the film with the edition worked on, as one step.
    void start (const std::string& path);

    /// Works out anew what there is to show when the book has changed.
    void refresh();
    [[nodiscard]] const std::vector<spotting::PendingMatch>& pending() const { return waiting; }
    [[nodiscard]] const std::vector<spotting::RecutRow>& changes() const { return rows; }
    [[nodiscard]] const spotting::Carried* carried() const { return all ? &*all : nullptr; }

    /// What may be done for each change of a cue's length, least change first.
    [[nodiscard]] const std::vector<spotting::InsideRemedies>& remedies() const { return ways; }

    /// The pending match that is looked at.
    [[nodiscard]] const spotting::PendingMatch* looked() const;
    void look (std::size_t which);
    /// How many film frames the old run is held later than proposed, before it is decided.
    [[nodiscard]] std::int64_t moved() const { return movedBy; }
    void move (std::int64_t filmFrames);
    /// A film frame further into both runs, or back.
    [[nodiscard]] std::int64_t into() const { return frameIn; }
    void step (std::int64_t filmFrames);
    void decide (spotting::Answer answer);

private:
    Bench& bench;
    std::vector<spotting::PendingMatch> waiting;
    std::vector<spotting::RecutRow> rows;
    std::vector<spotting::InsideRemedies> ways;
    std::optional<spotting::Carried> all;
    std::optional<spotting::Book> seen;
    std::size_t at = 0;
    std::int64_t movedBy = 0, frameIn = 0;
};
} // namespace shutterbeat::window
