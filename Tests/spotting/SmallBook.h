#pragma once

#include "../film/Films.h"
#include "spotting/Edit.h"
#include "spotting/History.h"
#include "spotting/Times.h"

namespace shutterbeat::tests
{
/// An edition of 18 film frames a second at 24: 100 film frames, a card of 90, 110 more, a made card of 4 s, 100 at the end.
inline spotting::Book smallBook()
{
    spotting::Book book;
    book.title = "The Baker's Kite";
    book.prints = std::vector<film::Print>{ print (1000) };
    auto card = shot ("s-2", 100, 190);
    card.kind = film::ShotKind::card;
    card.wording = "Meanwhile, at the mill \xe2\x80\xa6";
    book.editions = std::vector<film::Edition>{ edition (
        { shot ("s-1", 0, 100), card, shot ("s-3", 190, 300), made ("s-4", 4), shot ("s-5", 300, 400) }) };
    book.people = std::vector<spotting::Person>{ { "anna", "Anna", "restorer", 0, {} } };
    return book;
}

inline spotting::HitPoint hitAt (const film::Place& place, const std::string& label = "a hit")
{
    spotting::HitPoint hit;
    hit.place = place;
    hit.label = label;
    return hit;
}

inline film::Place picture (std::int64_t frame)
{
    return film::PicturePlace{ "p1", frame, 0 };
}

inline film::Place headOf (const std::string& shot)
{
    return film::EdgePlace{ shot, film::Edge::head, std::int64_t{ 0 }, 0 };
}

inline spotting::Cue cueOver (const film::Place& in, const film::Place& out, const std::string& number = "1M1")
{
    spotting::Cue cue;
    cue.number = number;
    cue.in = in;
    cue.out = out;
    return cue;
}

inline film::Timings timed (const spotting::Book& book)
{
    auto made = spotting::timingsOf (book);
    INFO ((made ? "" : made.error().text()));
    REQUIRE (made);
    return std::move (*made);
}

/// The value of an edit that has to succeed.
template <class T>
T did (Result<T> result)
{
    INFO ((result ? "" : result.error().text()));
    REQUIRE (result);
    return std::move (*result);
}

/// A book with three hits and two cues, one hit in a cue.
inline spotting::Book spottedBook()
{
    auto book = smallBook();
    const auto timings = timed (book);
    auto cue = did (spotting::addCue (book, "anna", cueOver (picture (10), headOf ("s-3")), timings));
    book = cue.book;
    book = did (spotting::addCue (book, "bo", cueOver (headOf ("s-3"), picture (390), "1M2"), timings)).book;
    auto inCue = hitAt (headOf ("s-2"), "the card");
    inCue.cue = cue.ids[0];
    return did (spotting::addHits (book, "anna", { inCue, hitAt (picture (250), "the fall"), hitAt (picture (350), "the kite") }))
        .book;
}
} // namespace shutterbeat::tests
