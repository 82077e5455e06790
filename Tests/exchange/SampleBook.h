#pragma once

#include "Catch.h"

#include "spotting/Book.h"
#include "spotting/Times.h"

#include <string>
#include <utility>
#include <vector>

namespace shutterbeat::tests
{
/// A print of `frames` film frames whose file repeats nothing, as print "p1".
inline film::Print samplePrint (std::int64_t frames)
{
    film::Print print;
    print.id = "p1";
    print.name = "Print one";
    film::ReelFile file;
    file.path = "reel.mp4";
    file.width = 640;
    file.height = 480;
    file.cadence = film::Cadence::oneToOne (frames);
    file.cadenceSaid = "one to one";
    print.reels = { file };
    return print;
}

/// A book of one edition at `speed` with shots of these lengths in film frames, named 1, 2, 3.
inline spotting::Book plainBook (const std::vector<std::int64_t>& lengths, const time::Rational& speed, const std::string& rate,
                                 const std::string& start = "01:00:00:00")
{
    film::Edition edition;
    edition.speed = speed;
    edition.reels[0].startLabel = start;
    std::int64_t at = 0;
    for (const auto length : lengths)
    {
        film::Shot shot;
        shot.name = std::to_string (edition.shots.size() + 1);
        shot.id = "s" + shot.name;
        shot.print = "p1";
        shot.first = at;
        at += length;
        shot.end = at;
        edition.shots.push_back (shot);
    }
    spotting::Book book;
    book.title = "The Runaway Ladder";
    book.prints = std::vector{ samplePrint (at) };
    book.editions = std::vector{ edition };
    const auto parsed = time::parseRate (rate);
    REQUIRE (parsed.ok());
    book.delivery = { parsed->value, film::usualFill (parsed->value) };
    return book;
}

/// A hit on a film frame.
inline spotting::HitPoint hitAt (const std::string& id, std::int64_t filmFrame, const std::string& label,
                                 spotting::HitKind kind = spotting::HitKind::action)
{
    spotting::HitPoint hit;
    hit.id = id;
    hit.place = film::PicturePlace{ "p1", filmFrame, 0 };
    hit.label = label;
    hit.kind = kind;
    return hit;
}

inline spotting::Cue cueAt (const std::string& id, const std::string& number, std::int64_t in, std::int64_t out,
                            const std::string& title)
{
    spotting::Cue cue;
    cue.id = id;
    cue.number = number;
    cue.in = film::PicturePlace{ "p1", in, 0 };
    cue.out = film::PicturePlace{ "p1", out, 0 };
    cue.title = title;
    return cue;
}

/// An invented one-reel comedy with everything a list has to hold: all kinds and weights, quotes, line breaks, letters
/// outside Latin-1, leads, hits of no cue, before picture start and lost ones.
inline spotting::Book comedy (const std::string& rate = "25")
{
    using spotting::HitKind;
    using spotting::Weight;
    auto book = plainBook ({ 90, 120, 64, 150, 200, 75, 130, 96, 180, 160, 88, 147, 110, 190 }, time::Rational (20), rate);
    auto edition = book.editions[0];
    for (const std::size_t card : { 1u, 5u, 9u })
        edition.shots[card].kind = film::ShotKind::card;
    edition.shots[1].wording = "Anton has borrowed the only ladder in town.";
    edition.shots[5].wording = "“Stå! Den er ikke din!”";
    edition.shots[9].wording = "Meanwhile, at the bakery in Łódź …";
    book.editions = std::vector{ edition };

    auto one = cueAt ("anna-1", "1M1", 0, 424, "The borrowed ladder");
    one.tempo = *music::TempoMap::steady (*time::parseRational ("97.3"));
    one.mood = "Sly, on tiptoe; never quite in step with him";
    one.note = "Starts with the first picture, under the main title. Ends when the ladder falls: a clean stop, no ring.";
    auto two = cueAt ("anna-2", "1M2", 624, 1125, "Køkkenet");
    two.tempo = *music::TempoMap::steady (time::Rational (132));
    two.status = spotting::CueStatus::mockedUp;
    two.version = "2";
    two.mood = "Busy; the kitchen boils over";
    auto three = cueAt ("anna-3", "1M3", 1265, 1800, "Chase to the river");
    three.kind = spotting::CueKind::seenMusic;
    three.out = film::EdgePlace{ "s14", film::Edge::tail, std::int64_t{ 0 }, 0 };
    book.cues = std::vector{ one, two, three };

    std::vector<spotting::HitPoint> hits;
    const auto add = [&] (spotting::HitPoint hit, Weight weight, const std::string& cue, bool agreed, const std::string& note = "")
    {
        hit.weight = weight;
        hit.cue = cue;
        hit.agreed = agreed;
        hit.note = note;
        hits.push_back (std::move (hit));
    };
    auto edge = [&] (const std::string& id, const std::string& shot, const std::string& label, HitKind kind)
    {
        auto hit = hitAt (id, 0, label, kind);
        hit.place = film::EdgePlace{ shot, film::Edge::head, std::int64_t{ 0 }, 0 };
        return hit;
    };
    add (edge ("anna-10", "s2", edition.shots[1].wording, HitKind::card), Weight::must, "anna-1", true);
    add (hitAt ("anna-11", 131, "He said \"no\", twice"), Weight::should, "anna-1", false, "line1\nline2");
    add (hitAt ("anna-12", 178, "First rung breaks", HitKind::gag), Weight::must, "anna-1", true,
         "Wood block, dry. The snap is on this frame; the look to us comes six frames later and wants silence.");
    add (edge ("anna-13", "s3", "", HitKind::cut), Weight::may, "anna-1", false);
    add (hitAt ("anna-14", 300, "Dør; Ende", HitKind::entrance), Weight::should, "anna-1", true);
    hits.back().lead = time::Rational (-1, 12);
    hits.back().askedBy = "bo";
    add (hitAt ("anna-15", 411, "Ladder falls", HitKind::effect), Weight::must, "anna-1", true);
    hits.back().earlyMs = 20;
    hits.back().lateMs = 30;
    add (hitAt ("anna-16", 424, "=silence", HitKind::stop), Weight::must, "anna-1", true);
    add (hitAt ("anna-17", 560, "Street, morning | no music", HitKind::mood), Weight::may, "", false);
    add (edge ("anna-18", "s6", edition.shots[5].wording, HitKind::card), Weight::must, "anna-2", true);
    add (hitAt ("anna-19", 730, "Pot boils over", HitKind::gag), Weight::should, "anna-2", false);
    add (hitAt ("anna-20", 730, "Čapek slips", HitKind::action), Weight::may, "anna-2", false);
    add (hitAt ("anna-21", 905, "'Quoted", HitKind::seenMusic), Weight::must, "anna-2", true,
         "The cook beats time on the pans: at 132.");
    add (hitAt ("anna-22", 1000, "@home", HitKind::mood), Weight::should, "anna-2", true);
    add (edge ("anna-23", "s10", edition.shots[9].wording, HitKind::card), Weight::must, "", true);
    add (edge ("anna-24", "s11", "Into the street", HitKind::cut), Weight::must, "anna-3", true);
    add (hitAt ("anna-25", 1400, "+1 policeman", HitKind::entrance), Weight::may, "anna-3", false);
    add (edge ("anna-26", "s12", "", HitKind::cut), Weight::should, "anna-3", false);
    add (hitAt ("anna-27", 1611, "Splash", HitKind::effect), Weight::must, "anna-3", true);
    auto overture = hitAt ("anna-28", 0, "House lights down", HitKind::mood);
    overture.place = film::OutsidePlace{ false, time::Rational (-4) };
    add (overture, Weight::may, "", true);
    auto gone = hitAt ("anna-29", 0, "The cut scene", HitKind::gag);
    gone.place = film::EdgePlace{ "s99", film::Edge::head, std::int64_t{ 0 }, 0 };
    add (gone, Weight::must, "", false);
    book.hits = hits;
    return book;
}

inline spotting::BookTimes timed (const spotting::Book& book, const spotting::Asked& asked = {})
{
    auto times = spotting::timesOf (book, asked);
    if (! times)
        FAIL (times.error().text());
    return std::move (*times);
}
} // namespace shutterbeat::tests
