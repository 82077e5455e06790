#include "spotting/History.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
/// `book` with no counter below that of `other`; a person it does not know comes in when ids were given out for them.
void keepCounters (Book& book, const Book& other)
{
    auto people = book.people.list();
    bool changed = false;
    for (const auto& person : other.people)
    {
        const auto found = std::find_if (people.begin(), people.end(), [&] (const Person& p) { return p.id == person.id; });
        if (found == people.end())
        {
            if (person.lastNumber == 0)
                continue;
            people.push_back (person);
        }
        else if (found->lastNumber < person.lastNumber)
            found->lastNumber = person.lastNumber;
        else
            continue;
        changed = true;
    }
    if (changed)
        book.people = std::move (people);
}
} // namespace

void History::goTo (std::size_t step)
{
    keepCounters (steps[step].book, steps[at].book);
    at = step;
}

void History::undo()
{
    if (canUndo())
        goTo (at - 1);
}

void History::redo()
{
    if (canRedo())
        goTo (at + 1);
}

void History::did (std::string name, Book book, std::vector<std::string> selected)
{
    if (book == steps[at].book)
        return;
    steps.resize (at + 1, steps.front());
    steps.push_back ({ std::move (name), std::move (book), std::move (selected) });
    ++at;
}
} // namespace shutterbeat::spotting
