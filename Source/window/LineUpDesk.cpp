#include "window/LineUpDesk.h"

#include "desk/Sounds.h"
#include "spotting/SoundEdit.h"
#include "window/Bench.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::window
{
void LineUpDesk::refresh()
{
    if (! bench.hasBook())
        return;
    const auto& book = bench.book();
    if (at >= book.sounds.size())
        at = 0;
    const auto* now = sound();
    const bool same = found && heardIn && now != nullptr && found->sound == *now && heardIn->hits == book.hits
                      && heardIn->cues == book.cues && heardIn->editions == book.editions && heardIn->edition == book.edition
                      && heardIn->delivery == book.delivery;
    if (found && ! same)
        found.reset();
}

const spotting::Sound* LineUpDesk::sound() const
{
    return bench.hasBook() && at < bench.book().sounds.size() ? &bench.book().sounds[at] : nullptr;
}

void LineUpDesk::toSound (int direction)
{
    const auto count = static_cast<int> (bench.hasBook() ? bench.book().sounds.size() : 0);
    if (count == 0)
        return bench.say ("The book has no sound yet. Name a file, or drop it on the window.");
    at = static_cast<std::size_t> ((static_cast<int> (at) + direction + count) % count);
    hitAt = 0;
    found.reset();
    bench.changed();
}

void LineUpDesk::choose (std::size_t row)
{
    if (! bench.hasBook() || row >= bench.book().sounds.size())
        return;
    if (row != at)
    {
        at = row;
        hitAt = 0;
        found.reset();
    }
    bench.showPage (LedgerPage::lineUp);
}

void LineUpDesk::add (const std::string& path)
{
    if (bench.times() == nullptr)
        return bench.complain ("There is no film to place a sound against.");
    if (path.empty())
        return bench.complain ("Name the sound file first.");
    struct Placed
    {
        desk::FoundSound found;
        bool atScreen = false; ///< nothing in the file says where it belongs
    };
    const auto here = bench.transport.position();
    bench.startJob<Placed> (
        "Reading " + std::filesystem::path (path).filename().string(),
        [open = bench.opened(), path, here] (const desk::Progress& progress) -> Result<Placed>
        {
            const auto times = spotting::timesOf (open.book);
            if (! times)
                return times.error();
            desk::SoundWish wish;
            wish.file = path;
            auto placed = desk::findSound (open, *times, wish, progress);
            if (placed)
                return Placed{ std::move (*placed), false };
            if (placed.error().code != ErrorCode::usage)
                return placed.error();
            wish.at = "film:" + std::to_string (here.filmFrame);
            wish.reel = here.reel;
            placed = desk::findSound (open, *times, wish, progress);
            if (! placed)
                return placed.error();
            return Placed{ std::move (*placed), true };
        },
        [this, path] (Placed placed)
        {
            auto edited = spotting::addSounds (bench.book(), bench.whoIsHere(), { placed.found.sound });
            if (! edited)
                return bench.complain (edited.error().text());
            bench.take ("add sound", std::move (edited->book));
            at = bench.book().sounds.size() - 1;
            std::string said = std::filesystem::path (path).filename().string() + " is placed"
                               + (placed.atScreen ? " at the picture on screen: nothing in it says where it belongs." : ".");
            for (const auto& note : placed.found.notes)
                said += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            bench.showPage (LedgerPage::lineUp);
            bench.say (said);
        },
        "Stopped. The sound was not added.");
}

void LineUpDesk::check()
{
    const auto* which = sound();
    if (which == nullptr)
        return bench.say ("The book has no sound yet. Name a file, or drop it on the window.");
    bench.startJob<desk::SoundLineUp> (
        "Listening to " + which->name,
        [open = bench.opened(), heard = *which] (const desk::Progress& progress) -> Result<desk::SoundLineUp>
        {
            const auto times = spotting::timesOf (open.book);
            if (! times)
                return times.error();
            return desk::lineUp (open, *times, heard, {}, progress);
        },
        [this, was = bench.opened().book] (desk::SoundLineUp lined)
        {
            found = std::move (lined);
            heardIn = was;
            hitAt = 0;
            for (std::size_t i = 0; i < found->hits.size(); ++i)
                if (found->hits[i].verdict == desk::HitVerdict::late || found->hits[i].verdict == desk::HitVerdict::early)
                {
                    hitAt = i;
                    break;
                }
            const auto counts = desk::countsOf (*found);
            std::string said = std::to_string (counts.within) + " hits within their limits, " + std::to_string (counts.beyond)
                               + " beyond, " + std::to_string (counts.noAccent) + " without a clear accent.";
            for (const auto& note : found->notes)
                said += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            bench.say (said);
        },
        "Stopped. The sound was not compared.");
}

void LineUpDesk::look (std::size_t which)
{
    if (! found || which >= found->hits.size() || bench.times() == nullptr)
        return;
    hitAt = which;
    const auto row = found->hits[which].row;
    if (row < bench.times()->hits.size())
    {
        const auto& hit = bench.times()->hits[row].hit;
        bench.select ({ hit.id });
        if (! bench.transport.playing())
            if (const auto place = bench.times()->timings.find (hit.place))
                bench.goTo (*place);
    }
    bench.changed();
}

void LineUpDesk::hear()
{
    if (! found || hitAt >= found->hits.size() || bench.times() == nullptr)
        return bench.say ("Check a sound first.");
    const auto row = found->hits[hitAt].row;
    if (row >= bench.times()->hits.size())
        return;
    if (const auto place = bench.times()->timings.find (bench.times()->hits[row].hit.place))
    {
        bench.goTo (*place);
        bench.goToTyped ("-1s");
        bench.transport.play();
    }
}
} // namespace shutterbeat::window
