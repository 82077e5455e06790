#pragma once

#include "film/Delivery.h"
#include "film/Edition.h"
#include "film/Print.h"
#include "film/SamePictures.h"
#include "film/Timings.h"
#include "spotting/Card.h"
#include "spotting/Cue.h"
#include "spotting/Hit.h"
#include "spotting/Recut.h"
#include "spotting/Sound.h"
#include "spotting/Work.h"

#include <memory>
#include <string>
#include <vector>

namespace shutterbeat::spotting
{
/// Somebody who works on the film. Ids of what a person adds are the person's id, a dash and a counter.
struct Person
{
    std::string id;              ///< a short word: anna
    std::string name;            ///< as printed
    std::string role;            ///< restorer, composer, ...
    std::int64_t lastNumber = 0; ///< the highest counter given out; never reused
    Unknown unknown;

    friend bool operator== (const Person&, const Person&) = default;
};

/// A list that copies of a book share until one of them changes it.
template <class T>
class Section
{
public:
    Section()
        : items (std::make_shared<const std::vector<T>>())
    {
    }
    Section (std::vector<T> list)
        : items (std::make_shared<const std::vector<T>> (std::move (list)))
    {
    }

    [[nodiscard]] const std::vector<T>& list() const { return *items; }
    [[nodiscard]] auto begin() const { return items->begin(); }
    [[nodiscard]] auto end() const { return items->end(); }
    [[nodiscard]] std::size_t size() const { return items->size(); }
    [[nodiscard]] bool empty() const { return items->empty(); }
    const T& operator[] (std::size_t i) const { return (*items)[i]; }
    /// True when both share the very same list; then nothing has changed.
    [[nodiscard]] bool sharesWith (const Section& other) const { return items == other.items; }

    friend bool operator== (const Section& a, const Section& b) { return a.items == b.items || *a.items == *b.items; }

private:
    std::shared_ptr<const std::vector<T>> items;
};

/// The document: a value. Every edit makes a new one (spotting/Edit.h); undo is a list of them.
struct Book
{
    std::string title;
    Section<Person> people;
    Section<film::Print> prints;
    Section<film::Edition> editions;
    std::string edition = "A"; ///< letter of the edition worked on
    film::Delivery delivery;
    Section<HitPoint> hits;
    Section<Cue> cues;
    Section<Sound> sounds;
    Section<film::SamePictures> samePictures; ///< which runs of different prints show the same pictures
    Section<Recut> recuts;                    ///< what is to be decided between two editions
    Section<Card> cards; ///< wordings of cards; a card nobody has read or written down has no entry
    Section<Work> works;
    Section<WorkUse> uses;     ///< which cue uses which work
    Section<UsageCode> usages; ///< empty: the usual codes
    Production production;
    Unknown unknown;

    friend bool operator== (const Book&, const Book&) = default;
};

/// The edition of that letter, or null.
const film::Edition* editionOf (const Book& book, const std::string& letter);
const HitPoint* hitOf (const Book& book, const std::string& id);
const Cue* cueOf (const Book& book, const std::string& id);
/// A cue by its id or, when no other has it, its number. Error: none, or several of that number.
Result<Cue> cueNamed (const Book& book, const std::string& idOrNumber);

/// Settings that a command or a list may change for itself without changing the book.
struct Asked
{
    std::optional<std::string> edition;
    std::optional<time::Rational> running; ///< one speed for the whole film
    std::optional<time::Rate> rate;        ///< brings its usual fill unless `fill` is given too
    std::optional<std::optional<time::Rational>> fill;
};

/// The timings of the book's edition at its delivery, with what was asked laid over it.
Result<film::Timings> timingsOf (const Book& book, const Asked& asked = {});
} // namespace shutterbeat::spotting
