#include "window/ParcelDesk.h"

#include "window/Bench.h"
#include "window/Today.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::window
{
void ParcelDesk::changed() const
{
    bench.changed();
}

std::vector<std::string> ParcelDesk::people() const
{
    std::vector<std::string> ids;
    if (bench.hasBook())
        for (const auto& one : bench.book().people)
            if (one.id != "scan")
                ids.push_back (one.id);
    return ids;
}

std::string ParcelDesk::person() const
{
    if (! who.empty())
        return who;
    if (! bench.hasBook())
        return "";
    // Whoever writes the music is whom parcels are for.
    for (const auto& one : bench.book().people)
        if (one.role.find ("compos") != std::string::npos)
            return one.id;
    const auto ids = people();
    return ids.empty() ? "" : ids.front();
}

void ParcelDesk::setPerson (const std::string& id)
{
    who = id;
    named.clear();
    changed();
}

void ParcelDesk::setMovie (bool on)
{
    withMovie = on;
    changed();
}

void ParcelDesk::setZip (bool on)
{
    asZip = on;
    named.clear();
    changed();
}

void ParcelDesk::setPop (bool on)
{
    withPop = on;
    changed();
}

std::vector<spotting::Parcel> ParcelDesk::sent() const
{
    if (! bench.hasBook())
        return {};
    auto parcels = desk::parcelsSent (bench.opened());
    return parcels ? std::move (*parcels) : std::vector<spotting::Parcel>{};
}

std::string ParcelDesk::path() const
{
    if (! named.empty() || ! bench.hasBook())
        return named;
    int number = 1;
    for (const auto& parcel : sent())
        if (parcel.person == person())
            number = std::max (number, parcel.number + 1);
    const auto name = person() + "-" + std::to_string (number) + (asZip ? ".zip" : "");
    return (std::filesystem::path (bench.path()).parent_path() / name).string();
}

std::vector<std::string> ParcelDesk::news() const
{
    if (bench.times() == nullptr)
        return {};
    const auto parcels = sent();
    const auto* last = spotting::lastParcel (parcels, person());
    if (last == nullptr)
        return { "Nothing was sent to them yet." };
    auto lines = spotting::changesSince (*last, *bench.times());
    if (lines.empty())
        lines.push_back ("Nothing has changed since parcel " + std::to_string (last->number) + ".");
    return lines;
}

void ParcelDesk::make()
{
    if (bench.times() == nullptr)
        return;
    if (person().empty())
        return bench.complain ("A parcel is for somebody: type a short word for them, such as ida.");
    desk::ParcelWish wish;
    wish.asked = bench.handOver.asked();
    wish.person = person();
    wish.stamped = today();
    wish.movie = withMovie;
    wish.pop = withPop;
    wish.leaderSeconds = 0;
    wish.letter = bench.handOver.letter();
    bench.startJob<desk::MadeParcel> (
        "Packing a parcel for " + wish.person,
        [open = bench.opened(), wish, into = path()] (const desk::Progress& progress)
        { return desk::makeParcel (open, into, wish, progress); },
        [this, into = path()] (desk::MadeParcel made)
        {
            // Work may have gone on meanwhile: only what was sent, and to whom, is new.
            auto book = bench.book();
            book.unknown = made.book.unknown;
            auto everybody = book.people.list();
            for (const auto& one : made.book.people)
                if (std::none_of (everybody.begin(), everybody.end(), [&] (const auto& there) { return there.id == one.id; }))
                    everybody.push_back (one);
            book.people = std::move (everybody);
            bench.take ("parcel for " + made.parcel.person, std::move (book));
            named.clear();
            std::string said = "Parcel " + std::to_string (made.parcel.number) + " for " + made.parcel.person + ", "
                               + std::to_string (made.parcel.files.size() + 1) + " files, lies in " + into
                               + ". Ctrl+S keeps in the book that it was sent.";
            for (const auto& note : made.notes)
                said += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            bench.say (said);
        },
        "Stopped. Nothing was packed.");
}
} // namespace shutterbeat::window
