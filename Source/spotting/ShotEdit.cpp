#include "spotting/ShotEdit.h"

#include "spotting/Ids.h"
#include "spotting/ShotWork.h"

#include <algorithm>

namespace shutterbeat::spotting
{
namespace
{
/// The shot before a named one, both by id. Error: as joinShot.
Result<std::string> shotBefore (const Book& book, const std::string& letter, const std::string& id)
{
    const auto* edition = editionOf (book, letter);
    if (edition == nullptr)
        return usageError ("edition " + letter, "the book does not have it");
    for (std::size_t i = 0; i < edition->shots.size(); ++i)
    {
        const auto& shot = edition->shots[i];
        if (shot.id != id)
            continue;
        const std::string where = "shot " + shot.name;
        if (i == 0)
            return usageError (where, "is the first of the edition: there is no cut before it");
        const auto& before = edition->shots[i - 1];
        if (before.made || shot.made)
            return usageError (where, "a made card, freeze or black has no cut that could be wrong");
        if (before.print != shot.print || before.end != shot.first)
            return usageError (where,
                               "does not follow shot " + before.name + " in the print; the cut between them is the edition's");
        return before.id;
    }
    return usageError ("shot " + id, "edition " + letter + " does not have it");
}
} // namespace

Result<Edited> splitShot (const Book& book, const std::string& person, const std::string& print, std::int64_t filmFrame)
{
    ShotWork work (book);
    const auto ids = work.around (print, filmFrame);
    if (ids.empty())
        return usageError ("film frame " + std::to_string (filmFrame),
                           "no shot has it inside: it is a shot's first frame already, or no edition uses it");
    Edited edited;
    Book named = book;
    const auto added = takeIds (named, person, ids.size());
    if (! added)
        return added.error();
    for (std::size_t i = 0; i < ids.size(); ++i)
        work.split (ids[i], (*added)[i], print, filmFrame, 1, true);
    edited.book = work.finish();
    edited.book.people = named.people;
    edited.ids = *added;
    return edited;
}

Result<Book> joinShot (const Book& book, const std::string& edition, const std::string& shot)
{
    const auto before = shotBefore (book, edition, shot);
    if (! before)
        return before.error();
    ShotWork work (book);
    if (const auto joined = work.join (*before, shot, true); ! joined)
        return joined.error();
    return work.finish();
}

Result<Book> moveCut (const Book& book, const std::string& edition, const std::string& shot, std::int64_t filmFrames)
{
    const auto before = shotBefore (book, edition, shot);
    if (! before)
        return before.error();
    ShotWork work (book);
    if (const auto moved = work.move (*before, shot, filmFrames, true); ! moved)
        return moved.error();
    return work.finish();
}

Result<Book> setShots (const Book& book, const std::string& edition, const std::vector<std::string>& shots, const ShotWords& words)
{
    const auto* here = editionOf (book, edition);
    if (here == nullptr)
        return usageError ("edition " + edition, "the book does not have it");
    if (words.speed && *words.speed && (*words.speed)->sign() <= 0)
        return usageError ("running speed", "has to be above zero film frames a second");
    for (const auto& id : shots)
        if (std::none_of (here->shots.begin(), here->shots.end(), [&] (const auto& s) { return s.id == id; }))
            return usageError ("shot " + id, "edition " + edition + " does not have it");
    ShotWork work (book);
    for (const auto& id : shots)
        work.each (id,
                   [&] (film::Shot& shot)
                   {
                       shot.kind = words.kind.value_or (shot.kind);
                       shot.name = words.name.value_or (shot.name);
                       shot.wording = words.wording.value_or (shot.wording);
                       shot.locked = words.locked.value_or (shot.locked || words.kind.has_value());
                   });
    Book changed = work.finish();
    if (words.speed || words.remade || words.reason)
    {
        auto editions = changed.editions.list();
        for (auto& e : editions)
            if (e.letter == edition)
                for (auto& shot : e.shots)
                    if (std::find (shots.begin(), shots.end(), shot.id) != shots.end())
                    {
                        shot.speed = words.speed.value_or (shot.speed);
                        shot.remade = words.remade.value_or (shot.remade);
                        shot.reason = words.reason.value_or (shot.reason);
                    }
        changed.editions = std::move (editions);
    }
    return changed;
}

Result<std::string> shotNamed (const film::Edition& edition, const std::string& idOrName)
{
    std::vector<std::string> ids;
    for (const auto& shot : edition.shots)
    {
        if (shot.id == idOrName)
            return shot.id;
        if (shot.name == idOrName && std::find (ids.begin(), ids.end(), shot.id) == ids.end())
            ids.push_back (shot.id);
    }
    if (ids.size() == 1)
        return ids.front();
    if (ids.empty())
        return usageError ("shot " + idOrName, "edition " + edition.letter + " does not have it");
    std::string message = "several shots are called so; say which by its id:";
    for (const auto& id : ids)
        message += " " + id;
    return usageError ("shot " + idOrName, message);
}
} // namespace shutterbeat::spotting
