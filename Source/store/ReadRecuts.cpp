#include "store/Members.h"
#include "store/Recuts.h"

namespace shutterbeat::store
{
namespace
{
film::SamePictures readSame (Members& m)
{
    film::SamePictures same;
    same.print = m.text ("print", true);
    same.first = m.whole ("first", true);
    same.other = m.text ("other", true);
    same.otherFirst = m.whole ("other_first", true);
    same.frames = m.whole ("frames", true);
    if (same.first < 0 || same.otherFirst < 0 || same.frames < 1)
        m.fail ("frames", "has to be a run of film frames, from 0 on and of 1 or more");
    same.unknown = m.unknown();
    return same;
}

spotting::PendingMatch readMatch (Members& m)
{
    spotting::PendingMatch match;
    match.id = m.text ("id", true);
    match.doubt = m.named<spotting::Doubt> ("doubt", spotting::parseDoubt, match.doubt);
    match.print = m.text ("print", true);
    match.first = m.whole ("first", true);
    match.other = m.text ("other", true);
    match.otherFirst = m.whole ("other_first", true);
    match.frames = m.whole ("frames", true);
    match.shot = m.text ("shot");
    match.otherShot = m.text ("other_shot");
    match.sure = m.small ("sure_permille");
    match.answer = m.named<spotting::Answer> ("answer", spotting::parseAnswer, match.answer);
    match.moved = m.whole ("moved");
    match.unknown = m.unknown();
    return match;
}

spotting::Recut readRecut (Members& m)
{
    spotting::Recut recut;
    recut.before = m.text ("before", true);
    recut.after = m.text ("after", true);
    m.array ("matches", false, [&] (Members& i) { recut.matches.push_back (readMatch (i)); });
    recut.unknown = m.unknown();
    return recut;
}
} // namespace

void readRecuts (Members& book, spotting::Book& into)
{
    std::vector<film::SamePictures> same;
    std::vector<spotting::Recut> recuts;
    book.array ("same_pictures", false, [&] (Members& i) { same.push_back (readSame (i)); });
    book.array ("recuts", false, [&] (Members& i) { recuts.push_back (readRecut (i)); });
    into.samePictures = std::move (same);
    into.recuts = std::move (recuts);
}
} // namespace shutterbeat::store
