#include "spotting/RecutEdit.h"

#include "spotting/Ids.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
void renameIn (film::Place& place, const std::string& from, const std::string& to)
{
    if (auto* edge = std::get_if<film::EdgePlace> (&place); edge != nullptr && edge->shot == from)
        edge->shot = to;
}

/// Calls a shot of one edition by another id; places pinned to it go with it where no other edition has it. `remade`: it comes
/// in place of the other, whose pictures it has not.
void rename (Book& book, const std::string& letter, const std::string& from, const film::Shot& like, bool remade)
{
    auto editions = book.editions.list();
    bool elsewhere = false;
    for (auto& edition : editions)
        for (auto& shot : edition.shots)
        {
            if (shot.id != from)
                continue;
            if (edition.letter != letter)
            {
                elsewhere = true;
                continue;
            }
            shot.id = like.id;
            shot.name = like.name;
            shot.kind = like.kind;
            shot.speed = like.speed;
            shot.remade = shot.remade || like.remade || remade;
            if (shot.reason.empty())
                shot.reason = like.reason;
        }
    book.editions = std::move (editions);
    if (elsewhere)
        return;
    auto hits = book.hits.list();
    for (auto& hit : hits)
        renameIn (hit.place, from, like.id);
    auto cues = book.cues.list();
    for (auto& cue : cues)
    {
        renameIn (cue.in, from, like.id);
        renameIn (cue.out, from, like.id);
        if (cue.barOne.place)
            renameIn (*cue.barOne.place, from, like.id);
    }
    book.hits = std::move (hits);
    book.cues = std::move (cues);
}

const film::Shot* shotOf (const Book& book, const std::string& letter, const std::string& id)
{
    const auto* edition = editionOf (book, letter);
    if (edition == nullptr)
        return nullptr;
    const auto found =
        std::find_if (edition->shots.begin(), edition->shots.end(), [&] (const film::Shot& s) { return s.id == id; });
    return found == edition->shots.end() ? nullptr : &*found;
}

/// Most of a shot: what is said of a few of its frames, where it dissolves into another, does not say which shot it is.
bool isMostOf (const PendingMatch& match, const film::Shot& shot)
{
    return 2 * match.frames > shot.end - shot.first;
}

/// The shot of the new edition is the old one's from now on, unless that is there already.
void makeSuccessor (Book& book, const Recut& recut, const PendingMatch& match)
{
    const auto* old = shotOf (book, recut.before, match.otherShot);
    const auto* now = shotOf (book, recut.after, match.shot);
    if (old != nullptr && now != nullptr && shotOf (book, recut.after, old->id) == nullptr
        && (match.doubt == Doubt::card || isMostOf (match, *now)))
        rename (book, recut.after, match.shot, film::Shot (*old), match.doubt == Doubt::card);
}

Result<Done> apply (Book& book, const Recut& recut, PendingMatch& match, const Decision& decision)
{
    const std::string where = "match " + match.id;
    if (match.answer != Answer::pending)
        return usageError (where, "is settled already: " + std::string (answerName (match.answer)));
    if (decision.answer == Answer::pending)
        return usageError (where, "say same or other");
    if (decision.moved != 0 && (decision.answer != Answer::same || match.doubt == Doubt::card))
        return usageError (where, "only pictures that are the same can be moved against each other");
    const auto print =
        std::find_if (book.prints.begin(), book.prints.end(), [&] (const film::Print& p) { return p.id == match.other; });
    const auto first = match.otherFirst + decision.moved;
    if (print == book.prints.end() || first < 0 || first + match.frames > film::filmFramesOf (*print))
        return usageError (where, "moved by " + std::to_string (decision.moved) + " film frames it lies outside its print");
    match.answer = decision.answer;
    match.moved = decision.moved;
    auto same = book.samePictures.list();
    const auto proposed = std::find_if (same.begin(), same.end(),
                                        [&] (const film::SamePictures& run)
                                        {
                                            return run.print == match.print && run.first == match.first && run.other == match.other
                                                   && run.otherFirst == match.otherFirst && run.frames == match.frames;
                                        });
    if (match.doubt == Doubt::card)
    {
        if (decision.answer == Answer::same)
            makeSuccessor (book, recut, match);
        return Done{};
    }
    if (decision.answer == Answer::other)
    {
        if (proposed != same.end())
            same.erase (proposed);
    }
    else if (proposed != same.end())
        proposed->otherFirst += decision.moved;
    else
        same.push_back ({ match.print, match.first, match.other, first, match.frames, {} });
    book.samePictures = std::move (same);
    if (decision.answer == Answer::same)
        makeSuccessor (book, recut, match);
    else if (const auto* shot = shotOf (book, recut.after, match.shot);
             shot != nullptr && match.shot == match.otherShot && isMostOf (match, *shot))
    {
        // It bore the old shot's id as a proposal only. Whoever pinned something to it meant the old shot.
        const auto ids = takeIds (book, "scan", 1);
        if (! ids)
            return ids.error();
        auto editions = book.editions.list();
        for (auto& edition : editions)
            if (edition.letter == recut.after)
                for (auto& s : edition.shots)
                    if (s.id == match.shot && match.first >= s.first && match.first < s.end)
                    {
                        s.id = ids->front();
                        s.name += " (new)";
                        s.remade = false;
                        s.reason.clear();
                    }
        book.editions = std::move (editions);
        match.shot = ids->front();
    }
    return Done{};
}
} // namespace

Result<Book> settle (const Book& book, const std::vector<Decision>& decisions)
{
    Book changed = book;
    for (const auto& decision : decisions)
    {
        auto recuts = changed.recuts.list();
        bool found = false;
        for (auto& recut : recuts)
            for (auto& match : recut.matches)
                if (match.id == decision.match)
                {
                    found = true;
                    if (const auto applied = apply (changed, recut, match, decision); ! applied)
                        return applied.error();
                }
        if (! found)
            return usageError ("match " + decision.match, "the book does not have it; see: shutterbeat recut BOOK");
        changed.recuts = std::move (recuts);
    }
    return changed;
}

std::vector<PendingMatch> pendingMatches (const Book& book)
{
    std::vector<PendingMatch> pending;
    for (const auto& recut : book.recuts)
        for (const auto& match : recut.matches)
            if (match.answer == Answer::pending)
                pending.push_back (match);
    return pending;
}
} // namespace shutterbeat::spotting
