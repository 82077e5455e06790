#include "spotting/MergeIds.h"

#include "time/Text.h"

#include <algorithm>
#include <functional>
#include <map>
#include <set>

namespace shutterbeat::spotting
{
namespace
{
using Names = std::map<std::string, std::string>; // old to new

/// A thing with an id, and whether it is the very same as another.
struct Named
{
    std::string kind;
    std::function<bool (const Named&)> same;
    const void* thing = nullptr;
};

template <class T>
Named namedOf (const std::string& kind, const T& thing)
{
    return { kind, [&thing] (const Named& other) { return thing == *static_cast<const T*> (other.thing); }, &thing };
}

std::map<std::string, Named> idsOf (const Book& book)
{
    std::map<std::string, Named> ids;
    for (const auto& print : book.prints)
        ids.emplace (print.id, namedOf ("print", print));
    for (const auto& edition : book.editions)
        for (const auto& shot : edition.shots)
            ids.emplace (shot.id, namedOf ("shot", shot));
    for (const auto& hit : book.hits)
        ids.emplace (hit.id, namedOf ("hit", hit));
    for (const auto& cue : book.cues)
        ids.emplace (cue.id, namedOf ("cue", cue));
    for (const auto& sound : book.sounds)
        ids.emplace (sound.id, namedOf ("sound", sound));
    for (const auto& work : book.works)
        ids.emplace (work.id, namedOf ("work", work));
    return ids;
}

void rename (std::string& id, const Names& names)
{
    if (const auto found = names.find (id); found != names.end())
        id = found->second;
}

void rename (film::Place& place, const Names& names)
{
    if (auto* picture = std::get_if<film::PicturePlace> (&place))
        rename (picture->print, names);
    else if (auto* edge = std::get_if<film::EdgePlace> (&place))
        rename (edge->shot, names);
}

/// "B-3" of edition B is "C-3" when B becomes C.
void renameMatch (std::string& id, const Names& letters)
{
    const auto dash = id.find ('-');
    if (dash == std::string::npos)
        return;
    if (const auto found = letters.find (id.substr (0, dash)); found != letters.end())
        id = found->second + id.substr (dash);
}

template <class T, class Change>
void each (Section<T>& section, Change change)
{
    auto list = section.list();
    for (auto& one : list)
        change (one);
    section = std::move (list);
}

Book renamed (Book book, const Names& ids, const Names& letters)
{
    each (book.prints, [&] (film::Print& print) { rename (print.id, ids); });
    each (book.editions,
          [&] (film::Edition& edition)
          {
              rename (edition.letter, letters);
              rename (edition.parent, letters);
              for (auto& shot : edition.shots)
              {
                  rename (shot.id, ids);
                  rename (shot.print, ids);
              }
          });
    each (book.hits,
          [&] (HitPoint& hit)
          {
              rename (hit.id, ids);
              rename (hit.cue, ids);
              rename (hit.place, ids);
          });
    each (book.cues,
          [&] (Cue& cue)
          {
              rename (cue.id, ids);
              rename (cue.in, ids);
              rename (cue.out, ids);
              rename (cue.barOne.hit, ids);
              if (cue.barOne.place)
                  rename (*cue.barOne.place, ids);
          });
    each (book.sounds,
          [&] (Sound& sound)
          {
              rename (sound.id, ids);
              rename (sound.cue, ids);
              rename (sound.place.cue, ids);
              if (sound.madeFor)
                  rename (sound.madeFor->edition, letters);
          });
    each (book.samePictures,
          [&] (film::SamePictures& same)
          {
              rename (same.print, ids);
              rename (same.other, ids);
          });
    each (book.recuts,
          [&] (Recut& recut)
          {
              rename (recut.before, letters);
              rename (recut.after, letters);
              for (auto& match : recut.matches)
              {
                  renameMatch (match.id, letters);
                  for (auto* id : { &match.print, &match.other, &match.shot, &match.otherShot })
                      rename (*id, ids);
              }
          });
    each (book.cards,
          [&] (Card& card)
          {
              rename (card.shot, ids);
              for (auto& text : card.texts)
                  rename (text.print, ids);
          });
    each (book.works, [&] (Work& work) { rename (work.id, ids); });
    each (book.uses,
          [&] (WorkUse& use)
          {
              rename (use.cue, ids);
              rename (use.work, ids);
          });
    rename (book.edition, letters);
    return book;
}

/// The next counter of the id's person; or, where the id names none, the id with the first number that is free.
std::string freshId (const std::string& id, std::map<std::string, std::int64_t>& last, const std::set<std::string>& taken)
{
    const auto dash = id.rfind ('-');
    if (dash != std::string::npos && time::parseWhole (id.substr (dash + 1)))
        if (const auto person = last.find (id.substr (0, dash)); person != last.end())
            return person->first + "-" + std::to_string (++person->second);
    for (int n = 2;; ++n)
        if (const auto candidate = id + "_" + std::to_string (n); taken.count (candidate) == 0)
            return candidate;
}
} // namespace

Book apartFrom (const Book& base, const Book& mine, Book theirs, std::vector<std::string>& notes)
{
    const auto before = idsOf (base), inMine = idsOf (mine), inTheirs = idsOf (theirs);
    std::map<std::string, std::int64_t> last;
    for (const auto* book : { &base, &mine, static_cast<const Book*> (&theirs) })
        for (const auto& person : book->people)
            last[person.id] = std::max (last[person.id], person.lastNumber);
    std::set<std::string> taken;
    for (const auto* ids : { &before, &inMine, &inTheirs })
        for (const auto& [id, named] : *ids)
            taken.insert (id);
    Names ids, letters;
    for (const auto& [id, theirThing] : inTheirs)
    {
        const auto mineThing = inMine.find (id);
        if (mineThing == inMine.end() || before.count (id) > 0)
            continue;
        if (mineThing->second.kind == theirThing.kind && theirThing.same (mineThing->second))
            continue;
        const auto fresh = freshId (id, last, taken);
        taken.insert (fresh);
        ids[id] = fresh;
        notes.push_back ("both gave the id " + id + ": mine to a " + mineThing->second.kind + ", theirs to a " + theirThing.kind
                         + ", which is " + fresh + " now");
    }
    std::set<std::string> allLetters;
    for (const auto* book : { &base, &mine, static_cast<const Book*> (&theirs) })
        for (const auto& edition : book->editions)
            allLetters.insert (edition.letter);
    for (const auto& edition : theirs.editions)
    {
        const auto* other = editionOf (mine, edition.letter);
        if (other == nullptr || editionOf (base, edition.letter) != nullptr || *other == edition)
            continue;
        std::string fresh = "A";
        for (char c = 'A'; allLetters.count (fresh) > 0; ++c)
            fresh = c <= 'Z' ? std::string (1, c) : edition.letter + std::to_string (c - 'Z' + 1);
        allLetters.insert (fresh);
        letters[edition.letter] = fresh;
        notes.push_back ("both made an edition " + edition.letter + "; theirs is edition " + fresh + " now");
    }
    if (ids.empty() && letters.empty())
        return theirs;
    theirs = renamed (std::move (theirs), ids, letters);
    each (theirs.people, [&] (Person& person) { person.lastNumber = std::max (person.lastNumber, last[person.id]); });
    return theirs;
}
} // namespace shutterbeat::spotting
