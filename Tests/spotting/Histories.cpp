#include "SmallBook.h"

#include <set>

using namespace shutterbeat;
using namespace shutterbeat::spotting;
using namespace shutterbeat::tests;

TEST_CASE ("A history goes back and forth and forgets what was undone when something new is done")
{
    History history (smallBook());
    CHECK_FALSE (history.canUndo());
    CHECK_FALSE (history.canRedo());
    CHECK (history.undoName().empty());
    history.undo();
    history.redo();
    CHECK (history.position() == 0);

    const Book first = setTitle (history.book(), "one"), second = setTitle (first, "two");
    history.did ("title one", first, {});
    history.did ("title two", second, { "x" });
    history.did ("nothing", second, { "y" }); // unchanged: no step
    CHECK (history.all().size() == 3);
    history.undo();
    CHECK (history.book() == first);
    CHECK (history.undoName() == "title one");
    CHECK (history.redoName() == "title two");
    history.select ({ "z" });
    history.redo();
    CHECK (history.selected() == std::vector<std::string>{ "x" });
    history.undo();
    CHECK (history.selected() == std::vector<std::string>{ "z" });
    history.did ("title three", setTitle (first, "three"), {});
    CHECK_FALSE (history.canRedo());
    CHECK (history.all().size() == 3);
    CHECK (history.book().title == "three");
}

TEST_CASE ("Ids are never given out twice, whatever is removed, undone and done again (DESIGN 12)")
{
    CHECK_PROPERTY ("random work",
                    []
                    {
                        History history (smallBook());
                        std::set<std::string> given;
                        const auto fresh = [&] (const std::vector<std::string>& ids)
                        {
                            for (const auto& id : ids)
                                RC_ASSERT (given.insert (id).second);
                        };
                        const auto steps = *rc::gen::inRange (1, 40);
                        for (int i = 0; i < steps; ++i)
                        {
                            const auto person = *rc::gen::element<std::string> ("anna", "bo", "cleo");
                            const auto& book = history.book();
                            switch (*rc::gen::inRange (0, 6))
                            {
                            case 0:
                            case 1:
                            {
                                const auto count = *rc::gen::inRange<std::size_t> (1, 3);
                                auto edited = addHits (book, person, std::vector<HitPoint> (count, hitAt (picture (7))));
                                RC_ASSERT (edited.ok());
                                RC_ASSERT (edited->ids.size() == count);
                                fresh (edited->ids);
                                history.did ("add", edited->book, edited->ids);
                                break;
                            }
                            case 2:
                            {
                                const auto timings = spotting::timingsOf (book);
                                RC_ASSERT (timings.ok());
                                auto edited = addCue (book, person, cueOver (picture (7), picture (9)), *timings);
                                RC_ASSERT (edited.ok());
                                fresh (edited->ids);
                                history.did ("add", edited->book, edited->ids);
                                break;
                            }
                            case 3:
                                if (! book.hits.empty())
                                {
                                    auto fewer =
                                        removeHits (book, { book.hits[*rc::gen::inRange<std::size_t> (0, book.hits.size())].id });
                                    RC_ASSERT (fewer.ok());
                                    history.did ("remove", *fewer, {});
                                }
                                break;
                            case 4:
                                history.undo();
                                break;
                            default:
                                history.redo();
                            }
                        }
                    });
}

TEST_CASE ("Undo of a first hit keeps the number of its person and nothing else")
{
    const Book before = smallBook();
    History history (before);
    history.did ("add", did (addHits (before, "anna", { hitAt (picture (5)) })).book, {});
    history.did ("add", did (addHits (history.book(), "bo", { hitAt (picture (6)) })).book, {});
    history.undo();
    history.undo();
    CHECK (history.book().hits.empty());
    CHECK (history.book().editions.sharesWith (before.editions));
    REQUIRE (history.book().people.size() == 2);
    CHECK (history.book().people[0].lastNumber == 1);
    CHECK (did (addHits (history.book(), "anna", { hitAt (picture (5)) })).ids == std::vector<std::string>{ "anna-2" });
    CHECK (did (addHits (history.book(), "bo", { hitAt (picture (5)) })).ids == std::vector<std::string>{ "bo-2" });
}
