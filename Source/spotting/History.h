#pragma once

#include "spotting/Book.h"

#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// One state of a book in its history.
struct HistoryStep
{
    std::string name; ///< what was done to get here: "add hit"
    Book book;
    std::vector<std::string> selected; ///< ids selected after it
};

/// The states of a book, oldest first, and where we are among them. The first has no name.
class History
{
public:
    explicit History (Book book, std::vector<std::string> selected = {})
    {
        steps.push_back ({ "", std::move (book), std::move (selected) });
    }

    [[nodiscard]] const Book& book() const { return steps[at].book; }
    [[nodiscard]] const std::vector<std::string>& selected() const { return steps[at].selected; }
    /// Selection belongs to a state but changing it is no step.
    void select (std::vector<std::string> ids) { steps[at].selected = std::move (ids); }

    /// Adds a step unless the book is unchanged; what had been undone is forgotten.
    void did (std::string name, Book book, std::vector<std::string> selected);
    [[nodiscard]] bool canUndo() const { return at > 0; }
    [[nodiscard]] bool canRedo() const { return at + 1 < steps.size(); }
    /// Name of the step that undo() takes back, or redo() does again.
    [[nodiscard]] std::string undoName() const { return canUndo() ? steps[at].name : ""; }
    [[nodiscard]] std::string redoName() const { return canRedo() ? steps[at + 1].name : ""; }
    /// Undo and redo bring back all of a state but the counters of ids: a number that was given out stays given out, for
    /// another copy of the book may hold it already.
    void undo();
    void redo();
    [[nodiscard]] const std::vector<HistoryStep>& all() const { return steps; }
    [[nodiscard]] std::size_t position() const { return at; }

private:
    void goTo (std::size_t step);

    std::vector<HistoryStep> steps;
    std::size_t at = 0;
};
} // namespace shutterbeat::spotting
