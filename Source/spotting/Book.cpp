#include "spotting/Book.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
template <class T>
const T* withId (const Section<T>& section, const std::string& id)
{
    const auto found = std::find_if (section.begin(), section.end(), [&] (const T& item) { return item.id == id; });
    return found == section.end() ? nullptr : &*found;
}
} // namespace

const film::Edition* editionOf (const Book& book, const std::string& letter)
{
    const auto found =
        std::find_if (book.editions.begin(), book.editions.end(), [&] (const film::Edition& e) { return e.letter == letter; });
    return found == book.editions.end() ? nullptr : &*found;
}

const HitPoint* hitOf (const Book& book, const std::string& id)
{
    return withId (book.hits, id);
}

const Cue* cueOf (const Book& book, const std::string& id)
{
    return withId (book.cues, id);
}

Result<Cue> cueNamed (const Book& book, const std::string& idOrNumber)
{
    if (const auto* cue = cueOf (book, idOrNumber))
        return *cue;
    const Cue* found = nullptr;
    for (const auto& cue : book.cues)
        if (cue.number == idOrNumber)
        {
            if (found != nullptr)
                return usageError ("cue " + idOrNumber, "two cues have that number; give the id, " + found->id + " or " + cue.id);
            found = &cue;
        }
    if (found == nullptr)
        return usageError ("cue " + idOrNumber, "the book has no cue of that id or number");
    return *found;
}

Result<film::Timings> timingsOf (const Book& book, const Asked& asked)
{
    const std::string letter = asked.edition.value_or (book.edition);
    const auto* edition = editionOf (book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    film::Edition changed = *edition;
    if (asked.running)
    {
        changed.speed = *asked.running;
        for (auto& shot : changed.shots)
            shot.speed.reset();
    }
    film::Delivery delivery = book.delivery;
    if (asked.rate)
        delivery = { *asked.rate, film::usualFill (*asked.rate) };
    if (asked.fill)
        delivery.from = *asked.fill;
    return film::Timings::of (book.prints.list(), std::move (changed), delivery, book.samePictures.list());
}
} // namespace shutterbeat::spotting
