#include "Catch.h"

#include "store/BookFile.h"

using namespace shutterbeat;

namespace
{
spotting::Book recutBook()
{
    spotting::Book book;
    book.title = "The Kite";
    book.samePictures = std::vector<film::SamePictures>{ { "print-2", 12, "print-1", 0, 240, {} },
                                                         { "print-2", 300, "print-1", 480, 96, { { "seen_by", "\"anna\"" } } } };
    spotting::Recut recut{ "A", "B", {}, { { "lamp", "7" } } };
    recut.matches = {
        { "B-1", spotting::Doubt::frame, "print-2", 300, "print-1", 480, 96, "s-4", "s-4", 412, spotting::Answer::pending, 0, {} },
        { "B-2",
          spotting::Doubt::card,
          "print-2",
          400,
          "print-1",
          600,
          50,
          "scan-9",
          "s-7",
          450,
          spotting::Answer::same,
          -2,
          { { "hue", "[1,2]" } } }
    };
    book.recuts = std::vector<spotting::Recut>{ recut };
    return book;
}
} // namespace

TEST_CASE ("shared pictures and pending matches come back from the book file, unknown members too")
{
    const auto book = recutBook();
    const auto text = store::bookText (book);
    const auto back = store::parseBook (text, "kite.shutterbeat");
    REQUIRE (back.ok());
    CHECK (back->samePictures == book.samePictures);
    CHECK (back->recuts == book.recuts);
    CHECK (store::bookText (*back) == text);
    for (const auto* word : { "seen_by", "lamp", "hue" })
        CHECK (text.find (word) != std::string::npos);
    const auto plain = store::bookText (spotting::Book{});
    CHECK (plain.find ("same_pictures") == std::string::npos);
    CHECK (plain.find ("recuts") == std::string::npos);
}

TEST_CASE ("a match or run that makes no sense is named by its place in the file")
{
    const auto refused = [] (const std::string& from, const std::string& to)
    {
        auto text = store::bookText (recutBook());
        const auto at = text.find (from);
        REQUIRE (at != std::string::npos);
        text.replace (at, from.size(), to);
        const auto back = store::parseBook (text, "kite.shutterbeat");
        REQUIRE_FALSE (back.ok());
        return back.error().text();
    };
    CHECK (refused ("\"frames\": 240", "\"frames\": 0").find ("same_pictures[0]") != std::string::npos);
    CHECK (refused ("\"answer\": \"pending\"", "\"answer\": \"perhaps\"").find ("recuts[0].matches[0].answer")
           != std::string::npos);
    CHECK (refused ("\"doubt\": \"card\"", "\"doubt\": 3").find ("recuts[0].matches[1].doubt") != std::string::npos);
}
