#include "desk/OpenBook.h"
#include "desk/Prints.h"
#include "time/Timecode.h"

#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
constexpr const char* usualSpeeds = "16, 18, 200/11 (18.18), 20, 240/11 (21.82), 22 or 24";

/// The shots of a print as one edition, numbered and given ids in order.
film::Edition editionOf (const film::Print& print)
{
    film::Edition edition;
    for (const auto& found : print.scanned)
    {
        film::Shot shot;
        const auto number = std::to_string (edition.shots.size() + 1);
        shot.id = "scan-" + number;
        shot.name = number;
        shot.kind = found.kind;
        shot.print = print.id;
        shot.first = found.first;
        shot.end = found.end;
        shot.strength = found.strength;
        edition.shots.push_back (std::move (shot));
    }
    return edition;
}

/// The speed the files were padded for, when all that repeat agree.
std::optional<time::Rational> paddedFor (const std::vector<ScannedFilm>& reels)
{
    std::optional<time::Rational> speed;
    for (const auto& reel : reels)
    {
        if (! reel.scan.cadenceSure || ! reel.scan.askedSpeed || (speed && *speed != *reel.scan.askedSpeed))
            return {};
        speed = *reel.scan.askedSpeed;
    }
    return speed;
}

Result<std::string> startLabelFor (const NewBook& wanted, const time::Rate& rate, const std::vector<ScannedFilm>& reels,
                                   std::vector<std::string>& notes)
{
    if (wanted.start)
    {
        if (! time::hasTimecode (rate))
            return usageError ("--start " + *wanted.start, "a final rate of " + time::rateName (rate) + " has no timecode");
        const auto typed = time::parseLabel (*wanted.start, rate);
        if (! typed)
            return typed.error();
        return *wanted.start;
    }
    const std::string own = reels.front().film.startLabel;
    const std::string label = own.empty() ? "01:00:00:00" : own;
    notes.push_back (own.empty() ? "the file has no timecode of its own; picture starts at 01:00:00:00"
                                 : "picture starts at " + own + ", the file's own timecode");
    return label;
}
} // namespace

Result<MadeBook> newBook (const std::string& bookPath, const NewBook& wanted, const Progress& progress)
{
    if (wanted.files.empty())
        return usageError (bookPath, "name at least one film file to make it from");
    MadeBook made;
    std::error_code failed;
    if (std::filesystem::exists (bookPath, failed))
        return cannotWrite (bookPath, "there is a file of that name already; choose another name");

    auto scanned = scanPrint (bookPath, wanted.files, wanted.gauge, progress);
    if (! scanned)
        return scanned.error();
    const auto& reels = scanned->reels;
    made.notes = std::move (scanned->notes);

    std::optional<time::Rational> running = wanted.running;
    if (! running)
    {
        running = paddedFor (reels);
        made.speedOpen = ! running && wanted.speedLater;
        if (! running && ! made.speedOpen)
            return usageError ("running speed",
                               std::string ("no cadence of repeats tells what the film was photographed for, and the file's "
                                            "rate does not; choose one with --running: ")
                                   + usualSpeeds + " film frames a second, 80ft/min or 13min/1000ft");
        if (made.speedOpen)
            running = 18;
        else
            made.notes.push_back ("running speed " + time::speedText (*running)
                                  + " film frames a second, from the file's cadence");
    }

    spotting::Book book;
    film::Print print = std::move (scanned->print);
    print.id = "print-1";
    if (wanted.rate)
        book.delivery.rate = *wanted.rate;
    else
    {
        const time::Rate own{ reels.front().film.rate, false };
        if (time::hasTimecode (own))
            book.delivery.rate = own;
        made.notes.push_back ("final rate " + time::rateName (book.delivery.rate) + "; choose another with --final");
    }
    book.delivery.from = wanted.fill ? *wanted.fill : film::usualFill (book.delivery.rate);

    film::Edition edition = editionOf (print);
    edition.speed = *running;
    const auto start = startLabelFor (wanted, book.delivery.rate, reels, made.notes);
    if (! start)
        return start.error();
    edition.reels.front().startLabel = *start;
    const auto shots = static_cast<std::int64_t> (edition.shots.size());
    book.title = wanted.title.empty() ? print.name : wanted.title;
    book.people = std::vector<spotting::Person>{ { "scan", "Scan", "found by the program", shots, {} } };
    book.prints = std::vector<film::Print>{ std::move (print) };
    book.editions = std::vector<film::Edition>{ std::move (edition) };

    auto timings = spotting::timingsOf (book);
    if (! timings)
        return timings.error();
    for (const auto& note : timings->notes())
        made.notes.push_back (note);
    made.open = { std::move (book), bookPath, "" };
    return made;
}
} // namespace shutterbeat::desk
