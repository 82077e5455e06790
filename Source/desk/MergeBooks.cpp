#include "desk/MergeBooks.h"

#include "desk/FilmPath.h"
#include "spotting/ParcelRows.h"
#include "spotting/SoundEdit.h"
#include "store/Parcels.h"

#include <algorithm>
#include <filesystem>

namespace shutterbeat::desk
{
namespace
{
/// The book with every path kept as it has to be kept beside another book file.
spotting::Book movedTo (spotting::Book book, const std::string& from, const std::string& to)
{
    const auto moved = [&] (std::string& path)
    {
        if (! path.empty())
            path = pathForBook (to, pathFromBook (from, path));
    };
    auto prints = book.prints.list();
    for (auto& print : prints)
        for (auto& reel : print.reels)
        {
            moved (reel.path);
            moved (reel.workingCopy);
        }
    auto sounds = book.sounds.list();
    for (auto& sound : sounds)
        moved (sound.path);
    book.prints = std::move (prints);
    book.sounds = std::move (sounds);
    return book;
}

/// Their copy with the files of what is new in it written as mine would write them, so that they are found where they lie.
spotting::Book besides (spotting::Book book, const spotting::Book& before, const std::string& theirs, const std::string& mine)
{
    const auto moved = [&] (std::string& path)
    {
        if (! path.empty())
            path = pathForBook (mine, pathFromBook (theirs, path));
    };
    auto prints = book.prints.list();
    for (auto& print : prints)
        if (std::none_of (before.prints.begin(), before.prints.end(), [&] (const film::Print& p) { return p.id == print.id; }))
            for (auto& reel : print.reels)
            {
                moved (reel.path);
                moved (reel.workingCopy);
            }
    auto sounds = book.sounds.list();
    for (auto& sound : sounds)
        if (spotting::soundOf (before, sound.id) == nullptr)
            moved (sound.path);
    book.prints = std::move (prints);
    book.sounds = std::move (sounds);
    return book;
}

/// What either side has, each once; `settle (mine, one)` gives one of theirs that mine has not another name where mine has that.
template <class Item, class Settle>
Result<std::vector<Item>> ofBoth (Result<std::vector<Item>> mine, const Result<std::vector<Item>>& theirs, const Settle& settle)
{
    if (! mine)
        return mine.error();
    if (! theirs)
        return theirs.error();
    for (auto one : *theirs)
    {
        if (std::find (mine->begin(), mine->end(), one) != mine->end())
            continue;
        settle (*mine, one);
        mine->push_back (std::move (one));
    }
    return mine;
}

/// A number that both gave to one person for different parcels stays with mine; theirs gets the next.
Result<std::vector<spotting::Parcel>> sentByBoth (const spotting::Book& mine, const spotting::Book& theirs,
                                                  std::vector<std::string>& notes)
{
    const auto settle = [&] (const std::vector<spotting::Parcel>& all, spotting::Parcel& parcel)
    {
        if (std::none_of (all.begin(), all.end(),
                          [&] (const spotting::Parcel& other)
                          { return other.person == parcel.person && other.number == parcel.number; }))
            return;
        const auto number = spotting::lastParcel (all, parcel.person)->number + 1;
        notes.push_back ("both sent " + parcel.person + " a parcel " + std::to_string (parcel.number) + "; theirs is number "
                         + std::to_string (number) + " in the merged book");
        parcel.number = number;
    };
    return ofBoth (store::parcelsOf (mine), store::parcelsOf (theirs), settle);
}

/// A name that both gave to different states stays with mine; theirs gets "(theirs)" behind it.
Result<std::vector<spotting::Revision>> namedByBoth (const spotting::Book& mine, const spotting::Book& theirs,
                                                     std::vector<std::string>& notes)
{
    const auto settle = [&] (const std::vector<spotting::Revision>& all, spotting::Revision& revision)
    {
        const auto name = revision.name;
        while (std::any_of (all.begin(), all.end(), [&] (const auto& other) { return other.name == revision.name; }))
            revision.name += " (theirs)";
        if (revision.name != name)
            notes.push_back ("both named a revision " + name + "; theirs is called " + revision.name + " in the merged book");
    };
    return ofBoth (store::revisionsOf (mine), store::revisionsOf (theirs), settle);
}
} // namespace

Result<MergedBooks> mergeBookFiles (const std::string& base, const std::string& mine, const std::string& theirs,
                                    const std::string& output, const std::vector<spotting::MergeChoice>& choices)
{
    const auto before = openBook (base);
    if (! before)
        return before.error();
    const auto here = openBook (mine);
    if (! here)
        return here.error();
    const auto there = openBook (theirs);
    if (! there)
        return there.error();
    std::vector<std::string> notes;
    const auto sent = sentByBoth (here->book, there->book, notes);
    if (! sent)
        return sent.error();
    const auto named = namedByBoth (here->book, there->book, notes);
    if (! named)
        return named.error();
    const auto both = [&] (const spotting::Book& book) { return store::withRevisions (store::withParcels (book, *sent), *named); };
    const auto target = output.empty() ? mine : output;
    // Paths of what all three have are compared as they are written: a copy in another folder writes them the same.
    auto merged = spotting::mergeBooks (both (before->book), both (here->book),
                                        both (besides (there->book, before->book, theirs, mine)), choices);
    if (! merged)
        return merged.error();
    merged->notes.insert (merged->notes.end(), notes.begin(), notes.end());
    std::error_code ignored;
    const bool replaces = std::filesystem::equivalent (target, mine, ignored);
    if (! replaces)
        merged->book = movedTo (std::move (merged->book), mine, target);
    return MergedBooks{ { merged->book, target, replaces ? here->stamp : "" }, std::move (*merged) };
}
} // namespace shutterbeat::desk
