#include "window/RecutDesk.h"

#include "desk/Recut.h"
#include "window/Bench.h"

#include <algorithm>

namespace shutterbeat::window
{
void RecutDesk::start (const std::string& path)
{
    if (path.empty())
        return bench.complain ("Name the file of the new print first.");
    bench.startJob<desk::RecutMade> (
        "Finding the old pictures in the new print",
        [open = bench.opened(), path] (const desk::Progress& progress) { return desk::recut (open, { path }, "", "", progress); },
        [this, was = bench.opened().book] (desk::RecutMade made)
        {
            if (! (was == bench.book()))
                return bench.complain ("The book was changed meanwhile, so the new edition was not taken. Match again.");
            std::string said = "Edition " + made.after + " is made; the old one stays.";
            for (const auto& note : made.notes)
                said += " " + note + (note.empty() || note.back() == '.' ? "" : ".");
            bench.take ("recut to edition " + made.after, std::move (made.book));
            const auto left = spotting::pendingMatches (bench.book()).size();
            bench.say (said + (left == 0 ? " Nothing is in doubt." : " " + std::to_string (left) + " to be decided."));
        },
        "Stopped. The book is as it was.");
}

void RecutDesk::refresh()
{
    if (bench.page != LedgerPage::recut || ! bench.hasBook())
        return;
    const auto& book = bench.book();
    if (seen && *seen == book)
        return;
    seen = book;
    waiting = spotting::pendingMatches (book);
    if (at >= waiting.size())
        at = 0;
    movedBy = frameIn = 0;
    rows.clear();
    ways.clear();
    all.reset();
    const auto* after = spotting::editionOf (book, book.edition);
    const auto* before = after == nullptr ? nullptr : spotting::editionOf (book, after->parent);
    if (before == nullptr)
        return;
    auto carried = spotting::carry (book, before->letter, after->letter);
    if (! carried)
        return bench.complain (carried.error().text());
    all = std::move (*carried);
    for (auto& row : spotting::recutRows (*before, *after, all->changes))
        if (row.changed())
            rows.push_back (std::move (row));
    if (auto found = spotting::remediesOf (book, *all))
        ways = std::move (*found);
    else
        bench.complain (found.error().text());
}

const spotting::PendingMatch* RecutDesk::looked() const
{
    return at < waiting.size() ? &waiting[at] : nullptr;
}

void RecutDesk::look (std::size_t which)
{
    at = std::min (which, waiting.empty() ? 0 : waiting.size() - 1);
    movedBy = frameIn = 0;
    bench.changed();
}

void RecutDesk::move (std::int64_t filmFrames)
{
    if (looked() == nullptr || looked()->doubt == spotting::Doubt::card)
        return;
    movedBy += filmFrames;
    bench.changed();
}

void RecutDesk::step (std::int64_t filmFrames)
{
    if (looked() == nullptr)
        return;
    frameIn = std::clamp<std::int64_t> (frameIn + filmFrames, 0, std::max<std::int64_t> (0, looked()->frames - 1));
    bench.changed();
}

void RecutDesk::decide (spotting::Answer answer)
{
    const auto* match = looked();
    if (match == nullptr)
        return bench.say ("Nothing waits to be decided.");
    const spotting::Decision decision{ match->id, answer, answer == spotting::Answer::same ? movedBy : 0 };
    const auto name = match->id;
    auto settled = spotting::settle (bench.book(), { decision });
    if (! settled)
        return bench.complain (settled.error().text());
    bench.take ("decide " + name, std::move (settled));
    const auto left = spotting::pendingMatches (bench.book()).size();
    bench.say (name + (answer == spotting::Answer::same ? ": the same." : ": not the same.")
               + (left == 0 ? " All is decided." : " " + std::to_string (left) + " left."));
}
} // namespace shutterbeat::window
